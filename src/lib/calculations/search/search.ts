import { defineCalculation, type Output } from '../calculation';
import { answer, figure, warningsOf } from './answer';
import { evidence } from './evidence';
import { isPlaced, isUnreadable } from './bearings';
import { ELSEWHERE, groundOf, namesOf, segmentOf } from './ground';
import { INPUTS, type Inputs } from './inputs';

const probability = (id: string, label: string): Output => ({ id, label, dimension: 'ratio', unit: '%' });

/** Which search is of no segment that there is. */
function nowhere(x: Inputs): string | undefined {
	for (const [i, search] of x.searches.entries()) {
		const row = `search ${i + 1}`;
		if (segmentOf(x, search) < 0)
			return search.segment === undefined
				? `${row}: say which segment was searched`
				: `${row}: no segment is called "${search.segment}"; there are ${namesOf(x).join(', ')}`;
	}
	return undefined;
}

export const search = defineCalculation({
	id: 'search',
	title: 'Where to search next',
	question:
		'Where may it still lie after these searches found nothing, and where does the next hour find it most probably?',
	version: 1,
	inputs: INPUTS,
	outputs: [
		{ ...probability('gain', 'Found by the next search, all of it there'), main: true },
		{ ...probability('after', 'Probability that it lies there now'), main: true },
		probability('stated', 'By its weight alone'),
		probability('before', 'Before the searches'),
		probability('searched', 'Would have been found there'),
		probability('success', 'Would have been found by the searches so far'),
		{ id: 'time', label: 'Time there, divided best', dimension: 'time', unit: 'h' },
		probability('together', 'Found with the time divided best')
	],
	sources: [
		{
			text: 'Cooper and Frost: coverage, sweep width, probability of area, detection, success',
			basis: 'seen'
		},
		{
			text: 'Koopman, Search and Screening, 1946: random search, inverse-cube law, best division of effort',
			basis: 'from memory'
		},
		{ text: 'Bayes’ rule after a search without a find, as in two public tutorials', basis: 'seen' },
		{ text: 'Bayes’ rule for bearings; von Mises density of a direction', basis: 'from memory' },
		{
			text: 'Spreads, speeds, one bearing in ten of something else, and the shares hidden and elsewhere',
			basis: 'common practice, no source'
		}
	],
	docs: 'methods/search.md',
	cautions: [
		'Whoever finds it looks and reports, and touches nothing: every unfired charge, igniter and damaged cell counts as live until a competent person has made it safe.',
		'Do not fetch it from power lines or any other place that threatens life (NFPA 1122-2002, 4.18, seen in part), nor from ground whose owner has not agreed. Local rules and the range officer prevail.'
	],
	check(x) {
		const names = namesOf(x).map((name) => name.toLowerCase());
		const twice = names.findIndex((name, i) => names.indexOf(name) < i);
		if (twice >= 0) return `two segments are called ${namesOf(x)[twice]}; give each its own name`;
		if (names.includes(ELSEWHERE.toLowerCase()))
			return `"${ELSEWHERE}" is every place outside the segments; give the segment another name`;
		if (!x.segments.some((s) => s.weight > 0)) return 'at least one segment needs a weight above zero';
		const unreadable = x.segments.findIndex(isUnreadable);
		if (unreadable >= 0)
			return `${namesOf(x)[unreadable]}: its places do not read; write metres east and north of the pad, such as 120 -40, 130 -35`;
		if (x.bearings.length && !x.segments.some(isPlaced))
			return 'the bearings need to know where segments lie: give at least one the distance and the direction of its middle from the pad, or places in it';
		const half = x.segments.findIndex((s) => (s.away === undefined) !== (s.toward === undefined));
		if (half >= 0)
			return `${namesOf(x)[half]}: its middle needs both a distance and a direction from the pad, or neither`;
		return nowhere(x);
	},
	model(x) {
		const { stated, before, after, searched, success, gain, division } = groundOf(x);
		const names = namesOf(x);
		const each = (values: readonly number[]) =>
			Object.fromEntries(values.map((value, i) => [names[i] ?? ELSEWHERE, value]));
		return {
			gain: each(gain),
			after: each(after),
			...(x.bearings.length ? { stated: each(stated) } : {}),
			...(x.searches.length ? { before: each(before), searched: each(searched), success } : {}),
			time: each(division.hours),
			together: division.success
		};
	},
	limits: warningsOf,
	evidence,
	addition: answer,
	figure
});
