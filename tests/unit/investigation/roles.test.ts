import { beforeEach, describe, expect, it } from 'vitest';
import type { LeafField, ListField } from '$lib/calculations/calculation';
import { calculationById } from '$lib/calculations/registry';
import { runCalculation } from '$lib/calculations/run';
import { addRow, prefilled, refreshed } from '$lib/components/calculations/prefill';
import { newPart } from '$lib/components/record/parts-text';
import {
	blankDraft,
	blankRow,
	comparedDraft,
	draftOf,
	requestOf,
	sourcesOf,
	takeOffer
} from '$lib/components/calculations/draft';
import { readResult } from '$lib/investigation/schema/calculation-result';
import { valueOf } from '$lib/investigation/views/case-values';
import { changedSources, toFollow } from '$lib/investigation/views/changed-sources';
import { listOffer, offersFor, rowOffers } from '$lib/investigation/views/roles';
import { CalculationCase } from './calculation-case';
import { absence, reading, Workbench } from './workbench';

const separation = calculationById('fall-separation')!;
const footprint = calculationById('landing-footprint')!;
const field = (calculation: typeof separation, id: string) =>
	[...calculation.inputs, ...(calculation.evidence?.observed ?? [])].find((f) => f.id === id)!;
const leaf = (calculation: typeof separation, id: string) => field(calculation, id) as LeafField;
const list = (calculation: typeof separation, id: string) => field(calculation, id) as ListField;

let c: CalculationCase;
beforeEach(() => {
	c = new CalculationCase();
});
const prefill = () => prefilled(separation, c.file, 9, [c.body, c.bulkhead]);

