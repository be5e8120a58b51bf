import { describe, expect, it } from 'vitest';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';
import { timesAsProbable } from '$lib/calculations/search/bearings';
import { search } from '$lib/calculations/search/search';
import { detection } from '$lib/probability/search';

const segments = [
	{ name: 'Gully', area: '2 ha', weight: '40 %', width: '6 m' },
	{ name: 'Field', area: '12 ha', weight: '30 %', width: '20 m' },
	{ name: 'Wood', area: '5 ha', weight: '20 %', width: '5 m', speed: '1 km/h' }
];
const walked = { segment: 'gully', walked: '3 km' };
const ask = (inputs: Record<string, unknown> = {}, rest: Partial<Request> = {}) =>
	runCalculation(search, { inputs: { segments, ...inputs }, samples: 200, ...rest });
function run(inputs?: Record<string, unknown>, rest?: Partial<Request>): CalculationResult {
	const r = ask(inputs, rest);
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
}
const nominal = (r: CalculationResult, key: string) => r.outputs[key]!.nominal!;

describe('where to look next', () => {
	it('names the place with the greatest gain, and how sure that is', () => {
		const r = run({ hours: '1 h', searchers: '2' });
		// Two at 2 km/h for an hour with 6 m over 2 ha: coverage 1.2.
		expect(nominal(r, 'gain of Gully')).toBeCloseTo(0.4 * 0.95 * detection('random', 1.2), 10);
		expect(r.statements[0]).toMatch(
			/^Search Gully next: 1.0\sh there would find it with 27\s% probability, Field with 14\s%; it is the best place in \d+ of 100/
		);
		expect(r.figure!.title).toBe('Search Gully next');
	});
	it('divides the time so that more is found than in any one place', () => {
		const r = run({ hours: '4 h', searchers: '3' });
		const times = ['Gully', 'Field', 'Wood'].map((name) => nominal(r, `time of ${name}`));
		expect(times.reduce((s, t) => s + t)).toBeCloseTo(4 * 3600, 6);
		expect(nominal(r, 'together')).toBeGreaterThan(
			Math.max(...segments.map(({ name }) => nominal(r, `gain of ${name}`)))
		);
		expect(r.statements.join(' ')).toMatch(/Divided best.*Gully .*, Field .*; together \d+\s%/);
	});
});

