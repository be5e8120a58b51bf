import { describe, expect, it } from 'vitest';
import { openingLoad } from '$lib/calculations/opening-load/opening-load';
import { runCalculation } from '$lib/calculations/run';
import { tetherLoad } from '$lib/calculations/tether-load/tether-load';
import { figuresOf, told } from '$lib/calculations/told';
import { printedOutput } from '$lib/report/result';

const newtons = (nominal: number, median: number, low90: number, high90: number) =>
	({ dimension: 'force', unit: 'N', nominal, median, low90, high90 }) as const;
const plain = (text: string) => text.replace(/\u202f/g, ' ');

describe('a result in words', () => {
	it('has no more figures than its spread lets mean something', () => {
		const { range, value } = figuresOf(newtons(15_899, 15_900, 8662, 27_215));
		expect(plain(range)).toBe('9000 N to 27 000 N');
		expect(plain(value(15_899))).toBe('15 900 N');
		expect(plain(figuresOf(newtons(885, 884, 822, 953)).range)).toBe('820 N to 950 N');
		expect(plain(figuresOf(newtons(2.1, 2.1, 0.0122, 4.45)).range)).toBe('0.0 N to 4.5 N');
	});
	it('without a spread it has three, and no range', () => {
		expect(plain(figuresOf(newtons(0.0621, 0.0621, 0.0621, 0.0621)).value(0.0621))).toBe('0.0621 N');
		expect(figuresOf(newtons(5, 5, 5, 5)).range).toBe('');
	});
	it('tells one number where the median says the same, else both by name', () => {
		expect(plain(told(newtons(885, 884, 820, 950)))).toBe('885 N');
		expect(plain(told(newtons(1451, 1440, 1050, 1900)))).toBe('1451 N');
		expect(plain(told(newtons(1644, 7233, 400, 16_000)))).toBe('1600 N as stated (median 7200 N)');
	});
});

describe.each([
	[
		tetherLoad,
		{ speed: '15 m/s', massA: '9 kg', massB: '1 kg', length: '5 m', lineStrength: '9 kN' },
		'force'
	],
	[openingLoad, { mass: '10 kg', diameter: '3 m', speed: '20 ± 2 m/s' }, 'load']
] as const)('%#: headline, figure and numbers', (calculation, inputs, id) => {
	it('say one number, that of the values as stated', () => {
		const r = runCalculation(calculation, { inputs, samples: 2000 });
		if (!r.ok) throw new Error(r.error.message);
		const output = r.value.outputs[id]!;
		expect(r.value.figure!.title).toContain(`about ${told(output)}`);
		expect(printedOutput(output).told).toBe(told(output));
		const points = r.value.figure!.layers.filter(({ kind }) => kind === 'point');
		expect(points).toMatchObject([{ y: output.nominal }]);
	});
});
