import { describe, expect, it } from 'vitest';
import { fallSeparation } from '$lib/calculations/fall-separation/fall-separation';
import { CALCULATIONS } from '$lib/calculations/registry';
import { main } from '../../../src/cli/calculate';
import { pieces, wind } from './example';

const run = (id: string, input: unknown) =>
	main([id, '-'], () => (typeof input === 'string' ? input : JSON.stringify(input)));
const good = { pieces, wind, releaseHeight: { value: 600, unit: 'm', plusMinus: 20 }, samples: 200 };

describe('calculate list', () => {
	it('describes every calculation: inputs with unit and default, outputs, sources', () => {
		const { exitCode, stdout } = main(['list'], () => '');
		const list = JSON.parse(stdout) as {
			id: string;
			inputs: { id: string; required: boolean }[];
			outputs: unknown[];
			sources: unknown[];
		}[];
		expect(exitCode).toBe(0);
		expect(list.map((c) => c.id)).toEqual(CALCULATIONS.map((c) => c.id));
		for (const c of list) {
			expect(c.inputs.length * c.outputs.length * c.sources.length).toBeGreaterThan(0);
			for (const input of c.inputs) expect(typeof input.required).toBe('boolean');
		}
		const turn = list.find(({ id }) => id === 'fall-separation')!.inputs.find((i) => i.id === 'windTurn');
		expect(turn).toMatchObject({
			kind: 'quantity',
			dimension: 'angle',
			unit: '°',
			required: false,
			default: { text: '0 ± 15 °' }
		});
	});
	it('states each range in the unit beside it', () => {
		const { stdout } = main(['list'], () => '');
		const list = JSON.parse(stdout) as {
			id: string;
			inputs: { id: string; unit: string; range?: object }[];
		}[];
		const inputsOf = (calculation: string) =>
			Object.fromEntries(
				list.find(({ id }) => id === calculation)!.inputs.map(({ id, unit, range }) => [id, { unit, range }])
			);
		const [separation, footprint] = ['fall-separation', 'landing-footprint'].map(inputsOf);
		expect(footprint!['heading']).toEqual({ unit: '°', range: { min: -360, max: 720 } });
		expect(footprint!['apogeeHeight']).toEqual({ unit: 'm', range: { above: 0, max: 30_000 } });
		// 220 K and 330 K less 273.15, worked by hand.
		expect(separation!['siteTemperature']).toEqual({ unit: '°C', range: { min: -53.15, max: 56.85 } });
	});
});

describe('calculate <id>', () => {
	it('reads a file that begins with the mark of its byte order', () => {
		expect(run('fall-separation', `\uFEFF${JSON.stringify(good)}`).stderr).toBe('');
	});
	it('gives value, unit, median, interval, warnings, sources, seed and version', () => {
		const { exitCode, stdout, stderr } = run('fall-separation', good);
		expect([exitCode, stderr]).toEqual([0, '']);
		const r = JSON.parse(stdout) as Record<string, unknown> & {
			outputs: Record<string, { value: number; unit: string; median: number; interval90: number[] }>;
		};
		expect(r).toMatchObject({
			calculation: 'fall-separation',
			version: fallSeparation.version,
			seed: 1,
			samples: 200
		});
		const d = r.outputs['distance of Bulkhead']!;
		expect(d.unit).toBe('m');
		expect(d.interval90[0]).toBeLessThan(d.median);
		expect(d.interval90[1]).toBeGreaterThan(d.median);
		expect(Array.isArray(r['warnings']) && Array.isArray(r['sources'])).toBe(true);
	});
	it('takes inputs within "inputs" as well, and repeats every digit', () => {
		const { samples, ...inputs } = good;
		expect(run('fall-separation', { inputs, samples }).stdout).toBe(run('fall-separation', good).stdout);
	});
	it('gives likelihoods when something was observed', () => {
		const { stdout } = run('fall-separation', {
			...good,
			highestParting: '900 m',
			observed: { found: [{ distance: '12 ± 2 ft' }] },
			scenarios: ['parted-at-impact', 'none-of-these']
		});
		const r = JSON.parse(stdout) as {
			likelihoods: { id: string; density: number; standardError: number; words: string }[];
		};
		expect(r.likelihoods.map((l) => l.id)).toEqual(['parted-at-impact', 'none-of-these']);
		for (const l of r.likelihoods) expect(l.density).toBeGreaterThan(0);
	});
	it.each<[string, string[], string, RegExp]>([
		['no arguments', [], '', /^calculate: write calculate list, or calculate <id>/],
		[
			'an unknown calculation',
			['lift', '-'],
			'{}',
			/there is no calculation "lift"; there are search, landing-footprint, fall-separation/
		],
		['no file', ['fall-separation'], '', /the inputs are missing/],
		['half a file', ['fall-separation', '-'], '{"pieces":', /the input is not JSON/],
		['a list', ['fall-separation', '-'], '[]', /must be a JSON object/],
		['nothing', ['fall-separation', '-'], '{}', /^calculate: pieces: Pieces: at least 2 pieces are needed/],
		['a stranger', ['fall-separation', '-'], '{"hight":"5 m"}', /hight: there is no input "hight"/],
		[
			'a stray beside inputs',
			['fall-separation', '-'],
			'{"inputs":{},"wind":[]}',
			/"wind" stands beside "inputs"/
		],
		[
			'a seed beyond what a number holds',
			['fall-separation', '-'],
			'{"seed":1e300}',
			/seed must be a whole number/
		],
		['a seed in words', ['fall-separation', '-'], '{"seed":"one"}', /"seed" must be a number/],
		['observed in words', ['fall-separation', '-'], '{"observed":"near"}', /"observed" must be an object/]
	])('%s: exit 2 and one line', (_, argv, input, message) => {
		const { exitCode, stdout, stderr } = main(argv, () => input);
		expect([exitCode, stdout]).toEqual([2, '']);
		expect(stderr).toMatch(message);
		expect(stderr.trimEnd()).not.toContain('\n');
	});
	it('says which file cannot be read', () => {
		const { stderr } = main(['fall-separation', 'a.json'], () => {
			throw new Error('no such file');
		});
		expect(stderr).toBe('calculate: a.json can’t be read: no such file\n');
	});
});
