import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { operate } from '$lib/investigation/operations';
import { readWindTable } from '$lib/investigation/operations/wind-table';
import { zoneText } from '$lib/investigation/schema/typed';
import { makeSafe, notKnownSafe, recordGaps } from '$lib/investigation/views/record-sections';
import { circle, piece, Workbench } from './workbench';

const hazard = (more: object = {}) => ({
	what: 'second charge',
	kind: 'charge',
	state: 'notKnown',
	by: '',
	at: '',
	evidence: null,
	note: '',
	...more
});

describe('site and air', () => {
	it('refuse what no place on Earth has, in the unit that is typed', () => {
		const b = new Workbench();
		const { site, weather } = b.file;
		const at = (elevation: string) => ({ record: { ...site['main'], elevation } });
		expect(b.refuse('site.save', at('120000 m')).message).toBe('This must lie between -500 m and 9000 m.');
		b.do('site.save', at('4800 m'));
		const air = (surfaceTemperature: string) => ({ record: { ...weather['main'], surfaceTemperature } });
		expect(b.refuse('weather.save', air('900 °C')).message).toBe('This must lie between -90 °C and 60 °C.');
		b.do('weather.save', air('-31 °C'));
	});
});

describe('make safe', () => {
	it('[R1] nothing is called safe without who and when', () => {
		const b = new Workbench();
		const safe = (more: object) => ({ record: hazard({ state: 'safe', ...more }) });
		expect(b.refuse('hazard.save', safe({})).field).toBe('record.by');
		expect(b.refuse('hazard.save', safe({ by: 'Ada' })).field).toBe('record.at');
		// Both at once, also where one of them does not read; nobody is sent to leave empty what must be said.
		const context = { now: '', who: 'Ada', newId: () => 'r1' };
		expect(operate(b.file, 'hazard.save', safe({ at: 'yesterday' }), context)).toMatchObject({
			problems: [
				{ field: 'record.by', message: 'Say who made it safe.' },
				{ field: 'record.at', message: 'Write a date and time as 2026-05-17 14:02 or 2026-05-17 14:02:10.' }
			]
		});
		expect(b.refuse('hazard.save', safe({ by: 'Ada', at: '2031-05-20 10:00' })).message).toContain(
			'still to come'
		);
		b.do('hazard.save', safe({ by: 'Ada', at: '2031-05-17 15:10' }));
		expect(makeSafe(b.file)).toMatchObject({ state: 'notWhole', open: [] });
	});

	it('[R1] a list is safe only when somebody said that it is whole, and is asked about again after an addition', () => {
		const b = new Workbench();
		const safe = hazard({ state: 'safe', by: 'Ada', at: '2031-05-17 15:10' });
		expect(b.refuse('hazard.allListed', { all: true }).message).toMatch(/List it first/);
		const [charge] = b.do('hazard.save', { record: safe });
		expect(makeSafe(b.file).words).toMatch(/^The one thing listed is safe. Nobody has said/);
		expect(recordGaps(b.file)['make-safe']).toEqual(['whether everything is listed']);
		b.do('hazard.allListed', { all: true });
		expect(makeSafe(b.file)).toMatchObject({ state: 'safe', words: 'The one thing listed is safe.' });
		b.do('hazard.save', { id: charge, record: safe });
		expect(makeSafe(b.file).state).toBe('safe');
		b.do('hazard.save', { record: safe });
		expect(makeSafe(b.file).state).toBe('notWhole');
		b.do('hazard.allListed', { all: true });
		b.do('hazard.allListed', { all: false });
		expect(makeSafe(b.file).state).toBe('notWhole');
	});

	it('an empty list is not safe, and one that is not recovered keeps the scene open', () => {
		const b = new Workbench();
		expect(makeSafe(b.file).state).toBe('notListed');
		b.do('hazard.save', { record: hazard({ state: 'safe', by: 'Ada', at: '2031-05-17 15:10' }) });
		const [cell] = b.do('hazard.save', { record: hazard({ what: 'cell', state: 'notRecovered' }) });
		b.do('hazard.save', { record: hazard({ what: 'igniter' }) });
		expect(makeSafe(b.file)).toMatchObject({ state: 'open' });
		expect(makeSafe(b.file).open).toContain(cell);
		expect(makeSafe(b.file).words).toBe('1 not known safe, 1 not recovered. The scene is not safe yet.');
		expect(recordGaps(b.file)['make-safe']).toEqual(['1 not known safe', '1 not recovered']);
	});

	it('names all that may still hurt, with the piece that it sits in, also what lies nobody knows where', () => {
		const b = new Workbench();
		const [bay] = b.do('evidence.add', { record: piece() });
		b.do('hazard.save', { record: hazard({ what: 'aft charge', evidence: bay }) });
		b.do('hazard.save', { record: hazard({ what: 'cell', state: 'notRecovered' }) });
		b.do('hazard.save', { record: hazard({ state: 'safe', by: 'Ada', at: '2031-05-17 15:10' }) });
		expect(notKnownSafe(b.file).map(({ what, state, item }) => [what, state, item?.mark])).toEqual([
			['aft charge', 'notKnown', 'E1'],
			['cell', 'notRecovered', undefined]
		]);
	});

	it('sits in a found piece that still counts', () => {
		const b = new Workbench();
		const [bay] = b.do('evidence.add', { record: piece() });
		b.do('hazard.save', { record: hazard({ evidence: bay }) });
		expect(b.refuse('hazard.save', { record: hazard({ evidence: 'nowhere' }) }).field).toBe('evidence');
		expect(b.refuse('evidence.withdraw', { id: bay, reason: 'x' }).message).toContain('second charge');
	});
});

