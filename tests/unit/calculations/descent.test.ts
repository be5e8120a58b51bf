import { describe, expect, it } from 'vitest';
import { descent } from '$lib/calculations/descent/descent';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';

const canopy = { mass: '5 kg', dragArea: '2 m²' };
function run(inputs: Request['inputs'], rest: Partial<Request> = {}): CalculationResult {
	const r = runCalculation(descent, { inputs: { ...canopy, ...inputs }, ...rest });
	if (!r.ok) throw new Error(r.error.message);
	return r.value;
}
const refusal = (inputs: Request['inputs']) => {
	const r = runCalculation(descent, { inputs: { ...canopy, ...inputs } });
	return r.ok ? 'accepted' : r.error.message;
};

describe('a recorded rate and the scenarios', () => {
	const observed = { rate: '7 ± 0.5 m/s' };
	it('a rate typed for the implied area moves no likelihood, and drops no sample', () => {
		const without = run({}, { observed }).likelihoods!.map((l) => l.density);
		const slow = run({ recordedRate: '1.5 m/s' }, { observed });
		expect(slow.likelihoods!.map((l) => l.density)).toEqual(without);
		expect(slow.warnings.join(' ')).not.toMatch(/left out/);
		expect(slow.warnings.join(' ')).toMatch(/In \d+ of 100 trials.*sinking air alone.*no upper bound/);
	});
	it('says that two rates differ', () => {
		const both = (rate: string) => run({ recordedRate: '8 m/s' }, { observed: { rate } }).warnings.join(' ');
		expect(both('12 ± 0.5 m/s')).toMatch(/Two rates were typed that differ: 8\.0.m\/s .* 12.m\/s/);
		expect(both('8.2 ± 0.5 m/s')).not.toMatch(/Two rates/);
	});
	it('names the two rates apart', () => {
		const fields = [...descent.inputs, ...descent.evidence!.observed].map((f) => f.label);
		expect(new Set(fields).size).toBe(fields.length);
	});
});

it('more than was built is so many times as much, not so many of it', () => {
	expect(run({ recordedRate: '1.2 m/s', verticalAir: '0 ± 0 m/s' }).statements[0]).toMatch(
		/implies \d+ times the drag area as built/
	);
});

describe('rising and sinking air', () => {
	it.each([
		// (5/6)² and (5/4)²; (0.5/1.5)², and air that sinks faster than it came down; (8/9)² and (8/7)².
		['5 m/s', '0 m/s', /1 m\/s moves the drag area that 5\.0.m\/s implies by −31 to \+56 %/],
		['0.5 m/s', '0 m/s', /rising, it makes .* −89 %; sinking, it alone .* no upper bound/],
		['5 m/s', '3 m/s', /faster up or down moves .* by −21 to \+31 %/]
	])('what 1 m/s of air makes of %s in air of %s', (recordedRate, verticalAir, words) => {
		expect(run({ recordedRate, verticalAir }).warnings.join(' ')).toMatch(words);
	});
	it('an updraught that holds the canopy up leaves the implied area, and says that time and energy mean nothing', () => {
		const { outputs, warnings } = run({
			recordedRate: '5 m/s',
			verticalAir: '8 ± 1 m/s',
			fromHeight: '300 m'
		});
		// The area with which 5 kg sinks at 13 m/s: 2·5·9.80665/(1.225·169).
		expect(outputs['impliedArea']!.nominal).toBeCloseTo(0.4737, 3);
		expect(outputs['rate']!.nominal).toBeLessThan(0);
		expect(warnings.join(' ')).toMatch(/would not come down.*Time and energy of landing mean nothing/);
	});
	it('where only some samples are held up none is dropped, and that is said', () => {
		const { outputs, warnings } = run({ verticalAir: '5 ± 2 m/s', fromHeight: '300 m' });
		expect(warnings.join(' ')).not.toMatch(/left out/);
		expect(warnings.join(' ')).toMatch(/In \d+ of 100 trials.*rises as fast as the canopy sinks/);
		expect(outputs['rate']!.low90).toBeLessThan(0);
		expect(outputs['time']!.high90).toBeGreaterThan(10 * outputs['time']!.median);
	});
	it('refuses only what is impossible, and says what to do', () => {
		expect(refusal({ verticalAir: '9 m/s' })).toMatch(/would not come down. Give it a smaller upward motion/);
		expect(refusal({ recordedRate: '5 m/s', verticalAir: '-6 m/s' })).toMatch(/sinking air alone.*check/);
	});
});

describe('open, half open or not at all', () => {
	it('says so, with the interval and the parts of 100', () => {
		const { statements, outputs } = run({ recordedRate: '9 m/s' });
		expect(statements[0]).toMatch(
			/^9\.0.m\/s implies 0\.49 of the drag area as built \(0\.\d+ to 0\.\d+ in 90 of 100\)\./
		);
		expect(statements[0]).toMatch(/open to 0\.8 or more in .* partly \(from 0\.1\) in 9\d of 100/);
		expect(outputs['openShare']!.nominal).toBeCloseTo(0.494, 3);
	});
	it('warns of a drag coefficient on the mouth or the projected area (0.75 on the cloth is 1.671 there)', () => {
		const wrong = { dragArea: '', canopyDiameter: '3 m', dragCoefficient: '1.671' };
		expect(run(wrong).warnings.join(' ')).toMatch(/1\.67 is one on the open mouth .* 2\.2 times wrong/);
		expect(run({ ...wrong, dragCoefficient: '0.95' }).warnings.join(' ')).not.toMatch(/open mouth/);
	});
	it('warns of more than was built', () => {
		expect(run({ recordedRate: '1 m/s' }).warnings.join(' ')).toMatch(/40 times the drag area as built/);
		expect(run({ recordedRate: '6 m/s' }).warnings.join(' ')).not.toMatch(/times the drag area/);
	});
	it('draws the rate by share with the recorded one across it, and nothing without a canopy', () => {
		const { figure, outputs } = run({ recordedRate: '9 m/s' });
		expect(figure!.title).toMatch(/implies 0\.49 of the drag area as built/);
		const line = figure!.layers.find((l) => l.kind === 'line')!;
		expect(line.kind === 'line' && line.points.find(([x]) => x === 1)![1]).toBeCloseTo(
			outputs['rate']!.nominal!,
			9
		);
		expect(figure!.layers).toContainEqual({ kind: 'rule', axis: 'y', label: 'recorded', at: 9 });
		// What was recorded stands halfway up, not at the foot of rates that nobody asks about.
		expect(figure!.y.max).toBe(18);
		const bare = runCalculation(descent, { inputs: { mass: '5 kg', recordedRate: '9 m/s' } });
		expect(bare.ok && bare.value.figure).toBeUndefined();
	});
});
