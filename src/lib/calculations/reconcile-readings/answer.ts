import {
	birgeLimit,
	birgeRatio,
	chanceOfScatter,
	combine,
	derSimonianLaird,
	mandelPaule,
	medianAndMad,
	modifiedZ,
	type Combined
} from '$lib/probability/combine';
import { propagatedVariance } from '$lib/probability/propagation';
import { normalQuantile } from '$lib/probability/special';
import { quantilesOfCases, weighReadings, type Case, type Suspects } from '$lib/probability/suspect-readings';
import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';
import { decimalsFor, formatQuantity, formatSi } from '$lib/quantity/format';
import { percent } from '$lib/quantity/percent';
import { fromSi, quantity } from '$lib/quantity/quantity';
import type { AddedOutput, Addition, AdditionContext, FigureContext } from '../calculation';
import type { Figure } from '../figure';
import { asReadings, outOf100 } from './evidence';
import type { Inputs } from './inputs';
import { apart, suspectsOf, type Reading } from './readings';

/** What the figure draws besides the readings themselves; SI. */
interface Series {
	title: string;
	wrong: number[];
	/** Where the value lies, with 90 % probability; several where the readings leave several answers. */
	answers: { label: string; low: number; high: number }[];
}

const Z90 = normalQuantile(0.95);
const interval = (mean: number, u: number) => ({ low: mean - Z90 * u, high: mean + Z90 * u });
/** Beyond this a modified z marks an outlier (Iglewicz and Hoaglin 1993, from memory). */
const OUTLYING = 3.5;

const list = (names: readonly string[]) =>
	names.length < 2 ? names.join() : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** Texts of values in the usual unit of their kind. */
function writer(dimension: Dimension) {
	const { si, metric } = DIMENSIONS[dimension];
	return {
		give: (mean: number, u: number) =>
			formatQuantity(quantity(mean, si, { plusMinus: u }), dimension, 'metric'),
		/** A plus-minus by itself. */
		plusMinus: (u: number) =>
			`± ${formatSi(u, dimension === 'temperature' ? 'temperature difference' : dimension, { figures: 2 })}`,
		between(low: number, high: number) {
			const [a, b] = [fromSi(low, metric, dimension), fromSi(high, metric, dimension)];
			const decimals = Math.max(0, decimalsFor(b - a, 2));
			const [from, to] = [Number(a.toFixed(decimals)), Number(b.toFixed(decimals))];
			return formatQuantity(quantity((from + to) / 2, metric, { low: from, high: to }), dimension);
		}
	};
}

/** Values that the cases gather around, most probable first; one that stands apart is not averaged into another. */
function groupsOf(cases: readonly Case[]) {
	const groups: (Case & { together: number })[] = [];
	for (const c of cases) {
		if (c.right === 0 || c.probability < 1e-3) continue;
		const near = groups.find((g) => Math.abs(g.mean - c.mean) < 2 * Math.hypot(g.sd, c.sd));
		if (near) near.together += c.probability;
		else groups.push({ ...c, together: c.probability });
	}
	return groups.filter(({ together }) => together > 0.04).sort((a, b) => b.together - a.together);
}

