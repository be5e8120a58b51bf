import { describe, expect, it } from 'vitest';
import { reconcileReadings } from '$lib/calculations/reconcile-readings/reconcile-readings';
import { readResult } from '$lib/investigation/schema/calculation-result';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';

type Rows = Record<string, string>[];
const ask = (readings: Rows, rest: Partial<Request> = {}) =>
	runCalculation(reconcileReadings, { inputs: {}, observed: { readings }, samples: 50, ...rest });
function run(readings: Rows, rest: Partial<Request> = {}): CalculationResult {
	const r = ask(readings, rest);
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
}
const row = (name: string, value: string, rest: Record<string, string> = {}) => ({ name, value, ...rest });
const loggers = [row('Logger A', '812 ± 8 m'), row('Logger B', '641 ± 8 m')];
const prediction = row('Prediction', '790 ± 60 m', { wrong: '10 %' });

describe('which of two altitudes is true', () => {
	it('two alone cannot tell, and no mean of them is given as the answer', () => {
		const r = run(loggers);
		expect(r.statements[0]).toMatch(/do not agree, and which of them is wrong they cannot tell/);
		expect(r.statements.join(' ')).toMatch(/two answers: 812.0 ± 8.0\sm.*or 641.0 ± 8.0\sm/);
		const [a, b] = r.likelihoods!;
		expect(a!.density).toBeCloseTo(b!.density, 6);
		expect(Object.keys(r.outputs)).not.toContain('value');
	});
	it('with an independent prediction as one more reading they can', () => {
		const r = run([...loggers, prediction]);
		expect(r.statements[0]).toMatch(/^The readings do not agree, and Logger B is probably wrong:/);
		expect(r.outputs['wrong of Logger B']!.nominal).toBeGreaterThan(0.9);
		expect(r.likelihoods!.map((l) => l.label)).toEqual([
			'Logger A is wrong',
			'Logger B is wrong',
			'Prediction is wrong',
			'All are right',
			'None of these'
		]);
		const best = r.likelihoods!.reduce((a, b) => (b.density > a.density ? b : a));
		expect(best.label).toBe('Logger B is wrong');
		expect(best.standardError).toBe(0);
		expect(best.words).toMatch(
			/^Logger B is wrong: the 2 others would scatter this much or more in 72 of 100/
		);
	});
	it('where each is far more probably right than wrong it says so, though they scatter much', () => {
		// (110 − 100)²/(3² + 4²) = 4 with one degree of freedom: 4.6 of 100.
		const r = run([row('A', '100 ± 3 m'), row('B', '110 ± 4 m')]);
		expect(r.statements[0]).toMatch(
			/^The readings differ more than most right ones do, but with 8\d\u202f% probability both are right: 103\.6 ± 2\.4\sm: .* 4\.6 of 100/
		);
		expect(r.outputs['wrong of A']!.nominal).toBeLessThan(0.1);
		expect(r.figure!.title).toMatch(/both are right/);
	});
	it('nothing is dropped or averaged away in silence', () => {
		const r = run([...loggers, prediction]);
		expect(r.statements.join(' ')).toMatch(/no reading is thrown out/);
		expect(r.warnings.join(' ')).toMatch(/Do not quote the weighted mean as agreed.*screening test only/);
		expect(r.warnings.join(' ')).toMatch(/Logger B stands out .*It is kept/);
	});
	it('what a left-out scenario covered falls to none of these', () => {
		const [full, part] = [undefined, ['reading-1-wrong', 'none-of-these']].map(
			(scenarios) => run([...loggers, prediction], scenarios ? { scenarios } : {}).likelihoods!
		);
		expect(part).toHaveLength(2);
		expect(part![0]!.density).toBeCloseTo(full![0]!.density, 12);
		expect(part![1]!.density).not.toBeCloseTo(full!.at(-1)!.density, 3);
	});
});

describe('readings that agree', () => {
	const close = [row('A', '100 ± 3 m'), row('B', '101 ± 3 m'), row('C', '99.5 ± 4 m')];
	it('are given together, and close agreement does not make them surer', () => {
		const r = run(close);
		expect(r.statements[0]).toMatch(/^The readings agree on 100.3 ± 1.9\sm/);
		const { low90, high90, nominal } = r.outputs['weightedMean']!;
		expect(high90 - nominal!).toBeCloseTo(1.6449 * (3 ** -2 + 3 ** -2 + 4 ** -2) ** -0.5, 3);
		expect(nominal! - low90).toBeCloseTo(high90 - nominal!, 9);
		expect(r.likelihoods!.reduce((a, b) => (b.density > a.density ? b : a)).label).toBe('All are right');
	});
	it('agreement too good is warned of', () => {
		const r = run([row('A', '100 ± 30 m'), row('B', '101 ± 30 m'), row('C', '99.5 ± 40 m')]);
		expect(r.warnings.join(' ')).toMatch(/agree better than their uncertainties.*not made smaller/);
	});
	it('two say that they have no power; half of them equal leaves no modified z', () => {
		expect(run([row('A', '5 ± 1 m'), row('B', '5.5 ± 1 m')]).warnings.join(' ')).toMatch(
			/almost no power.*independent reading or prediction/
		);
		const r = run([row('A', '5 ± 1 m'), row('B', '5 ± 1 m'), row('C', '6 ± 1 m')]);
		expect(r.warnings.join(' ')).toMatch(/Half of the readings are equal/);
		expect(Object.keys(r.outputs).some((k) => k.startsWith('modifiedZ'))).toBe(false);
	});
});

