import { describe, expect, it } from 'vitest';
import { mostDamaging } from '$lib/components/argument/refute';

const outcome = (
	id: string,
	state: 'present' | 'absent' | 'notExamined',
	ifPresent: number | null,
	ifAbsent: number | null
) => ({ id, state, ifPresent, ifAbsent, probabilityPresent: 0.4 });

describe('what would refute a cause', () => {
	it('comes first where it would bring the cause lowest, looked for or not', () => {
		const found = mostDamaging(
			[
				outcome('mild', 'notExamined', 0.8, 0.5),
				outcome('stood', 'present', 0.7, 0.05),
				outcome('worst', 'notExamined', 0.01, 0.8)
			],
			0.7
		);
		expect(found).toEqual([
			{ id: 'worst', bad: 'present', to: 0.01, otherwise: 0.8, probability: 0.4, looked: null },
			{ id: 'stood', bad: 'absent', to: 0.05, otherwise: 0.7, probability: 0.6, looked: 'present' },
			{ id: 'mild', bad: 'absent', to: 0.5, otherwise: 0.8, probability: 0.6, looked: null }
		]);
	});
	it('leaves out what changes the odds by less than a deciban, however near to certain the cause is', () => {
		expect(mostDamaging([outcome('idle', 'notExamined', 0.7, 0.69)], 0.7)).toEqual([]);
		expect(mostDamaging([outcome('far', 'notExamined', 0.9999, 0.999)], 0.9995)).toHaveLength(1);
	});
	it('an outcome that cannot be counts for nothing', () => {
		expect(mostDamaging([outcome('sure', 'present', 0.6, null)], 0.6)).toEqual([]);
	});
});