// eslint-disable-next-line require-yield -- all of it is done in a moment
export function* answer({ nominal: x, observations }: AdditionContext<Inputs>): Generator<void, Addition> {
	const readings = asReadings(observations);
	const s = suspectsOf(x, readings);
	const all = combine(s.values, s.covariance);
	const { cases, wrong } = weighReadings(s);
	const [low = NaN, median = NaN, high = NaN] = quantilesOfCases(cases, s, [0.05, 0.5, 0.95]);
	const text = writer(x.kind as Dimension);
	const title = verdict(readings, all, cases, text);
	const scatter = `right readings would scatter this much or more in ${outOf100(chanceOfScatter(all))} such sets`;
	const doubtful = readings.flatMap(({ label }, i) =>
		agreed(all) && wrong[i]! < 0.1 ? [] : [`${label} ${percent(wrong[i])}`]
	);
	const answers = groupsOf(cases).map((g) => {
		const without = readings.filter((_, i) => !(g.right & (1 << i))).map(({ label }) => label);
		return {
			share: percent(g.together),
			label: `${percent(g.together)}${without.length ? `, without ${list(without)}` : ''}`,
			mean: g.mean,
			sd: g.sd,
			...interval(g.mean, g.sd)
		};
	});
	const several = answers.length > 1;
	return {
		outputs: [
			...(several
				? answers.map((a): AddedOutput => ({ id: 'value', of: a.label, quantiles: [a.low, a.mean, a.high] }))
				: [{ id: 'value', quantiles: [low, median, high] as const }]),
			...outputsOf(readings, s, all, wrong)
		],
		statements: [
			`${title}: ${scatter}.`,
			...(doubtful.length ? [`Probability of being wrong: ${doubtful.join(', ')}.`] : []),
			several
				? `They leave ${answers.length === 2 ? 'two' : 'several'} answers: ${answers.map((a) => `${text.give(a.mean, a.sd)} (${a.label})`).join(', or ')}. A mean of them is none of them.`
				: `Each reading counted as far as the others bear it out: ${text.between(low, high)} with 90 % probability.`,
			...sharing(readings, s, all, text),
			`Assumed: a wrong reading shows anything from ${text.between(s.low, s.high)}, equally probable; no reading is thrown out.`
		],
		warnings: warningsOf(readings, s, all),
		series: {
			title,
			wrong,
			answers: several
				? answers.map(({ share, low, high }) => ({ label: share, low, high }))
				: [{ label: 'all together, 90 %', low, high }]
		} satisfies Series
	};
}

const agreed = (all: Combined) => chanceOfScatter(all) >= 0.05;

function verdict(
	readings: readonly Reading[],
	all: Combined,
	cases: readonly Case[],
	{ give }: ReturnType<typeof writer>
): string {
	if (agreed(all)) return `The readings agree on ${give(all.mean, all.u)}`;
	const [first] = cases;
	const wrong = readings.filter((_, i) => !(first!.right & (1 << i))).map(({ label }) => label);
	// Rare scatter is no wrong reading where wrong readings are rarer still.
	if (first!.probability > 0.5 && wrong.length === 0)
		return `The readings differ more than most right ones do, but with ${percent(first!.probability)} probability ${readings.length === 2 ? 'both' : 'all'} are right: ${give(all.mean, all.u)}`;
	return first!.probability > 0.5 && wrong.length > 0 && wrong.length < readings.length - 1
		? `The readings do not agree, and ${list(wrong)} ${wrong.length > 1 ? 'are' : 'is'} probably wrong`
		: 'The readings do not agree, and which of them is wrong they cannot tell';
}

/** What it would look like if a shared error were counted as if each reading had its own. */
function sharing(
	readings: readonly Reading[],
	s: Suspects,
	all: Combined,
	{ plusMinus }: ReturnType<typeof writer>
): string[] {
	if (!readings.some((r) => r.shares)) return [];
	const naive = combine(s.values, apart(s).covariance);
	const really = Math.sqrt(propagatedVariance(naive.weights, s.covariance));
	return [
		`The shared error is counted once: all readings together are known to ${plusMinus(all.u)}. As separate readings they would seem known to ${plusMinus(naive.u)}, while that mean would really be off by ${plusMinus(really)}.`
	];
}

