import { formatSi } from '$lib/quantity/format';
import { percent, percents } from '$lib/quantity/percent';
import type { Addition, AdditionContext, FigureContext } from '../calculation';
import type { Figure } from '../figure';
import { isPlaced } from './bearings';
import { chanceOf, ELSEWHERE, groundOf, namesOf, segmentOf, type Ground } from './ground';
import type { Inputs } from './inputs';

const time = (s: number) =>
	s < 3600
		? formatSi(s, 'time', { unit: 'min', figures: 2 })
		: formatSi(s, 'time', { unit: 'h', figures: 2 });
const highest = (values: readonly number[]) => values.indexOf(Math.max(...values));

/** Where to look next, in sentences; how sure that is follows from the samples. */
export function* answer({ nominal: x, samples }: AdditionContext<Inputs>): Generator<void, Addition> {
	const ground = groundOf(x);
	const best = highest(ground.gain);
	let same = 0;
	for (const [i, sample] of samples.entries()) {
		if (highest(groundOf(sample).gain) === best) same++;
		if (i % 100 === 99) yield;
	}
	const names = namesOf(x);
	const others = ground.gain.map((g, i) => (i === best ? 0 : g));
	const second = highest(others);
	const [most, next] = percents([ground.gain[best]!, others[second]!]);
	const compared =
		names.length > 1
			? `, ${names[second]} with ${next}; it is the best place in ${Math.round((100 * same) / samples.length)} of 100 samples of what is uncertain`
			: '';
	return {
		statements: [
			`Search ${names[best]} next: ${time(x.hours)} there would find it with ${most} probability${compared}.`,
			...divided(ground, names),
			...pointed(x, ground, names),
			...sofar(x, ground, names)
		],
		series: { best }
	};
}

function divided({ division }: Ground, names: readonly string[]): string[] {
	const parts = names.flatMap((name, i) =>
		division.hours[i]! > 60 ? [`${name} ${time(division.hours[i]!)}`] : []
	);
	return parts.length < 2
		? []
		: [
				`Divided best, so that no place gains more by another minute: ${parts.join(', ')}; together ${percent(division.success)}.`
			];
}

const moves = (names: readonly string[], from: readonly number[], to: readonly number[]) =>
	[...names, ELSEWHERE.toLowerCase()]
		.map((name, i) => `${name} from ${percents([from[i]!, to[i]!]).join(' to ')}`)
		.join(', ');

/** What the bearings have done. */
function pointed(x: Inputs, { stated, before }: Ground, names: readonly string[]): string[] {
	if (x.bearings.length === 0) return [];
	const [subject, verb] = x.bearings.length === 1 ? ['The bearing', 'moves'] : ['The bearings', 'move'];
	return [`${subject} ${verb} ${moves(names, stated, before)}.`];
}

/** What the searches that found nothing have done. */
function sofar(x: Inputs, { before, after, success }: Ground, names: readonly string[]): string[] {
	if (x.searches.length === 0) return [];
	const repeated = names.flatMap((name, i) => {
		const chances = x.searches.filter((s) => segmentOf(x, s) === i).map((s) => chanceOf(s, x.segments[i]!));
		const sum = chances.reduce((s, c) => s + c, 0);
		return chances.length < 2
			? []
			: [
					`The ${chances.length} searches of ${name} see ${percent(1 - chances.reduce((p, c) => p * (1 - c), 1))} of what is in sight there, not the sum of ${percent(sum)}: the chances of missing it multiply.`
				];
	});
	return [
		`The searches so far would have found it with ${percent(success)} probability. That they did not moves ${moves(names, before, after)}.`,
		...repeated
	];
}

export function warningsOf(x: Inputs): string[] {
	const { after, searched } = groundOf(x);
	const names = namesOf(x);
	const object = x.object ?? 'this object';
	const out = [
		x.basis === 'measured'
			? `The sweep widths hold for ${object} on that ground and in that light only: a small fragment has a smaller one than a tube.`
			: `The sweep widths are not measured. Sweep width is neither twice the distance of sight nor how far one can see; the average distance at which it is first seen is a rough stand-in, and holds for ${object} on that ground only.`
	];
	if (x.hidden === 0)
		out.push(
			'Nothing is taken to be hidden from every search, so ground covered whole counts as cleared. Hardly any ground is so: things lie buried, under water, up a tree.'
		);
	if (x.elsewhere === 0)
		out.push(
			'Nothing is left for the rest of the world: it is taken as certain that it lies in one of these segments. Hardly ever is that known.'
		);
	const unplaced = x.bearings.length ? names.filter((_, i) => !isPlaced(x.segments[i]!)) : [];
	if (unplaced.length)
		out.push(
			`The bearings say nothing of ${unplaced.join(', ')}: where it lies is not given. Such a segment counts as lying in every direction.`
		);
	if (x.bearings.length > 1)
		out.push(
			'The bearings count as independent. People who watched side by side, or talked it over, are one bearing.'
		);
	const weights = x.segments.reduce((sum, s) => sum + s.weight, 0);
	if (Math.abs(weights - 1) > 0.01 && Math.abs(weights + x.elsewhere - 1) > 0.01)
		out.push(
			`The weights add up to ${percent(weights)}; they count in proportion, so that all places together make 100 %.`
		);
	const looked = names.flatMap((name, i) =>
		searched[i]! > 0 ? [`${name} ${percent(1 - searched[i]!)}`] : []
	);
	if (looked.length)
		out.push(
			`Searched is not cleared. Had it lain there, the searches would have missed it with: ${looked.join(', ')}.`
		);
	const times = names.map((_, i) => x.searches.filter((s) => segmentOf(x, s) === i).length);
	if (times.some((n) => n > 1))
		out.push(
			`Searching again does not find what is hidden: ${percent(x.hidden)} of what lies there is taken to be out of sight every time. Beyond that, searches count as independent of one another.`
		);
	if (x.searches.some((s) => s.curve === 'parallel' || s.curve === 'definite'))
		out.push(
			'Straight, evenly spaced lines are hard to keep on foot. Where they were not kept, say that it was covered without strict order.'
		);
	const out40 = after.at(-1)!;
	if (out40 > 0.4)
		out.push(
			`By now it lies outside all segments with ${percent(out40)}: think anew about where it can have come down before you search these again.`
		);
	out.push('The way to a segment and back is not counted in its time.');
	return out;
}

export function figure({ nominal: x, outputs, series }: FigureContext<Inputs>): Figure {
	const { best } = series as { best: number };
	const { before, after, gain } = groundOf(x);
	const names = namesOf(x);
	return {
		title: `Search ${names[best]} next`,
		x: {
			label: x.searches.length
				? 'Probability there: ring before, dot after the searches'
				: 'Probability that it lies there',
			unit: '%',
			min: 0
		},
		y: { label: '', unit: '1' },
		layers: [
			{
				kind: 'rows',
				label: 'where it may lie',
				rows: [...names, ELSEWHERE].map((label, i) => {
					const { low90 = after[i]!, high90 = after[i]! } = outputs[`after of ${label}`] ?? {};
					return {
						label,
						note: i < names.length ? `next ${time(x.hours)}: ${percent(gain[i])}` : 'not searched',
						value: 100 * after[i]!,
						low: 100 * low90,
						high: 100 * high90,
						...(x.searches.length ? { before: 100 * before[i]! } : {})
					};
				})
			}
		]
	};
}
