import { expect, test } from 'vitest';
import { missingFor } from '$lib/components/argument/named-calculations';
import { CalculationCase } from '../investigation/calculation-case';

test('a calculation not run yet says what it lacks that the case does not know, or that it lacks nothing', () => {
	const { file } = new CalculationCase();
	expect(missingFor(file, 'descent')).toContain('type a mass');
	// All that goes in is known or assumed; only what was heard is to be said.
	expect(missingFor(file, 'sound-and-light')).toBeNull();
});
