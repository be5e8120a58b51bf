import { describe, expect, it } from 'vitest';
import {
	percent,
	percentRange,
	percentSampled,
	percents,
	percentWithin,
	plusMinus,
	typedApart,
	typedProbability
} from '$lib/quantity/percent';

/** The thin space between number and unit, which stays, as a plain one. */
const plain = (text: string) => text.replaceAll('\u202F', ' ');

describe('a computed probability', () => {
	it.each([
		[0, '0 %'],
		[1e-12, '<0.1 %'],
		[0.0004, '<0.1 %'],
		[0.001, '0.1 %'],
		[0.00421, '0.4 %'],
		[0.0099, '1 %'],
		[0.052, '5 %'],
		[0.632, '63 %'],
		[0.99, '99 %'],
		[0.9958, '99.6 %'],
		[0.999, '99.9 %'],
		[0.9996, '>99.9 %'],
		[1 - 1e-12, '>99.9 %'],
		[1, '100 %'],
		[null, '–'],
		[NaN, '–']
	])('%s reads %s', (p, words) => expect(plain(percent(p))).toBe(words));

	it('says 0 or 100 % of nothing but what is certain, from one hundred-thousandth to the next', () => {
		for (let p = 1; p < 1e5; p++) expect(percent(p / 1e5)).not.toMatch(/^(0|100).%$/);
	});
});

describe('probabilities that are compared', () => {
	it.each([
		[[0.41, 0.63], '41 %, 63 %'],
		[[0.412, 0.4139], '41.2 %, 41.4 %'],
		[[0.41201, 0.41204], '41 %, 41 %'],
		[[0.9997, 0.999975], '99.97 %, 99.9975 %'],
		[[0.0003, 0.00052], '0.03 %, 0.052 %'],
		[[1 - 1e-9, 1 - 1e-12], '>99.9 %, >99.9 %'],
		[[0.999999, 1], '>99.9 %, 100 %'],
		[[0.19, 0.1904], '19 %, 19.04 %'],
		[[0.2, 0.2, null], '20 %, 20 %, –']
	] as [(number | null)[], string][])('%s read %s', (compared, words) =>
		expect(plain(percents(compared).join(', '))).toBe(words)
	);

	it('are an interval only where its ends are told apart', () => {
		expect(plain(percentRange(0.412, 0.4139))).toBe('41.2 to 41.4 %');
		expect(plain(percentRange(0.41201, 0.41204))).toBe('41 %');
		expect(plain(percentRange(1 - 1e-9, 1 - 1e-12))).toBe('>99.9 %');
		expect(plain(percentRange(0.8029, 0.8032))).toBe('80 %');
		expect(plain(percentRange(0.0003, 0.0005))).toBe('0.03 to 0.05 %');
		expect(plain(percentRange(0.004, 0.012))).toBe('0.4 to 1.2 %');
		expect(plain(percentRange(0.9, 0.99997))).toBe('90 to >99 %');
	});
	it('a number and its interval go to the same digits, and never backwards', () => {
		expect(plain(percentWithin(0.9961, [0.9954, 0.9963]))).toBe('99.61 % (99.54 to 99.63 %)');
		expect(plain(percentWithin(0.141, [0.1398, 0.1421]))).toBe('14.1 % (14.0 to 14.2 %)');
		expect(plain(percentWithin(0.0052, [0.005, 0.005344]))).toBe('0.52 % (0.50 to 0.53 %)');
		expect(plain(percentWithin(0.9613, [0.9612, 0.9614]))).toBe('96 %');
		expect(plain(percentWithin(0.41, [0.41, 0.41]))).toBe('41 %');
	});
});

describe('a probability as typed', () => {
	it.each([
		[0.2, '20 %'],
		[0.065, '6.5 %'],
		[0.0005, '1 in 2000'],
		[1 / 84_000, '1 in 84 000'],
		[0.99999, '99.999 %'],
		[0.995, '99.5 %'],
		[0.999962386527, '99.996239 %'],
		[1 - 1e-9, '>99.9 %'],
		[1, '100 %'],
		[0, '0 %']
	])('%s reads %s', (p, words) => expect(plain(typedProbability(p))).toBe(words));

	it('two worked out from such get more figures where two hide the difference', () => {
		expect(typedApart(0.184, 0.231).map(plain)).toEqual(['18 %', '23 %']);
		expect(typedApart(0.03, 0.999214778564).map(plain)).toEqual(['3 %', '99.921 %']);
		expect(typedApart(0.1841, 0.1837).map(plain)).toEqual(['18.41 %', '18.37 %']);
	});
});

it('a standard error stands after it where it was sampled', () =>
	expect([undefined, 0.0034, 0.00001].map(plusMinus).map(plain)).toEqual(['', ' ± 0.3 %', ' ± 0.01 %']));

it('a sampled number goes to the digits of its error, and is never certain', () =>
	expect(
		[
			[0.632, 0.0034],
			[0.632, 0.011],
			[0.9997, 0.01],
			[0.9997, 0.003],
			[0.0004, 0.01],
			[0.63, undefined]
		].map(([p, error]) => plain(percentSampled(p, error)))
	).toEqual(['63.2 % ± 0.3 %', '63 % ± 1 %', '>99 % ± 1 %', '>99.9 % ± 0.3 %', '<1 % ± 1 %', '63 %']));