describe('what the case offers', () => {
	it('wind above the pad in true degrees, whichever way it was read', () => {
		const offer = listOffer(c.file, list(separation, 'wind'))!;
		expect(offer.rows[0]).toEqual({ height: '0 m', speed: '4 m/s', from: '220 °' });
		c.put('weather', 'main', { ...c.file.weather['main'], heightsAre: 'aboveSea' });
		expect(listOffer(c.file, list(separation, 'wind'))!.rows[0]!.height).toBe('88 m');
	});
	it('the temperatures of the same table where it has them, and says when they have changed', () => {
		const aloft = list(separation, 'airTemperatures');
		expect(listOffer(c.file, aloft)).toBeNull();
		const put = (kelvins: number) => {
			const weather = c.file.weather['main']!;
			const [low, ...rest] = weather.wind;
			const wind = [{ ...low, temperature: { text: '', value: kelvins, unit: 'K' } }, ...rest];
			c.put('weather', 'main', { ...weather, wind });
		};
		put(281);
		const { rows, taken } = listOffer(c.file, aloft)!;
		expect(rows).toEqual([{ height: '0 m', temperature: expect.stringMatching(/^281\s?K$/) as string }]);
		const source = { ...taken, input: 'airTemperatures', rev: 1 };
		expect(changedSources(c.file, [source])).toEqual([]);
		put(270);
		expect(changedSources(c.file, [source])[0]!.words).toMatch(/^The temperature by height has changed/);
	});
	it('site and air; a pressure reduced to sea level is brought back to the site', () => {
		const text = (id: string) => Object.values(offersFor(c.file, leaf(separation, id))[0]!.cells)[0]!.text;
		expect(text('siteElevation')).toMatch(/^512\s?m$/);
		expect(text('siteTemperature')).toMatch(/^19\s?°C$/);
		// U.S. Standard Atmosphere 1976 at 512 m: 0.9408 of the pressure at sea level (table value at 500 m 0.9421).
		expect(Number.parseFloat(text('sitePressure'))).toBeCloseTo(1015 * 0.941, 0);
		expect(text('windFactor')).toBe('1 ± 0.25');
	});
	it('the burn time that was expected, for an ascent', () => {
		c.do('expected.add', { record: { what: 'burnTime', label: '', value: '2.4 s', source: 'firing' } });
		const [first] = offersFor(c.file, leaf(calculationById('ascent')!, 'burnTime'));
		expect(first!.cells['burnTime']!.text).toMatch(/^2.4\s?s$/);
	});
	it('masses by piece, and every measured value of the same kind', () => {
		c.do('evidence.add', {
			record: reading({
				values: [
					{ label: 'peak height', value: '1345 ft' },
					{ label: 'charge', value: '3.9 V' }
				]
			})
		});
		const pieces = list(separation, 'pieces');
		const mass = pieces.fields.find(({ id }) => id === 'mass')!;
		expect(offersFor(c.file, mass).map(({ label }) => label)).toEqual([
			expect.stringMatching(/^The mass of E1: 4.2\s?kg$/),
			expect.stringMatching(/^The mass of E2: 212\s?g$/)
		]);
		expect(offersFor(c.file, leaf(separation, 'releaseHeight')).map(({ label }) => label)).toEqual([
			expect.stringMatching(/^E3, peak height: 1345\s?ft$/)
		]);
	});
	it('no value that the field would refuse: an apogee is no thickness', () => {
		const values = [
			{ label: 'apogee', value: '1043 m' },
			{ label: 'fin', value: '4.9 mm' },
			{ label: 'beacon on the bench', value: '2 h' },
			{ label: 'burn', value: '2.4 s' }
		];
		c.do('evidence.add', { record: reading({ values }) });
		const labels = (calculation: string, id: string) =>
			offersFor(c.file, leaf(calculationById(calculation)!, id)).map(({ label }) => label.split(':')[0]);
		expect(labels('fin-flutter', 'thickness')).toEqual(['E3, fin']);
		expect(labels('fin-flutter', 'rootChord')).toEqual(['E3, fin']);
		expect(labels('impact', 'crush')).toEqual(['E3, fin']);
		expect(labels('wall-temperature', 'burnTime')).toEqual(['E3, burn']);
		expect(labels('sound-and-light', 'delay')).toEqual(['E3, burn']);
		const segments = list(calculationById('search')!, 'segments');
		const width = segments.fields.find(({ id }) => id === 'width')!;
		expect(offersFor(c.file, width).map(({ label }) => label)).not.toContainEqual(
			expect.stringContaining('1043')
		);
	});
	it('no torque for an energy, though both are a force times a length', () => {
		c.do('evidence.add', {
			record: reading({
				values: [
					{ label: 'swivel', value: '0.062 ± 0.006 N·m' },
					{ label: 'bolt', value: '20 lbf·in' },
					{ label: 'spring', value: '3.1 J' }
				]
			})
		});
		const energy = leaf(calculationById('tether-load')!, 'energy');
		expect(offersFor(c.file, energy).map(({ label }) => label)).toEqual([
			expect.stringMatching(/^E3, spring: 3\.1\s?J$/)
		]);
	});
	it('the unit that was meant, also where only a number was typed', () => {
		c.put('evidence', c.bulkhead, {
			...c.file.evidence[c.bulkhead],
			mass: { text: '212', unit: 'g', value: 212 }
		});
		expect(valueOf(c.file, { collection: 'evidence', id: c.bulkhead, value: 'mass' })!.text).toMatch(
			/^212\s?g$/
		);
	});
	it('a typical range where only the kind of a piece is known', () => {
		const item = c.file.evidence[c.bulkhead]!;
		c.put('evidence', c.bulkhead, { ...item, ballisticCoefficient: null, pieceType: 'fin' });
		const row = rowOffers(c.file, list(separation, 'pieces'), [{ name: 'Body', evidence: c.body }]);
		expect(row.map(({ label }) => label)).toEqual(['E2 Bulkhead']);
		expect(row[0]!.cells['ballisticCoefficient']!.text).toMatch(/^[\d.]+ to [\d.]+ kg\/m²$/);
	});
	it('how one piece lay from another, with the uncertainty of that measurement alone', () => {
		const [offer] = rowOffers(c.file, list(separation, 'found'), [
			{ name: 'Body', evidence: c.body },
			{ name: 'Bulkhead', evidence: c.bulkhead }
		]);
		// 2.1 m at 87° magnetic is 90° true: due east. Across 2.1 m · 5° = 0.18 m, along 0.2 m: 0.19 m on each axis.
		expect(offer!.cells['east']!.text).toBe('2.1 ± 0.19 m');
		expect(offer!.cells['north']!.text).toMatch(/^-?0(\.0\d)? ± 0.19 m$/);
		expect(offer!.cells['piece']!.text).toBe('Bulkhead');
	});
	it('and that one also where the pad has no place', () => {
		c.put('site', 'main', { ...c.file.site['main'], pad: null });
		const between = (from: string, to: string) =>
			valueOf(c.file, { collection: 'evidence', id: to, value: `east:${from}` });
		expect(between(c.body, c.bulkhead)!.text).toBe('2.1 ± 0.19 m');
		expect(between(c.bulkhead, c.body)!.text).toBe('-2.1 ± 0.19 m');
		expect(between('pad', c.bulkhead)).toBeNull();
	});
	it('a place from the pad fills east and north together', () => {
		const [offer] = offersFor(c.file, leaf(footprint, 'east'));
		expect(offer!.label).toBe('Where E1 Body and fins lay');
		// 612 m at 46° magnetic is 49° true.
		expect(Number.parseFloat(offer!.cells['east']!.text)).toBeCloseTo(
			612 * Math.sin((49 * Math.PI) / 180),
			0
		);
		expect(Number.parseFloat(offer!.cells['north']!.text)).toBeCloseTo(
			612 * Math.cos((49 * Math.PI) / 180),
			0
		);
	});
	it('a descent time between two moments; what both clocks share cancels', () => {
		const moment = (what: string, after: string, plusMinus: string) =>
			c.do('timeline.add', {
				record: {
					what,
					at: { kind: 'sinceLaunch', after },
					plusMinus,
					seenBy: 'Ada',
					sure: 'likely',
					basis: 'observed',
					evidence: [],
					note: ''
				}
			});
		moment('Apogee', '17 s', '1 s');
		moment('Body on the ground', '104 s', '3 s');
		const [offer] = offersFor(c.file, leaf(footprint, 'descentTime'));
		expect(offer!.cells['descentTime']!.text).toBe('87 ± 3.2 s');
	});
	it('readings of one kind as rows, with how far each is trusted, and what was expected', () => {
		c.do('evidence.add', { record: reading({ values: [{ label: 'peak height', value: '1345 ± 20 ft' }] }) });
		c.do('expected.add', { record: { what: 'apogee', label: '', value: '450 ± 30 m', source: 'hand' } });
		const readings = list(calculationById('reconcile-readings')!, 'readings');
		const rows = rowOffers(c.file, readings, []);
		expect(rows.map(({ label }) => label)).toEqual([
			expect.stringMatching(/^E3, peak height: 1345 ± 20\s?ft$/),
			expect.stringMatching(/^The expected apogee: 450 ± 30\s?m$/)
		]);
		expect(rows[0]!.cells['name']!.text).toBe('E3, peak height');
		expect(rows[0]!.cells['wrong']!.text).toMatch(/^(1|5|20) %$/);
		const draft = prefilled(calculationById('reconcile-readings')!, c.file, 9, []);
		const filled = prefilled(calculationById('reconcile-readings')!, c.file, 9, []).observed.lists[
			'readings'
		]!;
		for (const { cells } of rows) addRow(readings, filled, cells, 9);
		expect(filled.rows.map((row) => row['name']!.text)).toEqual(['E3, peak height', 'The expected apogee']);
		expect(draft.observed.lists['readings']!.rows.every((row) => row['value']!.text === '')).toBe(true);
	});
	it('what was looked for and not found, with its chance, as a search', () => {
		const looked = (title: string, howThoroughly: string) =>
			c.do('evidence.add', { record: absence({ title, howThoroughly, detection: '60 %' }) });
		looked('Nose cone in the gully', 'walkedOver');
		looked('No soil on the edge of the joint', 'takenApart');
		const searches = list(calculationById('search')!, 'searches');
		const [offer, ...others] = rowOffers(c.file, searches, []);
		expect(others).toEqual([]);
		expect(offer!.label).toMatch(/^E3 Nose cone in the gully: found with 60\s?%$/);
		expect(offer!.cells['told']!.text).toBe('chance');
		expect(offer!.cells['chance']!.text).toBe('60 %');
	});
	it('nothing of what was withdrawn or is not there', () => {
		c.put('evidence', c.bulkhead, {
			...c.file.evidence[c.bulkhead],
			withdrawn: { reason: 'not ours', by: 'Ada', at: '2031-05-18T09:00:00.000Z' }
		});
		expect(rowOffers(c.file, list(separation, 'pieces'), [])).toHaveLength(1);
		expect(valueOf(c.file, { collection: 'evidence', id: 'nope', value: 'mass' })).toBeNull();
	});
});

