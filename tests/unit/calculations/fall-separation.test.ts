import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fallSeparation } from '$lib/calculations/fall-separation/fall-separation';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';
import { INPUTS, type Inputs } from '$lib/calculations/fall-separation/inputs';
import { offsets } from '$lib/calculations/fall-separation/parting';
import { inputSampler, readInputs } from '$lib/calculations/inputs';
import { airOf, uniformInTime } from '$lib/calculations/through-wind';
import { randomStream } from '$lib/probability/generator';
import { weightedQuantiles } from '$lib/probability/summary';
import { exact, pieces, wind } from './example';

function run(request: Request): CalculationResult {
	const result = runCalculation(fallSeparation, { samples: 600, ...request });
	if (!result.ok) throw new Error(`${result.error.path}: ${result.error.message}`);
	return result.value;
}
const refusal = (request: Request) => {
	const result = runCalculation(fallSeparation, { samples: 100, ...request });
	return result.ok ? 'accepted' : `${result.error.path}: ${result.error.message}`;
};
function reading(inputs: Request['inputs']) {
	const read = readInputs(INPUTS, inputs);
	if (!read.ok) throw new Error(read.error.message);
	return read.value;
}
const steel = [
	{ name: 'A', ballisticCoefficient: '40 ± 0 kg/m²' },
	{ name: 'B', ballisticCoefficient: '10 ± 0 kg/m²' }
];

describe('where would it lie', () => {
	it('downwind of the heavier piece, farther the higher they parted', () => {
		const at = (releaseHeight: string) =>
			run({ inputs: { ...exact, pieces: steel, wind, releaseHeight } }).outputs;
		const [low, high] = [at('300 m'), at('900 m')];
		expect(low['east of B']!.nominal).toBeGreaterThan(20);
		expect(high['distance of B']!.nominal).toBeGreaterThan(2 * low['distance of B']!.nominal!);
	});
	it('without any spread the samples agree with the exact nominal fall to half a metre', () => {
		const { outputs } = run({ inputs: { ...exact, pieces: steel, wind, releaseHeight: '900 m' } });
		for (const o of Object.values(outputs)) {
			expect(Math.abs(o.median - o.nominal!)).toBeLessThan(0.5);
			expect(o.high90 - o.low90).toBeLessThan(1e-9);
		}
	});
	it.each([
		[
			'a warm half kelvin and thin air',
			{ siteTemperature: '26.5 °C', sitePressure: '872 hPa', siteElevation: '1249 m' }
		],
		[
			'a cold day by the sea',
			{ siteTemperature: '-7.51 °C', sitePressure: '1031 hPa', siteElevation: '51 m' }
		],
		['the standard air of a plateau', { siteElevation: '2149 m' }],
		[
			'a sounding with an inversion over a frosty pad',
			{
				siteElevation: '249 m',
				siteTemperature: '-8 °C',
				airTemperatures: [
					{ height: '300 m', temperature: '4 °C' },
					{ height: '2500 m', temperature: '-9 °C' }
				]
			}
		]
	])('so they do in %s, which samples take from an air that many share', (_, air) => {
		const light = [steel[0], { name: 'B', ballisticCoefficient: '3 ± 0 kg/m²' }];
		const { outputs } = run({ inputs: { ...exact, ...air, pieces: light, wind, releaseHeight: '3000 m' } });
		for (const o of Object.values(outputs)) expect(Math.abs(o.median - o.nominal!)).toBeLessThan(0.5);
	});
	it('turns with the wind, keeps its length, and is none at all for equal pieces', () => {
		fc.assert(
			fc.property(fc.integer({ min: 0, max: 359 }), (from) => {
				const turned = [
					{ height: '0 m', speed: '8 m/s', from: `${from} deg` },
					{ height: '900 m', speed: '8 m/s', from: `${from} deg` }
				];
				const { outputs } = run({
					samples: 50,
					inputs: { ...exact, pieces: steel, wind: turned, releaseHeight: '500 m' }
				});
				const [e, n] = [outputs['east of B']!.nominal!, outputs['north of B']!.nominal!];
				const toward = ((from + 180) * Math.PI) / 180;
				expect(e).toBeCloseTo(Math.hypot(e, n) * Math.sin(toward), 3);
				expect(n).toBeCloseTo(Math.hypot(e, n) * Math.cos(toward), 3);
			}),
			{ numRuns: 8 }
		);
		const twins = [steel[0], { ...steel[0], name: 'C' }];
		const same = run({ inputs: { ...exact, pieces: twins, wind, releaseHeight: '500 m' } });
		expect(same.outputs['distance of C']!.nominal).toBe(0);
		expect(same.warnings.join()).toMatch(/fall almost alike/);
	});
	it('mass and drag area stand for a ballistic coefficient; several pieces go at once', () => {
		const three = [...steel, { name: 'C', mass: '2 kg', dragArea: '0.2 ± 0 m²' }];
		const { outputs } = run({ inputs: { ...exact, pieces: three, wind, releaseHeight: '500 m' } });
		expect(outputs['distance of C']!.nominal).toBe(outputs['distance of B']!.nominal);
		expect(Object.keys(outputs)).toContain('fallTime of A');
	});
	it('ranks what the distance hangs on', () => {
		const { sensitivity } = run({ inputs: { pieces, wind, releaseHeight: '600 m' } });
		expect(
			sensitivity[0]!.ranked
				.slice(0, 2)
				.map((r) => r.path)
				.sort()
		).toEqual(['pieces.2.ballisticCoefficient', 'windFactor']);
	});
});