function outputsOf(
	readings: readonly Reading[],
	s: Suspects,
	all: Combined,
	wrong: readonly number[]
): AddedOutput[] {
	const u = readings.map((r) => r.sd);
	const exactly = (id: string, value: number, of?: string): AddedOutput => ({
		id,
		nominal: value,
		quantiles: [value, value, value],
		...(of === undefined ? {} : { of })
	});
	const normal = (id: string, { mean, u }: { mean: number; u: number }): AddedOutput => {
		const { low, high } = interval(mean, u);
		return { id, nominal: mean, quantiles: [low, mean, high] };
	};
	const each = (id: string, values: readonly number[] = []) =>
		values.map((value, i) => exactly(id, value, readings[i]!.label));
	return [
		...each('wrong', wrong),
		normal('weightedMean', all),
		...(chanceOfScatter(all) > 1e-6 ? [exactly('chance', chanceOfScatter(all))] : []),
		exactly('birge', birgeRatio(all)),
		...(readings.length > 2
			? [
					exactly('median', medianAndMad(s.values).median),
					normal('mandelPaule', mandelPaule(s.values, u)),
					normal('derSimonianLaird', derSimonianLaird(s.values, u)),
					...each('modifiedZ', modifiedZ(s.values))
				]
			: [])
	];
}

function warningsOf(readings: readonly Reading[], s: Suspects, all: Combined): string[] {
	const out: string[] = [];
	const n = readings.length;
	const [ratio, limit] = [birgeRatio(all), birgeLimit(all.df)];
	if (ratio > limit)
		out.push(
			`Do not quote the weighted mean as agreed: the Birge ratio is ${ratio.toFixed(2)}, above the ${limit.toFixed(2)} that 95 of 100 sets of ${n} right readings stay below. It is a screening test only: it shows that something is wrong, not what, and stretching the uncertainty by it does not make a wrong reading right.`
		);
	if (n === 2)
		out.push(
			'Two readings have almost no power: that they agree proves little, and where they do not, nothing between them tells which is wrong. Add an independent reading or prediction.'
		);
	if (ratio < 1 && chanceOfScatter(all) > 0.95)
		out.push(
			'They agree better than their uncertainties let expect: these may be stated too large, or the readings may share an error or a source. The uncertainty is not made smaller for it.'
		);
	if (!readings.some((r) => r.shares))
		out.push(
			'The readings are taken as independent. Two loggers reduced with the same air temperature, or two fixes under the same sky, share an error: name it, or they count twice.'
		);
	const outlying = (modifiedZ(s.values) ?? []).flatMap((z, i) =>
		n > 2 && Math.abs(z) > OUTLYING ? [readings[i]!.label] : []
	);
	if (outlying.length)
		out.push(
			`${list(outlying)} stands out (modified z beyond ${OUTLYING}). It is kept: find the reason before anyone leaves it out.`
		);
	if (n > 2 && modifiedZ(s.values) === undefined)
		out.push('Half of the readings are equal, so the median deviation is 0 and no modified z can be given.');
	const negative = readings.filter((_, i) => all.weights[i]! < 0).map(({ label }) => label);
	if (negative.length)
		out.push(
			`With the shared error as stated, ${list(negative)} gets a negative weight and the mean may lie outside all readings. That is right only if the shared error is known well; check its size.`
		);
	return out;
}

export function figure({ nominal: x, observations, series }: FigureContext<Inputs>): Figure {
	const dimension = x.kind as Dimension;
	const unit = DIMENSIONS[dimension].metric;
	const show = (si: number) => fromSi(si, unit, dimension);
	const { title, wrong, answers } = series as Series;
	return {
		title,
		x: { label: 'What each says, with the range that holds it in 95 of 100 if it is right', unit },
		y: { label: '', unit: '1' },
		layers: [
			...answers.map(({ label, low, high }) => ({
				kind: 'rule' as const,
				axis: 'x' as const,
				label,
				at: (show(low) + show(high)) / 2,
				halfWidth: (show(high) - show(low)) / 2
			})),
			{
				kind: 'rows',
				label: 'readings',
				rows: asReadings(observations).map((r, i) => ({
					label: r.label,
					note: `wrong: ${percent(wrong[i])}`,
					value: show(r.observed),
					low: show(r.observed - 2 * r.sd),
					high: show(r.observed + 2 * r.sd)
				}))
			}
		]
	};
}