describe('a new run', () => {
	it('is filled so far that it computes at once, and knows where everything came from', () => {
		c.do('expected.add', { record: { what: 'apogee', label: '', value: '1450 m', source: 'simulation' } });
		const draft = prefill();
		const result = runCalculation(separation, { ...requestOf(separation, draft), samples: 60 });
		expect(result.ok ? result.value.likelihoods?.length : result.error).toBe(3);
		const sources = sourcesOf(separation, draft);
		expect(sources.map(({ input }) => input)).toEqual(
			expect.arrayContaining([
				'pieces.2.ballisticCoefficient',
				'wind',
				'sitePressure',
				'highestParting',
				'observed.found.1.east'
			])
		);
		expect(sources.find(({ input }) => input === 'wind')).toMatchObject({
			collection: 'weather',
			id: 'main',
			rev: 9
		});
	});
	it('forgets the source of what was typed over', () => {
		const draft = prefill();
		draft.inputs.cells['siteElevation']!.text = '600 m';
		draft.inputs.lists['wind']!.rows[0]!['speed']!.text = '5 m/s';
		expect(sourcesOf(separation, draft).map(({ input }) => input)).not.toEqual(
			expect.arrayContaining(['siteElevation'])
		);
		expect(sourcesOf(separation, draft).some(({ input }) => input === 'wind')).toBe(false);
	});
});