describe('a shared error', () => {
	const shared = { errors: 'shared', shares: 'air temperature', shared: '28 m' };
	const rows = [row('A', '800 ± 30 m', shared), row('B', '804 ± 30 m', shared)];
	it('counts once', () => {
		const [as, apart] = [run(rows), run(rows.map(({ name, value }) => ({ name, value })) as Rows)].map(
			(r) => r.outputs['weightedMean']!.high90 - r.outputs['weightedMean']!.nominal!
		);
		// √((30² + 28²)/2) against 30/√2.
		expect(as).toBeCloseTo(1.64485 * Math.sqrt((900 + 784) / 2), 2);
		expect(apart).toBeCloseTo((1.64485 * 30) / Math.SQRT2, 2);
		expect(run(rows).statements.join(' ')).toMatch(
			/known to ± 29\sm. As separate readings they would seem known to ± 21\sm, while that mean would really be off by ± 29\sm/
		);
	});
	it('where none is named, that they are taken as independent is warned of', () => {
		expect(run(loggers).warnings.join(' ')).toMatch(/taken as independent.*same air temperature/);
		expect(run(rows).warnings.join(' ')).not.toMatch(/taken as independent/);
	});
	it('a negative weight is warned of', () => {
		const r = run([
			row('A', '10 ± 1 m', { errors: 'shared', shares: 'e', shared: '0.95 m' }),
			row('B', '11 ± 3 m', { errors: 'shared', shares: 'e', shared: '2.9 m' })
		]);
		expect(r.warnings.join(' ')).toMatch(/B gets a negative weight/);
	});
});

describe('any kind of value', () => {
	it('temperatures, in whatever unit, with a shared error as a difference', () => {
		const r = run(
			[
				row('Shade', '20 ± 1 °C', { errors: 'shared', shares: 'sun', shared: '0.5 K' }),
				row('Box', '68.5 ± 2 °F', { errors: 'shared', shares: 'sun', shared: '0.9 °F' })
			],
			{ inputs: { kind: 'temperature' } }
		);
		expect(r.outputs['weightedMean']).toMatchObject({ dimension: 'temperature', unit: '°C' });
		expect(r.statements[0]).toMatch(/20.\d+ ± 0.\d+\s°C/);
		expect(r.figure!.x.unit).toBe('°C');
	});
	it('a length where a time is asked for is refused at its place', () => {
		const r = ask(loggers, { inputs: { kind: 'time' } });
		expect(r.ok ? 'accepted' : `${r.error.path}: ${r.error.message}`).toMatch(
			/^observed.readings.1.value: .*is a length; a time is needed/
		);
	});
});

it('is kept and read back with its figure', () => {
	const kept = readResult(JSON.parse(JSON.stringify(run([...loggers, prediction]))));
	expect(kept?.figure?.layers.map((l) => l.kind)).toEqual(['rule', 'rule', 'rows']);
	expect(kept?.likelihoods).toHaveLength(5);
});

describe('the figure', () => {
	it('has a row for each reading with its probability of being wrong, and a rule for each answer', () => {
		const { figure } = run([...loggers, prediction]);
		expect(figure!.title).toMatch(/Logger B is probably wrong$/);
		const rows = figure!.layers.find((l) => l.kind === 'rows')!;
		expect(rows.kind === 'rows' && rows.rows.map((r) => r.note)).toEqual([
			'wrong: 7\u202f%',
			'wrong: 94\u202f%',
			'wrong: 3\u202f%'
		]);
		expect(figure!.layers.filter((l) => l.kind === 'rule').map((l) => l.label)).toEqual([
			'94\u202f%',
			'6\u202f%'
		]);
	});
});

describe('refuses', () => {
	it.each<[string, Rows, Record<string, unknown>, RegExp]>([
		['nothing to compare', [], {}, /at least 2 readings are needed/],
		[
			'a reading without its plus-minus',
			[row('A', '5 m'), row('B', '6 ± 1 m')],
			{},
			/A: no reading is known/
		],
		['two of one name', [row('A', '5 ± 1 m'), row('a', '6 ± 1 m')], {}, /give each its own name/],
		[
			'a shared error without its size',
			[row('A', '5 ± 1 m', { errors: 'shared', shares: 'e' }), row('B', '6 ± 1 m')],
			{},
			/how much of its plus-minus is that error is missing/
		],
		[
			'a shared error without its name',
			[row('A', '5 ± 1 m', { errors: 'shared', shared: '0.5 m' }), row('B', '6 ± 1 m')],
			{},
			/name the error that it shares/
		],
		[
			'a shared error that nobody shares',
			[row('A', '5 ± 1 m', { errors: 'shared', shares: 'e', shared: '0.5 m' }), row('B', '6 ± 1 m')],
			{},
			/no other reading shares an error called "e"/
		],
		[
			'a shared error as large as the whole',
			[row('A', '5 ± 1 m', { errors: 'shared', shares: 'e', shared: '1 m' }), row('B', '6 ± 1 m')],
			{},
			/less than the whole plus-minus/
		],
		['directions across north', [row('A', '359 ± 2°'), row('B', '1 ± 2°')], { kind: 'angle' }, /359° as −1°/],
		['a range the wrong way', loggers, { least: '900 m', greatest: '100 m' }, /must be below the greatest/],
		['a reading beyond the range', loggers, { least: '700 m' }, /Logger B lies outside.*widen/],
		['certainty', [row('A', '5 ± 1 m', { wrong: '100 %' }), row('B', '6 ± 1 m')], {}, /at most/]
	])('%s', (_, readings, inputs, message) => {
		const r = ask(readings, { inputs });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
	it('a scenario of a reading that is not there', () => {
		const r = ask(loggers, { scenarios: ['reading-3-wrong', 'none-of-these'] });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(/only 2 readings/);
	});
});