describe('bearings', () => {
	const at = (name: string, toward: string, area = '1 m2') => ({
		name,
		area,
		weight: '45 %',
		width: '6 m',
		away: '1 km',
		toward
	});
	const pair = [at('Ahead', '90°'), at('Behind', '270°')];
	const share = (r: CalculationResult, name: string) => nominal(r, `after of ${name}`);

	it('a segment that one points at is 13 times as probable, one behind a tenth (hand-worked)', () => {
		const r = run({ segments: pair, bearings: [{ bearing: '90°', within: '10°' }] });
		expect(nominal(r, 'stated of Ahead')).toBeCloseTo(0.45, 12);
		// The von Mises density is within 1 % of the normal one that the hand uses.
		const ratio = share(r, 'Ahead') / share(r, 'Elsewhere') / 4.5;
		expect(Math.abs(ratio / 13.03 - 1)).toBeLessThan(0.01);
		expect(share(r, 'Behind') / share(r, 'Elsewhere') / 4.5).toBeCloseTo(0.1, 6);
		expect(r.statements.join(' ')).toMatch(/The bearing moves Ahead from 45\s% to \d+\s%, Behind/);
	});
	it('are as probable over all directions together, wherever it lies', () => {
		const segment = { area: 2e4, away: 300, toward: 1 } as Parameters<typeof timesAsProbable>[0];
		const stand = { standAway: 900, standToward: 4, within: 0.2 };
		let sum = 0;
		for (let k = 0; k < 720; k++)
			sum += timesAsProbable(segment, { ...stand, bearing: (k * Math.PI) / 360, by: undefined });
		expect(sum / 720).toBeCloseTo(1, 9);
	});
	it('two from different places cross', () => {
		const corners = [
			at('North-east', '45°', '1 ha'),
			at('South-east', '135°', '1 ha'),
			at('West', '270°', '1 ha')
		];
		// From the pad to the east between both, from 1.4 km south of it to the north-east: only the first fits both.
		const first = { bearing: '60°', within: '15°' };
		const second = { bearing: '23°', within: '10°', standAway: '1.4 km', standToward: '180°' };
		const one = run({ segments: corners, bearings: [first] });
		const both = run({ segments: corners, bearings: [first, second] });
		expect(share(both, 'North-east')).toBeGreaterThan(share(one, 'North-east'));
		expect(share(both, 'North-east')).toBeGreaterThan(0.8);
	});
	it('turning everything round changes nothing', () => {
		const turned = (by: number) =>
			run({
				segments: pair.map((s) => ({ ...s, area: '3 ha', toward: `${parseFloat(s.toward) + by}°` })),
				bearings: [
					{ bearing: `${(100 + by) % 360}°`, standAway: '400 m', standToward: `${(200 + by) % 360}°` }
				]
			});
		expect(share(turned(0), 'Ahead')).toBeCloseTo(share(turned(77), 'Ahead'), 9);
	});
	it('say nothing of a ring, nor to somebody who stands in it, and that is said', () => {
		const ring = { name: 'Ring', area: '40 ha', weight: '45 %', width: '6 m' };
		const r = run({ segments: [pair[0], ring], bearings: [{ bearing: '270°' }] });
		expect(share(r, 'Ring') / share(r, 'Elsewhere')).toBeCloseTo(4.5, 12);
		expect(r.warnings.join(' ')).toMatch(/say nothing of Ring/);
		const inside = {
			segments: [{ ...at('Here', '0°', '400 ha'), away: '10 m' }],
			bearings: [{ bearing: '5°' }]
		};
		expect(share(run(inside), 'Here')).toBeCloseTo(0.9, 12);
	});
	it('weigh a segment by the mean over the places listed for it', () => {
		const { away: _, toward: __, ...bare } = at('Strip', '90°', '2 m2');
		const both = { ...bare, ground: '1000 0, -1000 0' };
		const r = run({ segments: [both], bearings: [{ bearing: '90°', within: '10°' }] });
		// Hand-worked: half of it is 13.03 times as probable, half a tenth as much.
		const ratio = share(r, 'Strip') / share(r, 'Elsewhere') / 9;
		expect(Math.abs(ratio / ((13.03 + 0.1) / 2) - 1)).toBeLessThan(0.01);
		const wrong = ask({ segments: [{ ...both, ground: '1000, 0' }], bearings: [{ bearing: '90°' }] });
		expect(wrong).toMatchObject({
			ok: false,
			error: { message: expect.stringMatching(/^Strip: its places do not read; write metres east/) as string }
		});
	});
	it('need to know where segments lie', () => {
		const r = ask({ bearings: [{ bearing: '90°' }] });
		expect(r).toMatchObject({
			ok: false,
			error: { message: expect.stringMatching(/give at least one/) as string }
		});
		const half = ask({ segments: [{ ...pair[0], toward: undefined }, pair[1]] });
		expect(half).toMatchObject({
			ok: false,
			error: { message: expect.stringMatching(/^Ahead: its middle needs both/) as string }
		});
	});
});