describe('a kept run', () => {
	const kept = () => {
		const draft = prefill();
		draft.inputs.cells['highestParting']!.text = '1450 m';
		const request = { ...requestOf(separation, draft), samples: 60 };
		const result = runCalculation(separation, request);
		if (!result.ok) throw new Error(result.error.message);
		const id = c.do('calculation.add', {
			calculation: 'fall-separation',
			title: 'Parted?',
			anomaly: 'a1',
			note: '',
			scenarios: [],
			...request,
			sources: sourcesOf(separation, draft),
			result: result.value
		});
		return c.file.calculations[id]!;
	};
	it('opens as it was asked', () => {
		const run = kept();
		expect(requestOf(separation, draftOf(separation, run))).toEqual({
			inputs: run.inputs,
			observed: run.observed,
			seed: 1,
			samples: 60
		});
		expect(sourcesOf(separation, draftOf(separation, run))).toEqual(run.sources);
	});
	it('is up to date while the values are the same, whatever else changed about the record', () => {
		const run = kept();
		c.put('evidence', c.bulkhead, {
			...c.file.evidence[c.bulkhead],
			title: 'Forward bulkhead',
			damage: 'ring gone'
		});
		expect(changedSources(c.file, run.sources)).toEqual([]);
	});
	it('says what has changed since, and computes with it when asked', () => {
		const run = kept();
		c.put('evidence', c.bulkhead, {
			...c.file.evidence[c.bulkhead],
			ballisticCoefficient: { text: '', unit: 'kg/m²', value: 12, plusMinus: 2 }
		});
		c.wind([
			['0 m', 217, '6 m/s'],
			['600 m', 225, '8 m/s']
		]);
		const words = changedSources(c.file, run.sources).map(({ words }) => words);
		expect(words).toEqual([
			expect.stringMatching(
				/^The ballistic coefficient of E2 has changed since this was computed: it was 10 to 20\s?kg\/m[2²] and is 12 ± 2\s?kg\/m² now\.$/
			),
			'The wind table has changed since this was computed.'
		]);
		const again = requestOf(separation, refreshed(separation, run, c.file, 30)).inputs as Record<
			string,
			Record<string, string>[]
		>;
		expect(again['pieces']![1]!['ballisticCoefficient']).toMatch(/^12 ± 2\s?kg\/m²$/);
		expect(again['wind']).toHaveLength(2);
		expect(again['wind']![0]!['speed']).toBe('6 m/s');
		expect(again['highestParting']).toBe('1450 m');
	});
	it('says when what it rests on is no longer in the case', () => {
		const run = kept();
		c.put('evidence', c.bulkhead, { ...c.file.evidence[c.bulkhead], ballisticCoefficient: null });
		expect(changedSources(c.file, run.sources)[0]!.words).toContain('no longer in the case');
	});
});