describe('from where it lies to the height', () => {
	it('the height that made the distance lies in the interval, and grows with the distance', () => {
		const truth = run({ inputs: { ...exact, pieces: steel, wind, releaseHeight: '600 m' } }).outputs[
			'distance of B'
		]!.nominal!;
		const infer = (distance: number) =>
			run({
				samples: 2000,
				inputs: { pieces: steel, wind, highestParting: '1500 m' },
				observed: { found: [{ distance: { value: distance, unit: 'm', plusMinus: 5 } }] }
			}).outputs['inferredHeight']!;
		const found = infer(truth);
		expect(found.low90).toBeLessThan(600);
		expect(found.high90).toBeGreaterThan(600);
		expect(infer(2 * truth).median).toBeGreaterThan(found.median);
		expect(infer(0.3 * truth).median).toBeLessThan(found.median);
	});
	it('agrees with a height for each sample and no shared way down', () => {
		const inputs = { ...exact, pieces, wind, windFactor: '1 ± 0.1', highestParting: '1500 m' };
		const observed = { found: [{ distance: '150 ± 10 m' }] };
		const shared = run({ samples: 2000, inputs, observed }).outputs['inferredHeight']!;
		// Importance sampling by hand: heights drawn, the scenario's own predictions weighed by the same kernel.
		const known = { kind: 'distance', label: 'Bulkhead', observed: 150, sd: 10, member: 1 } as const;
		const heights: number[] = [];
		const weights: number[] = [];
		const random = randomStream(9, 'by hand');
		const draw = inputSampler(reading(inputs), (path) => randomStream(9, path));
		for (let i = 0; i < 30_000; i++) {
			const x = draw() as Inputs;
			const height = uniformInTime(airOf(x), 0, x.highestParting!)(random());
			const [[place] = []] = offsets(x, [height], [known], random);
			heights.push(height);
			weights.push((1 + ((Math.hypot(...place!) - 150) / 10) ** 2 / 4) ** -2.5);
		}
		const [low, median, high] = weightedQuantiles(heights, weights, [0.05, 0.5, 0.95]);
		// Both are sampled, each with a standard error of half to one per cent; with 20,000 and 400,000 they agree to 0.2 %.
		expect(Math.abs(shared.low90 / low! - 1)).toBeLessThan(0.03);
		expect(Math.abs(shared.median / median! - 1)).toBeLessThan(0.03);
		expect(Math.abs(shared.high90 / high! - 1)).toBeLessThan(0.03);
	});
	describe('of three pieces', () => {
		const three = [
			{ name: 'Body', ballisticCoefficient: '40 ± 0 kg/m²' },
			{ name: 'Hatch', ballisticCoefficient: '8 ± 0 kg/m²' },
			{ name: 'Sabot', ballisticCoefficient: '15 ± 0 kg/m²' }
		];
		/** Where a piece lies that left at this height, east and north of the body. */
		const left = (piece: string, releaseHeight: string) => {
			const { outputs } = run({ samples: 50, inputs: { ...exact, pieces: three, wind, releaseHeight } });
			const at = (axis: string) => `${outputs[`${axis} of ${piece}`]!.nominal!.toFixed(2)} ± 4 m`;
			return { piece, east: at('east'), north: at('north') };
		};
		const of = (hatch: string, sabot: string, more: object = {}) =>
			run({
				samples: 1000,
				inputs: { ...exact, windFactor: '1 ± 0.1', pieces: three, wind, highestParting: '1500 m', ...more },
				observed: { found: [left('Hatch', hatch), left('Sabot', sabot)] },
				scenarios: ['parted-in-the-air', 'parted-one-by-one', 'none-of-these']
			});
		it('says which left first, and that one parting does not explain both', () => {
			const r = of('900 m', '300 m');
			expect(r.statements.join(' ')).toMatch(
				/By their own places Hatch left at about \d+.m and Sabot at about \d+.m\. If they left one after the other, Hatch was first with (9\d|>99)\u202f% probability\. Two partings explain the places .* times as well/
			);
			expect(Math.abs(r.outputs['ownHeight of Hatch']!.median / 900 - 1)).toBeLessThan(0.1);
			expect(Math.abs(r.outputs['ownHeight of Sabot']!.median / 300 - 1)).toBeLessThan(0.1);
			const [together, oneByOne] = r.likelihoods!;
			expect(oneByOne!.density).toBeGreaterThan(3 * together!.density);
			expect(r.warnings.join(' ')).toMatch(/as if it alone had left it/);
		});
		it('the other way round when the places are', () => {
			expect(of('300 m', '900 m').statements.join(' ')).toMatch(/Sabot was first with (9\d|>99)\u202f%/);
		});
		it('says that the order can’t be told where one parting explains both', () => {
			const r = of('600 m', '600 m');
			expect(r.statements.join(' ')).toMatch(
				/Which of them left first can’t be told from where they lie: \d+ to \d+ of 100\. One parting of both explains the places .* times as well as two/
			);
			const [together, oneByOne] = r.likelihoods!;
			expect(together!.density).toBeGreaterThan(3 * oneByOne!.density);
		});
		it('fits the speed at parting where it was left open', () => {
			const away = { groundSpeed: '40 m/s', heading: '0 deg' };
			const { outputs } = run({
				samples: 50,
				inputs: { ...exact, ...away, pieces: three, wind, releaseHeight: '700 m' }
			});
			const at = (piece: string, axis: string) =>
				`${outputs[`${axis} of ${piece}`]!.nominal!.toFixed(2)} ± 2 m`;
			const r = run({
				samples: 1500,
				inputs: {
					...exact,
					heading: '0 ± 0 deg',
					groundSpeed: '0 to 80 m/s',
					pieces: three,
					wind,
					highestParting: '1500 m'
				},
				observed: {
					found: ['Hatch', 'Sabot'].map((piece) => ({
						piece,
						east: at(piece, 'east'),
						north: at(piece, 'north')
					}))
				}
			});
			const speed = r.outputs['inferred-groundSpeed']!;
			expect(speed.low90).toBeLessThan(40);
			expect(speed.high90).toBeGreaterThan(40);
			expect(speed.high90 - speed.low90).toBeLessThan(30);
		});
	});
	it('says what the prior is, what is excluded, and gives likelihoods in order with their error', () => {
		const r = run({
			samples: 2000,
			inputs: { pieces, wind, highestParting: '1500 m' },
			observed: { found: [{ distance: '2.1 ± 0.2 m' }] },
			scenarios: [
				{ id: 'parted-in-the-air', from: '400 m', to: '600 m' },
				'parted-at-impact',
				'none-of-these'
			]
		});
		expect(r.statements.join(' ')).toMatch(/every moment of a steady descent .* equally probable/);
		expect(r.statements.join(' ')).toMatch(
			/would lie .* away or more in 95 of 100 falls; 2\.10.m was measured/
		);
		const [air, impact, none] = r.likelihoods!;
		expect(air!.words).toMatch(
			/^Parted in the air between 400.m and 600.m: Bulkhead would lie .* away or more in 95 of 100 falls; 2\.10.m was measured/
		);
		expect(impact!.density).toBeGreaterThan(50 * air!.density);
		expect(impact!.density).toBeGreaterThan(50 * none!.density);
		for (const l of r.likelihoods!) expect(l.standardError).toBeGreaterThan(0);
		expect(air!.distribution).toMatch(/steady descent/);
	});
	it('an offset with direction tells more than its length: upwind speaks against the air', () => {
		const density = (east: number) =>
			run({
				inputs: { pieces, wind, highestParting: '1500 m' },
				observed: { found: [{ east: { value: east, unit: 'm', plusMinus: 3 }, north: '0 ± 3 m' }] }
			}).likelihoods![0]!.density;
		expect(density(60)).toBeGreaterThan(5 * density(-60));
	});
	it('a bearing and a distance are an offset', () => {
		const r = run({
			inputs: { pieces, wind, highestParting: '1500 m' },
			observed: { found: [{ distance: '60 ± 3 m', bearing: '95 ± 2 deg' }] }
		});
		expect(r.likelihoods).toHaveLength(3);
	});
	it('speaks of a probability only where enough samples explain the place', () => {
		const headline = (samples: number) =>
			run({
				samples,
				inputs: { pieces, wind, highestParting: '1500 m' },
				observed: { found: [{ distance: '40 ± 5 m' }] }
			}).statements[0];
		expect(headline(4000)).toMatch(/^If they parted in the air, .* with 90 % probability\./);
		expect(headline(100)).toMatch(
			/^Only about \d+ of 100 samples explain the places; from these, if they parted in the air, they did so roughly between /
		);
		expect(headline(100)).not.toContain('probability.');
	});
	it('warns where a plus-minus reaches beyond what can be, and notes one assumption once', () => {
		const { notes, warnings } = run({
			inputs: { pieces, wind, highestParting: '900 ± 1200 m' },
			samples: 100
		});
		// Φ(−900/1200) = 0.227.
		expect(warnings[0]).toMatch(
			/^Greatest height at which they may have parted: with a standard deviation of 1200\Dm, 23 of 100 values would lie below 0\Dm/
		);
		for (const label of ['Scatter of pieces that part at impact', 'True wind over the table'])
			expect(notes.filter((note) => note.startsWith(label)).length).toBe(1);
	});
	it('warns where no height explains the place', () => {
		const r = run({
			inputs: { pieces, wind, highestParting: '300 m' },
			observed: { found: [{ distance: '900 ± 5 m' }] }
		});
		expect(r.statements.join(' ')).toMatch(/No height up to 300.m puts the pieces where they lay/);
	});
});

