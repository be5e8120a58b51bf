/**
 * Words for scales that must not be mixed: how strongly evidence speaks, how probable a cause is, and how often
 * something happens.
 */

/** Upper edges of the bands of a likelihood ratio; an edge belongs to the band below it. */
const strengths: readonly [number, string][] = [
	[10, 'weak support'],
	[100, 'moderate support'],
	[1000, 'moderately strong support'],
	[10_000, 'strong support'],
	[1_000_000, 'very strong support'],
	[Infinity, 'extremely strong support']
];

/**
 * Words about the evidence for a likelihood ratio (not below 0). Below 1 they support the other side.
 * Source: ENFSI Guideline for Evaluative Reporting in Forensic Science (2015), bands as in two agreeing public
 * secondary texts; the guideline itself not read. Its edges overlap in print; here each belongs to the lower band.
 */
export function strengthOfEvidence(ratio: number): { words: string; supports: 'this' | 'other' | 'neither' } {
	if (!(ratio >= 0)) throw new RangeError(`a likelihood ratio is not below 0, got ${ratio}`);
	if (ratio === 1) return { words: 'no support either way', supports: 'neither' };
	const size = ratio > 1 ? ratio : 1 / ratio;
	const words = strengths.find(([edge]) => size <= edge)?.[1] ?? '';
	return { words, supports: ratio > 1 ? 'this' : 'other' };
}

/** Upper edges of the probability terms; an edge belongs to the term below it. */
const terms: readonly [number, string][] = [
	[0.05, 'almost no chance'],
	[0.2, 'very unlikely'],
	[0.45, 'unlikely'],
	[0.55, 'roughly even chance'],
	[0.8, 'likely'],
	[0.95, 'very likely'],
	[1, 'almost certain']
];

/**
 * Word for a probability; 0 and 1 are 'impossible' and 'certain'. About the cause, never about the evidence.
 * Source: U.S. ODNI, Intelligence Community Directive 203 (2015), seven terms, as in public secondary texts. The
 * directive starts at 1 % and ends at 99 %; here its outer terms reach to the ends.
 */
export function wordForProbability(p: number): string {
	if (!(p >= 0 && p <= 1)) throw new RangeError(`a probability lies between 0 and 1, got ${p}`);
	if (p === 0) return 'impossible';
	if (p === 1) return 'certain';
	return terms.find(([edge]) => p <= edge)?.[1] ?? '';
}

/**
 * How often, in words; the numbers stand beside them and can be overridden. Our own scale: common practice, no source.
 */
export const HOW_OFTEN: readonly { p: number; words: string; number: string }[] = [
	{ p: 0.001, words: 'hardly ever', number: '1 in 1000' },
	{ p: 0.01, words: 'rarely', number: '1 %' },
	{ p: 0.05, words: 'seldom', number: '5 %' },
	{ p: 0.1, words: 'now and then', number: '10 %' },
	{ p: 0.3, words: 'sometimes', number: '30 %' },
	{ p: 0.5, words: 'as often as not', number: '50 %' },
	{ p: 0.7, words: 'more often than not', number: '70 %' },
	{ p: 0.9, words: 'mostly', number: '90 %' },
	{ p: 0.99, words: 'always', number: '99 %' }
];