describe('searches that found nothing', () => {
	it('move the probability elsewhere, and all places still make 100 %', () => {
		const r = run({ searches: [walked] });
		// Coverage 6 m × 3 km / 2 ha = 0.9, of the 95 % that are not hidden.
		const q = 0.95 * detection('random', 0.9);
		expect(nominal(r, 'searched of Gully')).toBeCloseTo(q, 12);
		expect(nominal(r, 'success')).toBeCloseTo(0.4 * q, 12);
		expect(nominal(r, 'after of Gully')).toBeCloseTo((0.4 * (1 - q)) / (1 - 0.4 * q), 12);
		const places = ['Gully', 'Field', 'Wood', 'Elsewhere'].map((name) => nominal(r, `after of ${name}`));
		expect(places.reduce((s, p) => s + p)).toBeCloseTo(1, 12);
		expect(r.statements.join(' ')).toMatch(/moves Gully from 40\s% to .*elsewhere from 10\s% to/);
	});
	it('of one place twice: the chances of missing it multiply, and what is hidden stays so', () => {
		const chance = { segment: 'Gully', told: 'chance', chance: '60 %' };
		const r = run({ searches: [chance, chance] });
		expect(nominal(r, 'searched of Gully')).toBeCloseTo(0.95 * 0.84, 12);
		expect(r.statements.join(' ')).toMatch(/2 searches of Gully see 84\s% .* not the sum of 120\s%/);
		expect(r.warnings.join(' ')).toMatch(/Searching again does not find what is hidden: 5\s%/);
	});
	it('with nothing hidden see all that they see, and the result warns of it', () => {
		const chance = { segment: 'Gully', told: 'chance', chance: '60 %' };
		const r = run({ hidden: '0 %', searches: [chance] });
		expect(nominal(r, 'searched of Gully')).toBeCloseTo(0.6, 12);
		expect(r.warnings.join(' ')).toMatch(/Nothing is taken to be hidden.*counts as cleared/);
		expect(run({ searches: [chance] }).warnings.join(' ')).not.toMatch(/Nothing is taken/);
	});
	it('never clear a place, however thoroughly it was searched', () => {
		const all = { segment: 'Gully', told: 'spacing', spacing: '1 m', curve: 'definite' };
		const r = run({ searches: [all, all] });
		expect(nominal(r, 'after of Gully')).toBeGreaterThan(0.02);
		expect(r.warnings.join(' ')).toMatch(/Searched is not cleared.*Gully 5\s%/);
		expect(r.warnings.join(' ')).toMatch(/Straight, evenly spaced lines are hard to keep/);
	});
	it('may be told by their line spacing, or with another sweep width', () => {
		const spacing = run({
			searches: [{ segment: 'Field', told: 'spacing', spacing: '30 m', curve: 'parallel' }]
		});
		expect(nominal(spacing, 'searched of Field')).toBeCloseTo(0.95 * detection('parallel', 20 / 30), 12);
		const dusk = run({ searches: [{ ...walked, width: '3 m' }] });
		expect(nominal(dusk, 'searched of Gully')).toBeCloseTo(0.95 * detection('random', 0.45), 12);
	});
	it('as evidence: the chance of finding nothing had it lain in each segment', () => {
		const r = run({ searches: [walked] }, { observed: { outcome: 'nothing' }, samples: 2000 });
		const [gully, field, wood, none] = r.likelihoods!;
		expect(r.likelihoods!.map((l) => l.label)).toEqual([
			'It lies in Gully',
			'It lies in Field',
			'It lies in Wood',
			'None of these'
		]);
		expect(gully!.density / field!.density).toBeCloseTo(1 - 0.95 * detection('random', 0.9), 1);
		expect(wood!.density).toBeCloseTo(none!.density, 6);
	});
});

describe('warns', () => {
	it.each<[string, Record<string, unknown>, RegExp]>([
		[
			'that sweep width is not a distance of sight',
			{ object: 'fin fragment' },
			/not measured.*neither twice the distance of sight.*holds for fin fragment/
		],
		[
			'that it holds for one object and ground',
			{ basis: 'measured' },
			/on that ground and in that light only/
		],
		[
			'where weights do not add up',
			{ segments: segments.map((s) => ({ ...s, weight: '70 %' })) },
			/weights add up to 210\s%; they count in proportion/
		],
		[
			'when it has come to lie outside',
			{ elsewhere: '35 %', searches: [walked] },
			/outside all segments with/
		],
		['of no rest of the world', { elsewhere: '0 %' }, /certain that it lies in one of these segments/],
		['that the way there is not counted', {}, /The way to a segment and back is not counted/]
	])('%s', (_, inputs, message) => {
		expect(run(inputs).warnings.join(' ')).toMatch(message);
	});
	it('carries its cautions', () => {
		expect(run().cautions.join(' ')).toMatch(/touches nothing.*power lines.*range officer/);
	});
});