describe('repeatable', () => {
	it('the same seed gives every digit again, another seed other ones', () => {
		const request = {
			inputs: { pieces, wind, releaseHeight: '600 m', highestParting: '1500 m' },
			observed: { found: [{ distance: '40 ± 5 m' }] }
		};
		expect(run(request)).toEqual(run(request));
		expect(run({ ...request, seed: 2 }).outputs).not.toEqual(run(request).outputs);
	});
	it('is plain data: JSON keeps it whole', () => {
		const r = run({ inputs: { pieces, wind, releaseHeight: '600 m', highestParting: '900 m' } });
		expect(JSON.parse(JSON.stringify(r))).toEqual(r);
		expect(JSON.stringify(r)).not.toMatch(/null,"high90"|NaN/);
	});
});

describe('hand rules that go wrong, each a warning or impossible to enter', () => {
	const warnings = (inputs: Request['inputs']) =>
		run({ inputs: { pieces, wind, ...inputs } }).warnings.join(' ');
	it('[fall time from rest as h/v, sea-level speed aloft, horizontal speed apart from the fall] the fall is integrated whole, and the hand rule is named where it differs', () => {
		expect(warnings({ ...exact, groundSpeed: '40 m/s', heading: '90 deg', releaseHeight: '300 m' })).toMatch(
			/The hand rule .* would give/
		);
	});
	it('[one constant wind, surface wind only] is a warning', () => {
		const surface = [{ height: '10 m', speed: '4 m/s', from: '270 deg' }];
		expect(warnings({ wind: surface, releaseHeight: '600 m' })).toMatch(/Only a wind near the ground/);
		expect(warnings({ releaseHeight: '3000 m' })).toMatch(/given to 2000 m only/);
	});
	it('[hardly any wind] is a warning', () => {
		expect(
			warnings({
				wind: [
					{ height: '0 m', speed: '1 m/s', from: '0 deg' },
					{ height: '900 m', speed: '1.5 m/s', from: '0 deg' }
				],
				releaseHeight: '600 m'
			})
		).toMatch(/below 2 m\/s/);
	});
	it('[one drag for end-on and broadside] is a warning, and no drag coefficient of an endless cylinder is an input', () => {
		expect(warnings({ releaseHeight: '600 m' })).toMatch(/3\.5 times as fast end-on as broadside/);
		const tube = [{ ...pieces[0], dragCoefficient: '1.2' }, pieces[1]];
		expect(refusal({ inputs: { wind, pieces: tube, releaseHeight: '600 m' } })).toMatch(/dragCoefficient/);
	});
	it('[weight form fed as mass form] a ballistic coefficient cannot be entered without its unit', () => {
		expect(
			refusal({
				inputs: {
					wind,
					releaseHeight: '600 m',
					pieces: [{ ballisticCoefficient: 8 }, { ballisticCoefficient: '2 psf' }]
				}
			})
		).toMatch(/^pieces\.1\.ballisticCoefficient: .*the unit is missing; write kg\/m² or lb\/ft²/);
		const r = run({
			inputs: {
				wind,
				releaseHeight: '600 m',
				pieces: [{ ballisticCoefficient: '8 psf' }, { ballisticCoefficient: '2 psf' }]
			}
		});
		expect(r.notes.join(' ')).toMatch(/psf is the weight form: 1 psf is 4\.882428 kg\/m²/);
	});
	it('[a power law or a pressure factor as wind profile] no such law is an input', () => {
		expect(refusal({ inputs: { wind, pieces, releaseHeight: '600 m', exponent: '0.14' } })).toMatch(
			/there is no input "exponent"/
		);
	});
	it('[radius of 50, 68 or 95 %] a position circle cannot be entered without its level', () => {
		const found = (circleLevel?: string) => ({
			found: [{ east: '3 m', north: '1 m', circle: '5 m', ...(circleLevel ? { circleLevel } : {}) }]
		});
		const inputs = { wind, pieces, highestParting: '600 m' };
		expect(refusal({ inputs, observed: found() })).toMatch(
			/say whether 50, 68 or 95 % lies within the circle/
		);
		const tail = (level: string) => run({ inputs, observed: found(level) }).likelihoods![1]!.density;
		expect(tail('95')).not.toBe(tail('68'));
	});
});