describe('scenarios that are compared', () => {
	it('are chosen from with the limits that they have: three intervals stay three', () => {
		const breach = calculationById('breach')!;
		const path = { scope: 'path', thrust: '400 N', burnTime: '3 s', burnoutSpeed: '180 m/s', mass: '5 kg', inertia: '1.2 kg·m²', behind: '0.5 m', margin: '0.2 m', diameter: '100 mm', forceSlope: '10 1/rad' }; // prettier-ignore
		const r = runCalculation(breach, {
			inputs: { exponent: '0.4', hole: '3 mm', pressure: '4 MPa', throat: '12 mm', ...path },
			observed: { turn: '4 ± 2°' },
			samples: 100
		});
		if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
		// As a kept run has them.
		const compared = readResult(JSON.parse(JSON.stringify(r.value)))!.likelihoods.slice(0, 3);
		expect(new Set(compared.map(({ label }) => label)).size).toBe(3);
		const kind = breach.evidence!.scenarios.find(({ id }) => id === compared[0]!.id);
		const drafts = compared.map((one) => comparedDraft(one, kind));
		const ends = drafts.map(({ cells }) => [cells['from']!.text, cells['to']!.text].map(parseFloat));
		expect(ends).toEqual([
			[0, 1],
			[1, 2],
			[2, 3]
		]);
	});
});

it('a search for a missing part says at once what is sought', () => {
	const bench = new Workbench();
	const fin = { ...newPart({ name: 'Fin C' }), outcome: 'missing' };
	const [id] = bench.do('part.add', { record: fin });
	const draft = prefilled(calculationById('search')!, bench.file, 1, [], id);
	expect(draft.inputs.cells['object']!.text).toBe('Fin C');
});

describe('what a kept run computed for another', () => {
	const keep = (calculation: string, inputs: Record<string, unknown>, of?: string) => {
		const result = runCalculation(calculationById(calculation)!, { inputs, samples: 200 });
		if (!result.ok) throw new Error(`${result.error.path}: ${result.error.message}`);
		const asked = { inputs, observed: {}, scenarios: [], seed: 1, samples: 200, sources: [] };
		const run = { ...asked, result: result.value };
		return of === undefined
			? c.do('calculation.add', { calculation, title: 'So far', anomaly: 'a1', note: '', ...run })
			: c.do('calculation.rerun', { id: of, ...run });
	};
	const descent = { mass: '8 kg', dragArea: '2 m²' };

	it.each([
		['descent', descent, 'rate', 'impact', 'speed'],
		['descent', descent, 'rate', 'impact', 'terminal'],
		['descent', descent, 'rate', 'opening-load', 'speed'],
		[
			'deployment-speed',
			{ offset: '3 s', mass: '5 kg', diameter: '100 mm', apogeeHeight: '1200 m', sidewaysSpeed: '10 m/s' },
			'speed',
			'opening-load',
			'speed'
		],
		[
			'deployment-charge',
			{ charge: '2 g', bore: '100 mm', volume: '2 l', massA: '3 kg', massB: '5 kg', stroke: '80 mm' },
			'energy',
			'tether-load',
			'energy'
		]
	])('%s gives what it computed to another (%#)', (calculation, inputs, output, to, id) => {
		const field = leaf(calculationById(to)!, id);
		expect(offersFor(c.file, field)).toEqual([]);
		keep(calculation, inputs);
		const [offer] = offersFor(c.file, field);
		const run = Object.values(c.file.calculations)[0]!;
		const { median, label } = (run.result as { outputs: Record<string, { median: number; label: string }> }).outputs[output]!; // prettier-ignore
		expect(offer!.label.toLowerCase()).toContain(`${label.toLowerCase()} by k1 so far: `);
		expect(Number.parseFloat(offer!.cells[id]!.text) / median).toBeCloseTo(1, 1);
	});
	it('a point of the ascent, with its height and speed from one run, to the fins', () => {
		const fins = list(calculationById('fin-flutter')!, 'ascent');
		expect(rowOffers(c.file, fins, [])).toEqual([]);
		const motor = { motorAs: 'totals', totalImpulse: '640 N·s', burnTime: '2.4 s' };
		keep('ascent', { ...motor, liftoffMass: '5 kg', propellantMass: '0.3 kg', diameter: '100 mm' });
		const [offer] = rowOffers(c.file, fins, []);
		expect(offer!.label).toMatch(
			/^The greatest speed over the ground by K1 So far: [\d.]+ ± [\d.]+ m\/s; the height at burnout by K1 So far: .* m$/
		);
		expect(Object.keys(offer!.cells)).toEqual(['height', 'speed']);
	});
	it('is remembered, goes stale with the run, and is not filled in unasked', () => {
		const id = keep('descent', descent);
		const impact = calculationById('impact')!;
		expect(prefilled(impact, c.file, 1, []).inputs.cells['speed']!.text).toBe('');
		const draft = blankDraft(impact);
		takeOffer(draft.inputs.cells, offersFor(c.file, leaf(impact, 'speed'))[0]!, 1);
		const sources = sourcesOf(impact, draft);
		expect(sources.map(({ input }) => input)).toEqual(['speed']);
		expect(changedSources(c.file, sources)).toEqual([]);
		keep('descent', { ...descent, mass: '12 kg' }, id);
		expect(changedSources(c.file, sources)[0]!.words).toMatch(
			/^The descent rate at the pad by K1 So far has changed since this was computed: it was .* m\/s and is .* m\/s now\.$/
		);
	});
});