it('takes the worked example of its page as it is printed there: 0.197, 0.402, 0.268, 0.134 (hand-worked)', () => {
	const weights = ['0.4', '0.3', '0.2', '0.1'];
	const r = run({
		segments: weights.map((weight, i) => ({ name: `${i + 1}`, area: '24 ha', weight, width: '20 m' })),
		elsewhere: '0',
		hidden: '0',
		searches: [{ segment: '1', walked: '12 km' }]
	});
	const after = weights.map((_, i) => nominal(r, `after of ${i + 1}`));
	for (const [i, p] of [0.197, 0.402, 0.268, 0.134].entries()) expect(after[i]).toBeCloseTo(p, 3);
	expect(r.warnings.join(' ')).not.toMatch(/weights add up/);
	expect(r.notes.join(' ')).not.toMatch(/elsewhere/i);
});

describe('the figure', () => {
	it('has a row for each place, a ring before, a dot after, and the range', () => {
		const layer = run({ searches: [walked] }).figure!.layers[0]!;
		if (layer.kind !== 'rows') throw new Error('rows expected');
		expect(layer.rows.map(({ label }) => label)).toEqual(['Gully', 'Field', 'Wood', 'Elsewhere']);
		expect(layer.rows[0]!.before).toBeCloseTo(40, 9);
		expect(layer.rows[0]!.value).toBeLessThan(40);
		expect(layer.rows[0]!.low).toBeLessThan(layer.rows[0]!.high!);
		const [first] = run().figure!.layers;
		expect(first!.kind === 'rows' && first!.rows[0]!.before).toBeUndefined();
	});
});

describe('refuses', () => {
	it.each<[string, Record<string, unknown>, RegExp]>([
		['no segment', { segments: [] }, /at least 1 segment is needed/],
		[
			'two of one name',
			{ segments: [segments[0], { ...segments[1], name: 'gully' }] },
			/give each its own name/
		],
		['a segment called elsewhere', { segments: [{ ...segments[0], name: 'elsewhere' }] }, /another name/],
		['weights of 0', { segments: [{ ...segments[0], weight: '0 %' }] }, /a weight above zero/],
		[
			'a search of nowhere',
			{ searches: [{ segment: 'Marsh', walked: '1 km' }] },
			/search 1: no segment is called "Marsh"; there are Gully/
		],
		['a search of no segment', { searches: [{ walked: '1 km' }] }, /say which segment/],
		['a search without its way', { searches: [{ segment: 'Gully' }] }, /way in the segment.* is missing/],
		[
			'lines without their distance',
			{ searches: [{ segment: 'Gully', told: 'spacing' }] },
			/distance between lines is missing/
		],
		[
			'a chance that is not told',
			{ searches: [{ segment: 'Gully', told: 'chance' }] },
			/chance of finding it .* is missing/
		],
		['a negative rest of the world', { elsewhere: '-1 %' }, /must be at least 0/],
		[
			'searches that leave nothing',
			{
				elsewhere: '0',
				hidden: '0',
				segments: [segments[0]],
				searches: [{ told: 'chance', chance: '100 %' }]
			},
			/nothing is left/
		]
	])('%s', (_, inputs, message) => {
		const r = ask(inputs);
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
	it('evidence of searches that were none', () => {
		const r = ask({}, { observed: { outcome: 'nothing' } });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(/no search is listed/);
	});
});