describe('impossible input is refused with the reason', () => {
	const good = { wind, pieces, releaseHeight: '600 m' };
	it.each<[string, Request, RegExp]>([
		[
			'a wind from more than all round',
			{ inputs: { ...good, wind: [{ height: '0 m', speed: '3 m/s', from: '400' }] } },
			/^wind\.1\.from: .*400° is more than a full turn; write 40\.0° if that is meant/
		],
		[
			'a parting above the greatest height',
			{ inputs: { ...good, releaseHeight: '3000 m', highestParting: '1257 ± 60 m' } },
			/can’t have parted at 3000\Dm when the greatest height at which they may have is 1257\Dm; check both/
		],
		[
			'one piece',
			{ inputs: { ...good, pieces: [pieces[0]] } },
			/^pieces: Pieces: at least 2 pieces are needed, 1 given/
		],
		[
			'a ballistic coefficient beside mass and drag area',
			{
				inputs: {
					...good,
					pieces: [{ ...pieces[0], mass: '2 kg', dragArea: '0.1 m²' }, pieces[1]]
				}
			},
			/Body: give its ballistic coefficient, or its mass and drag area, not both/
		],
		['no wind', { inputs: { ...good, wind: [] } }, /^wind: .*at least 1 wind level is needed, 0 given/],
		[
			'wind out of order',
			{ inputs: { ...good, wind: [wind[1], wind[0]] } },
			/^wind\.2\.height: .*rows must rise by height/
		],
		[
			'negative wind',
			{ inputs: { ...good, wind: [{ height: '0 m', speed: '-3 m/s', from: '0 deg' }] } },
			/^wind\.1\.speed: .*at least 0.m\/s/
		],
		[
			'wrong kind',
			{ inputs: { ...good, releaseHeight: '5 kg' } },
			/^releaseHeight: .*"5 kg" is a mass; a length is needed/
		],
		['too high', { inputs: { ...good, releaseHeight: '90 km' } }, /beyond what this calculation is made for/],
		[
			'no drag',
			{ inputs: { ...good, pieces: [{ name: 'X', mass: '1 kg' }, pieces[1]] } },
			/^pieces.1.ballisticCoefficient: X: give its ballistic coefficient, or its mass and drag area/
		],
		[
			'zero drag',
			{ inputs: { ...good, pieces: [{ ballisticCoefficient: '0 kg/m2' }, pieces[1]] } },
			/must be more than 0.kg\/m²/
		],
		['one name twice', { inputs: { ...good, pieces: [pieces[0], pieces[0]] } }, /two pieces are called Body/],
		['no height', { inputs: { wind, pieces } }, /give the height at which they parted/],
		['list as text', { inputs: { ...good, wind: 'calm' } }, /^wind: .*a list of rows is needed/],
		[
			'half an offset',
			{ inputs: good, observed: { found: [{ east: '3 m' }] } },
			/east and north belong together/
		],
		[
			'exact place',
			{ inputs: good, observed: { found: [{ distance: '3 ± 0 m' }] } },
			/no place is known exactly/
		],
		[
			'unknown piece',
			{ inputs: good, observed: { found: [{ piece: 'Fin', distance: '3 m' }] } },
			/no piece is called "Fin"/
		],
		[
			'reference piece',
			{ inputs: good, observed: { found: [{ piece: 'Body', distance: '3 m' }] } },
			/is the reference/
		],
		[
			'list without its end',
			{
				inputs: good,
				observed: { found: [{ distance: '3 m' }] },
				scenarios: ['parted-at-impact', 'parted-at-impact']
			},
			/must end with "none-of-these"/
		],
		[
			'unknown scenario',
			{ inputs: good, observed: { found: [{ distance: '3 m' }] }, scenarios: ['stolen', 'none-of-these'] },
			/"stolen" is not one of/
		],
		[
			'scenario without its name',
			{
				inputs: good,
				observed: { found: [{ distance: '3 m' }] },
				scenarios: [{ from: '1 m' }, 'none-of-these']
			},
			/a scenario needs its "id": one of/
		],
		[
			'heights reversed',
			{
				inputs: good,
				observed: { found: [{ distance: '3 m' }] },
				scenarios: [{ id: 'parted-in-the-air', from: '600 m', to: '400 m' }, 'none-of-these']
			},
			/lower height must be less/
		],
		[
			'nothing observed',
			{ inputs: good, scenarios: ['parted-at-impact', 'none-of-these'] },
			/only with something observed/
		],
		['fraction of a seed', { inputs: good, seed: 1.5 }, /seed must be a whole number/],
		['too few samples', { inputs: good, samples: 3 }, /samples must be a whole number/]
	])('%s', (_, request, message) => {
		expect(refusal(request)).toMatch(message);
	});
});