describe('site', () => {
	const site = (more: object) => ({ ...new Workbench().file.site['main'], ...more });

	it.each([
		['3.1 E', 3.1],
		['2° W', -2],
		['-2', -2],
		['1,5 e', 1.5],
		['', null]
	])('declination "%s" is read as %s', (typed, deg) => {
		const b = new Workbench();
		b.do('site.save', { record: site({ declinationDeg: typed }) });
		expect(b.file.site['main']?.declinationDeg).toBe(deg);
	});

	it.each(['north', '200', '-3 W'])('declination "%s" is refused beside the field', (typed) => {
		const refused = new Workbench().refuse('site.save', { record: site({ declinationDeg: typed }) });
		expect(refused.field).toBe('record.declinationDeg');
	});

	it('[R2] the pad is not given by a bearing', () => {
		const pad = {
			kind: 'bearing',
			from: 'pad',
			distance: '3 m',
			bearingDeg: 0,
			reference: 'true',
			bearingPlusMinusDeg: null
		};
		expect(new Workbench().refuse('site.save', { record: site({ pad }) }).field).toBe('pad');
	});

	it('a pad beyond the pole is refused and nothing changes', () => {
		const b = new Workbench();
		const before = b.file;
		const pad = { kind: 'typed', typed: '95 N, 4 E', circle };
		expect(b.refuse('site.save', { record: site({ pad }) }).message).toContain('beyond the pole');
		expect(b.file).toBe(before);
	});
});

describe('zones', () => {
	const about = (zoneMinutes: unknown) => ({
		record: { ...new Workbench().file.about['main'], zoneMinutes }
	});
	it.each([
		['+02:00', 120],
		['UTC-5', -300],
		['+0530', 330],
		['Z', 0],
		[90, 90]
	])('%s is %i minutes', (typed, minutes) => {
		const b = new Workbench();
		b.do('about.save', about(typed));
		expect(b.file.about['main']?.zoneMinutes).toBe(minutes);
	});
	it.each(['summer', '+15:00', ''])('"%s" is refused in words', (typed) => {
		expect(new Workbench().refuse('about.save', about(typed))).toMatchObject({
			field: 'record.zoneMinutes',
			message: expect.stringContaining('+02:00') as string
		});
	});
	it('reads back what it writes', () => {
		const b = new Workbench();
		b.do('about.save', about(zoneText(-570)));
		expect(b.file.about['main']?.zoneMinutes).toBe(-570);
	});
});