describe('a peak load by a kept run', () => {
	const opening = calculationById('opening-load')!;
	const strength = calculationById('attachment-strength')!;
	const asked = (speed: string) => {
		const inputs = { mass: '10 kg', diameter: '3 m', speed };
		const result = runCalculation(opening, { inputs, samples: 200 });
		if (!result.ok) throw new Error(result.error.message);
		const rest = { observed: {}, scenarios: [], seed: 1, samples: 200, sources: [] };
		return { ...rest, inputs, result: result.value };
	};
	const keep = () =>
		c.do('calculation.add', {
			calculation: 'opening-load',
			title: 'Main opens late',
			anomaly: 'a1',
			note: '',
			...asked('20 ± 2 m/s')
		});
	const scenario = strength.evidence!.scenarios.find(({ inputs }) => inputs.length === 2)!;

	it('fills the load with its spread, and both ends of a scenario’s', () => {
		expect(offersFor(c.file, leaf(strength, 'load'))).toEqual([]);
		const id = keep();
		const [load] = offersFor(c.file, leaf(strength, 'load'));
		expect(load!.label).toMatch(/^The peak load by K1 Main opens late: [\d.]+ ± [\d.]+ N$/);
		const output = (c.file.calculations[id]!.result as { outputs: Record<string, { median: number; low90: number; high90: number }> }).outputs['load']!; // prettier-ignore
		const [middle, sigma] = load!.cells['load']!.text.match(/[\d.]+/g)!.map(Number);
		expect(middle! / output.median).toBeCloseTo(1, 2);
		expect((3.29 * sigma!) / (output.high90 - output.low90)).toBeCloseTo(1, 1);
		for (const end of scenario.inputs) {
			const { from, to } = offersFor(c.file, end)[0]!.cells;
			expect(Number.parseFloat(from!.text) / output.low90).toBeCloseTo(1, 2);
			expect(Number.parseFloat(to!.text) / output.high90).toBeCloseTo(1, 2);
		}
	});
	it('is remembered in scenarios too, and says when the run has changed since', () => {
		const id = keep();
		const draft = blankDraft(strength);
		takeOffer(draft.inputs.cells, offersFor(c.file, leaf(strength, 'load'))[0]!, 1);
		draft.observed.cells['happened'] = { text: 'held', taken: null };
		const cells = blankRow(scenario.inputs);
		takeOffer(cells, offersFor(c.file, scenario.inputs[0]!)[0]!, 1);
		draft.scenarios = [{ id: scenario.id, cells }];
		const sources = sourcesOf(strength, draft);
		expect(sources.map(({ input }) => input)).toEqual(['load', 'scenarios.1.from', 'scenarios.1.to']);
		expect(changedSources(c.file, sources)).toEqual([]);
		c.do('calculation.rerun', { id, ...asked('40 ± 2 m/s') });
		const words = changedSources(c.file, sources).map((changed) => changed.words);
		expect(words[0]).toMatch(
			/^The peak load by K1 Main opens late has changed since this was computed: it was .* N and is .* N now\.$/
		);
		expect(words[1]).toMatch(/^The lower end of the peak load/);
		const stored = { sources } as Parameters<typeof toFollow>[1];
		expect(toFollow(c.file, stored)).toBe(words.join('\n'));
		expect(toFollow(c.file, { ...stored, sources: [] })).toBe('');
		// Of what is gone there is nothing to follow.
		expect(toFollow({ ...c.file, calculations: {} }, stored)).toBeNull();
		const run = { scenarios: [{ id: scenario.id, from: cells['from']!.text, to: cells['to']!.text }], inputs: {}, observed: { happened: 'held' }, seed: 1, samples: 60, sources }; // prettier-ignore
		const again = refreshed(strength, run as unknown as Parameters<typeof refreshed>[1], c.file, 9);
		expect(again.scenarios[0]!.cells['from']!.text).not.toBe(cells['from']!.text);
	});
});
