import { describe, expect, it } from 'vitest';
import { positionDraft, positionSent, withDate } from '$lib/components/evidence/place-and-time';
import { bearingWords, distanceWords, placeWords, positionWords } from '$lib/components/evidence/words';
import { newPart, readPartsText } from '$lib/components/record/parts-text';
import { rowOf, weatherDraft } from '$lib/components/record/weather-draft';
import { formProblems } from '$lib/components/ui/form-problems';
import { shownQuantity, typedText, understood } from '$lib/components/ui/quantity-text';
import { circle, piece, Workbench } from '../investigation/workbench';

const plain = (text: string) => text.replace(/\u202f/g, ' ');

describe('how a typed quantity was understood', () => {
	it.each([
		['12.5 ft', 'length', 'm', '12.5 ft = 3.81 m'],
		['978', 'pressure', 'hPa', '978 hPa; no unit was typed'],
		['12 ± 1 m', 'length', 'm', '12 ± 1 m (one standard deviation)'],
		['12 ± 1 m (95 %)', 'length', 'm', '12 ± 1 m (95 %)'],
		['3 km', 'any', '', '3 km = 3000 m'],
		['35 MPa', 'pressure', 'MPa', '35 MPa'],
		['1/2 in', 'length', 'mm', '0.5 in = 12.7 mm'],
		['900 ± 50 psi', 'pressure', 'MPa', '900 ± 50 psi = 6.21 ± 0.34 MPa (one standard deviation)'],
		['', 'length', 'm', '']
	] as const)('%s', (text, dimension, unit, says) => {
		const echo = understood(text, dimension, unit);
		expect(plain(echo.says)).toBe(says);
		expect(echo.wrong).toBe(false);
	});

	it.each([
		['3 kg', 'length'],
		['twelve', 'any']
	] as const)('"%s" is said to be wrong', (text, dimension) => {
		expect(understood(text, dimension, 'm')).toMatchObject({
			wrong: true,
			says: expect.stringMatching(/\.$/) as string
		});
	});
});

describe('what was kept comes back into its form as it was typed', () => {
	const bench = new Workbench();
	const [body] = bench.do('evidence.add', {
		record: piece({ position: { kind: 'typed', typed: "45° 45.756' N 4° 50.142' E", circle } })
	});
	const [ring] = bench.do('evidence.add', {
		record: piece({
			position: {
				kind: 'bearing',
				from: body,
				distance: '2.1 ± 0.1 m',
				bearingDeg: '41',
				reference: 'magnetic',
				bearingPlusMinusDeg: '2'
			}
		})
	});

	it.each([body!, ring!])('positions', (id) => {
		const stored = bench.file.evidence[id]!.position;
		const record = piece({ mass: '3 g', position: positionSent(positionDraft(stored), bench.file) });
		bench.do('evidence.correct', { id, record, reason: 'mass' });
		expect(bench.file.evidence[id]!.position).toEqual(stored);
	});

	it('no position is sent as none, not as a place at 0, 0', () => {
		expect(positionSent(positionDraft(null), bench.file)).toBeNull();
	});

	it('a wind table, also one that a sounding made', () => {
		const wind = [
			{ height: '33 ft', fromDeg: '240', speed: '8 kn', temperature: '' },
			{
				height: { text: '', unit: 'm', value: 1219.2 },
				fromDeg: 350,
				speed: '4.63 m/s',
				temperature: '7.2 °C'
			}
		];
		bench.do('weather.save', { record: { ...bench.file.weather['main'], wind } });
		const weather = bench.file.weather['main']!;
		const draft = weatherDraft(weather);
		bench.do('weather.save', { record: { ...weather, ...draft, wind: weather.wind.map(rowOf) } });
		const values = (w: typeof weather) =>
			w.wind.map((l) => [l.height.value, l.height.unit, l.speed.value, l.fromDeg]);
		expect(values(bench.file.weather['main']!)).toEqual(values(weather));
		expect(bench.file.weather['main']!.speedSpread).toBe(weather.speedSpread);
	});

	it('quantities', () => {
		expect(typedText(null)).toBe('');
		expect(
			typedText(bench.file.evidence[ring!]!.kind === 'piece' ? { text: '3 g', unit: 'g', value: 3 } : null)
		).toBe('3 g');
		expect(plain(shownQuantity({ text: '', unit: 'kN', value: 1.9, plusMinus: 0.1 }))).toBe('1.9 ± 0.1 kN');
		expect(shownQuantity(null)).toBe('—');
	});

	it('units are printed with raised exponents, however they were typed', () => {
		expect(plain(shownQuantity({ text: '12 kg/m2', unit: 'kg/m2', value: 12 }))).toBe('12 kg/m²');
		const says = (text: string) => plain(understood(text, 'ballistic coefficient', '').says);
		expect(says('12 kg/m2')).toBe('12 kg/m²');
		expect(says('12 kg/m²')).toBe('12 kg/m²');
		expect(plain(understood('2 W m^-2', 'any', '').says)).toMatch(/^2 W m⁻²/);
	});
});

describe('words for places', () => {
	it('bearings have three digits, and 360 is 000', () => {
		expect([4.6, 41, 359.7].map(bearingWords)).toEqual(['005°', '041°', '000°']);
	});
	it('distances keep what a person can use', () => {
		expect([2.13, 328.4, 12_345].map((m) => plain(distanceWords(m)))).toEqual(['2.1 m', '328 m', '12.3 km']);
	});
	it('south and west are said, not signed', () => {
		expect(placeWords(-33.5, -70.25)).toBe('33.50000° S, 70.25000° W');
	});
	it('a place whose circle nobody gave says so', () => {
		const file = new Workbench().file;
		const position = {
			kind: 'typed',
			typed: '',
			circle: { radius: null, level: 0.95 },
			latitudeDeg: 1,
			longitudeDeg: 2
		} as const;
		expect(positionWords(position, file)).toContain('nobody said how well');
	});
});

it('a time alone is taken on the day of the flight; a whole date stays', () => {
	const { file } = new Workbench();
	expect(withDate('9:05', file)).toBe('2031-05-17 09:05');
	expect(withDate(' 14:20:10 ', file)).toBe('2031-05-17 14:20:10');
	expect(withDate('2031-05-18 14:20', file)).toBe('2031-05-18 14:20');
	expect(withDate('after lunch', file)).toBe('after lunch');
});

it('a pasted parts list is one part a line, with what else stands there', () => {
	const parts = readPartsText('# from the notebook\nnose cone; 212 g; 3; forward\n\n tether\t\t5\r\n');
	expect(parts).toEqual([
		{ name: 'nose cone', mass: '212 g', uses: '3', group: 'forward' },
		{ name: 'tether', mass: '', uses: '5', group: '' }
	]);
	const bench = new Workbench();
	bench.do('part.addSeveral', { records: parts.map((part) => newPart(part)) });
	expect(bench.refuse('part.addSeveral', { records: [newPart({ name: 'fin', uses: 'two' })] }).field).toBe(
		'records.0.uses'
	);
});

it('problems stand under the names that a form uses, the first of each', () => {
	expect(
		formProblems([
			{ field: 'record.position.distance', message: 'a' },
			{ field: 'record.position.distance', message: 'b' },
			{ field: 'reason', message: 'c' },
			{ field: '', message: 'd' }
		])
	).toEqual({ 'position.distance': 'a', reason: 'c', '': 'd' });
});

it('a log-normal is no standard deviation', () => {
	expect(understood('log-normal 8 kg × 1.2', 'mass', 'kg').says).toMatch(
		/× 1\.2 \(68 of 100 within times and over/
	);
});