describe('the wind table', () => {
	const row = (height: string, speed = '4 m/s') => ({ height, fromDeg: '240', speed, temperature: '' });
	const weather = (wind: object[]) => ({ record: { ...new Workbench().file.weather['main'], wind } });

	it('out of order is refused at the row, with the one before it named', () => {
		const refused = new Workbench().refuse(
			'weather.save',
			weather([row('10 m'), row('300 m'), row('500 ft')])
		);
		expect(refused).toEqual({
			field: 'record.wind.2.height',
			message: 'It is not above row 2. List each height once, lowest first.'
		});
	});

	it('names the cell that can’t be read', () => {
		expect(new Workbench().refuse('weather.save', weather([row('10 m'), row('300 m', '4 kg')])).field).toBe(
			'record.wind.1.speed'
		);
	});

	it('takes mixed units and keeps them as typed', () => {
		const b = new Workbench();
		b.do('weather.save', weather([row('33 ft', '8 kn'), row('1 km', '11 m/s')]));
		expect(b.file.weather['main']?.wind.map((l) => [l.height.text, l.speed.unit])).toEqual([
			['33 ft', 'kn'],
			['1 km', 'm/s']
		]);
	});

	it('a pasted table is read and says what was assumed', () => {
		const read = readWindTable('10 220 3\n300 240 6\n1000 250 11', 'abovePad');
		expect(read).toMatchObject({ ok: true, value: { heightsAre: 'abovePad' } });
		if (!read.ok) return;
		expect(read.value.wind[2]).toMatchObject({ fromDeg: 250, height: { value: 1000, unit: 'm' } });
		expect(read.value.notes.join(' ')).toContain('No heading');
	});

	it('a pasted table out of order is refused with the line', () => {
		const read = readWindTable('10 220 3\n5 240 6', 'abovePad');
		expect(read).toMatchObject({ ok: false });
		if (!read.ok) expect(read.problems[0]?.message).toContain('Line 2');
	});

	// Rawinsonde of Norman, Oklahoma, 2018-12-22 12 UTC (SHARPpy example data, BSD-3): the row at 1219 m prints 350 deg, 9 kt.
	it('a sounding of a weather service is read, and what it leaves out is said', () => {
		const text = readFileSync('tests/open-data/soundings/oun-2018-12-22-12z.txt', 'utf8');
		const read = readWindTable(text, 'abovePad', 10_000);
		if (!read.ok) throw new Error(read.problems[0]?.message);
		expect(read.value.heightsAre).toBe('aboveSea');
		const level = read.value.wind.find((l) => Math.abs(l.height.value - 1219) < 2);
		expect(level?.fromDeg).toBe(350);
		expect(level?.speed.value).toBeCloseTo((9 * 1852) / 3600, 2);
		expect(read.value.notes.join(' ')).toMatch(/above the height you named left out/);
		const b = new Workbench();
		b.do('weather.save', {
			record: { ...b.file.weather['main'], wind: read.value.wind, heightsAre: read.value.heightsAre }
		});
		expect(b.file.weather['main']?.wind.length).toBe(read.value.wind.length);
	});

	it.each([
		['25 %', 0.25],
		['0,3', 0.3]
	])('a spread of "%s" is %f', (typed, share) => {
		const b = new Workbench();
		b.do('weather.save', {
			record: { ...b.file.weather['main'], speedSpread: typed, directionSpreadDeg: '20°' }
		});
		expect(b.file.weather['main']).toMatchObject({ speedSpread: share, directionSpreadDeg: 20 });
	});
});

it('a new record says what each section lacks', () => {
	const gaps = recordGaps(new Workbench().file);
	expect(gaps.site).toEqual(['pad position', 'elevation', 'declination', 'access', 'who was told']);
	expect(gaps.flight).toEqual(['launch direction']);
	expect(gaps.weather).toEqual(['temperature', 'pressure', 'wind']);
});

describe('what was expected', () => {
	const expected = (what: string, value: string) => ({
		record: { what, label: '', value, source: 'simulation' }
	});

	it.each([
		['apogee', '600', 'Write the unit too, such as 600 m.'],
		['apogee', '5 kg', 'This needs a length, not a value in kg.'],
		['mainRate', '6 m', 'This needs a speed, not a value in m.']
	])('%s as "%s" is refused in words', (what, value, message) => {
		expect(new Workbench().refuse('expected.add', expected(what, value))).toEqual({
			field: 'record.value',
			message
		});
	});

	it('takes any unit of the kind, and any kind where it is none of the list', () => {
		const b = new Workbench();
		b.do('expected.add', expected('apogee', '2000 ± 100 ft'));
		b.do('expected.add', expected('other', '12'));
		expect(Object.keys(b.file.expected)).toHaveLength(2);
	});
});

it('a date that is none says how to write one', () => {
	const b = new Workbench();
	const problem = b.refuse('about.save', { record: { ...b.file.about['main'], flownAt: '31/12/2025' } });
	expect(problem).toEqual({
		field: 'record.flownAt',
		message: expect.stringContaining('2026-05-17 14:02') as string
	});
});
