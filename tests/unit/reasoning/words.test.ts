import { describe, expect, it } from 'vitest';
import { decibans, strengthOfEvidence, wordForProbability } from '$lib/reasoning';

describe('Strength of evidence (bands of the ENFSI guideline 2015, as in two agreeing public secondary texts)', () => {
	it.each([
		[1, 'no support either way', 'neither'],
		[1.0001, 'weak support', 'this'],
		[10, 'weak support', 'this'],
		[10.0001, 'moderate support', 'this'],
		[100, 'moderate support', 'this'],
		[100.01, 'moderately strong support', 'this'],
		[1000, 'moderately strong support', 'this'],
		[1000.1, 'strong support', 'this'],
		[10_000, 'strong support', 'this'],
		[10_001, 'very strong support', 'this'],
		[1_000_000, 'very strong support', 'this'],
		[1_000_001, 'extremely strong support', 'this'],
		[Infinity, 'extremely strong support', 'this'],
		[0.1, 'weak support', 'other'],
		[0.05, 'moderate support', 'other'],
		[0, 'extremely strong support', 'other']
	])('a ratio of %f', (ratio, words, supports) => {
		expect(strengthOfEvidence(ratio)).toEqual({ words, supports });
	});
	it('at each edge and on both sides of it, for and against', () => {
		const bands = ['weak', 'moderate', 'moderately strong', 'strong', 'very strong', 'extremely strong'];
		[10, 100, 1000, 10_000, 1_000_000].forEach((edge, i) => {
			const word = (ratio: number) => strengthOfEvidence(ratio).words;
			expect([word(edge * (1 - 1e-9)), word(edge), word(edge * (1 + 1e-9))]).toEqual(
				[i, i, i + 1].map((band) => `${bands[band]} support`)
			);
			expect([word((1 + 1e-9) / edge), word((1 - 1e-9) / edge)]).toEqual(
				[i, i + 1].map((band) => `${bands[band]} support`)
			);
		});
	});
	it('takes no nonsense', () => {
		expect(() => strengthOfEvidence(-1)).toThrow(RangeError);
		expect(() => strengthOfEvidence(NaN)).toThrow(RangeError);
	});
	it('decibans (Good, from memory): ratio 20 is 13.01, ratio 2 is 3.01', () => {
		const after = (ratio: number) => (0.3 * ratio) / (0.7 + 0.3 * ratio);
		expect(decibans(after(20), 0.3)).toBeCloseTo(13.010299956639813, 12);
		expect(decibans(after(2), 0.3)).toBeCloseTo(3.010299956639812, 12);
		expect(decibans(1, 1)).toBe(0);
		expect(decibans(1, 0.5)).toBe(Infinity);
	});
});

describe('Probability words (ICD 203, seen in public secondary texts)', () => {
	it.each([
		[0, 'impossible'],
		[0.001, 'almost no chance'],
		[0.05, 'almost no chance'],
		[0.0501, 'very unlikely'],
		[0.2, 'very unlikely'],
		[0.201, 'unlikely'],
		[0.45, 'unlikely'],
		[0.4501, 'roughly even chance'],
		[0.55, 'roughly even chance'],
		[0.551, 'likely'],
		[0.8, 'likely'],
		[0.801, 'very likely'],
		[0.95, 'very likely'],
		[0.951, 'almost certain'],
		[1, 'certain']
	])('%f', (p, word) => {
		expect(wordForProbability(p)).toBe(word);
	});
	it('takes no nonsense', () => {
		expect(() => wordForProbability(1.01)).toThrow(RangeError);
		expect(() => wordForProbability(NaN)).toThrow(RangeError);
	});
});
