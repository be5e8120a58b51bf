/**
 * What would change the answer, read from a sample: its states are weighed anew under each number moved. As all but the
 * weights of similar parts are linear in a state's weight, the means of slope and slope squared give every value of a
 * number at once, and how much of the sample would count there.
 */
import { assumptionsOf, type Movable } from './assumptions';
import { partsOf } from './common-cause';
import { piecesOf } from './contradiction';
import type { TreeModel } from './model';
import { change, summary, type Overturn, type Robustness, type Swept } from './stands';
import { slopeOf, type Slope } from './sampled-ratios';
import { SampledStanding, type Reweighed } from './sampled-standing';
import type { SampledStates } from './sampled-states';
import { allowsAll } from './weigh-sampled';
import type { Refusable } from './weighing';

/** Halvings of a search. */
const HALVINGS = 40;
/** Densities are moved by no more than this factor. */
const FURTHEST_DENSITY = 1e4;

/** @param nodes  the causes among which one leads */
export function sampledRobustness(
	states: SampledStates,
	model: TreeModel,
	nodes: readonly number[]
): Refusable<Robustness> {
	const { tree, all } = states;
	if (nodes.length === 0) return { ok: false, problem: 'the tree has no cause' };
	if (!(all.log > -Infinity))
		return { ok: false, problem: 'no state of this tree was found that allows all of the evidence' };
	const standing = new SampledStanding(states, nodes);
	const { unsettled: _, ...now } = standing.now;
	const assumptions = assumptionsOf(model, tree).map((movable) => sweep(standing, model, movable));
	return {
		ok: true,
		...summary({ ...now, settled: standing.settled }, assumptions),
		evidence: leaveOut(standing)
	};
}

/** A number moved, and what is told of it. */
type Line = (value: number) => Reweighed;

function sweep(standing: SampledStanding, model: TreeModel, movable: Movable): Swept {
	const { at: _at, far: _far, rescales: _rescales, linear, lower, higher, ...assumption } = movable;
	const { kind, id, value } = assumption;
	const { tree } = standing.states;
	const slope = linear ? slopeOf(tree, assumption) : undefined;
	const line = slope
		? straight(standing, value, slope)
		: linear
			? undefined
			: similarParts(standing, model, id, value);
	const own = kind === 'weight' ? standing.nodes.indexOf(tree.index.get(id) ?? -1) : -1;
	const moved = (to: number | null) => (to === null || !line ? null : standing.moved(to, line(to), own));
	const [down, up] = [moved(lower), moved(higher)];
	const ends = kind === 'density' ? [value / FURTHEST_DENSITY, value * FURTHEST_DENSITY] : [0, 1];
	const sides = ends.map((end) =>
		line ? outward(standing, line, kind, value, end) : { told: value, overturns: null }
	);
	const [below, above] = sides as [Side, Side];
	const overturns = sides.flatMap((side) => side.overturns ?? []);
	return {
		...assumption,
		lower: down,
		higher: up,
		overturns: overturns.toSorted((a, b) => a.decibans - b.decibans)[0] ?? null,
		told: [below.told, above.told],
		untold: Number(lower !== null && down === null) + Number(higher !== null && up === null)
	};
}

function straight(standing: SampledStanding, value: number, { of, usual, least, most }: Slope): Line {
	const { states, trueIn, asIs, nodes } = standing;
	const known = 2 + nodes.length;
	// What a state's slope has beyond the usual: its mean, that of its square, and of its states with each cause.
	const means = states.read(
		known,
		(chain, sums, at) => {
			const beyond = of(chain) - usual;
			if (beyond === 0) return;
			sums[0] = (sums[0] as number) + beyond;
			sums[1] = (sums[1] as number) + beyond * beyond;
			for (const i of trueIn[at] as number[]) sums[2 + i] = (sums[2 + i] as number) + beyond;
		},
		asIs
	);
	const [beyond = 0, squares = 0] = means.all.subarray(known);
	return (to) => {
		const by = to - value;
		const ratios = [1 + by * least, 1 + by * most];
		const base = 1 + by * usual;
		return {
			means,
			total: (m) => base + by * (m[known] as number),
			of: (m) =>
				m.subarray(2, known).map((p, i) => Math.max(0, base * p + by * (m[known + 2 + i] as number))),
			squared: base * base + 2 * base * by * beyond + by * by * squares,
			least: Math.max(0, Math.min(...ratios)),
			most: Math.max(...ratios)
		};
	};
}

/** The parts of one group have probabilities in proportion to one another, so states differ by which of them are true. */
function similarParts(standing: SampledStanding, model: TreeModel, member: string, value: number): Line {
	const { states, nodes, trueIn } = standing;
	const group = model.commonCause?.find(({ members }) => members.includes(member))?.id;
	const parts = partsOf(model)
		.filter((part) => part.group === group && part.p > 0 && part.p < 1)
		.map(({ id, p }) => ({ node: states.tree.index.get(id) as number, p }));
	const patterns = new Map<string, number>();
	const patternOf = states.map((_, { slots }) => {
		const pattern = parts.map(({ node }) => slots[node]).join('');
		if (!patterns.has(pattern)) patterns.set(pattern, patterns.size);
		return patterns.get(pattern) as number;
	});
	const size = 1 + nodes.length;
	const means = states.read(patterns.size * size, (_, sums, at) => {
		const from = (patternOf[at] as number) * size;
		for (const i of [-1, ...(trueIn[at] as number[])])
			sums[from + 1 + i] = (sums[from + 1 + i] as number) + 1;
	});
	return (to) => {
		const factors = parts.map(({ p }) => {
			const moved = Math.min(1, (p * to) / value);
			return [(1 - moved) / (1 - p), moved / p] as const;
		});
		const ratio = (isTrue: (i: number) => boolean) =>
			factors.reduce((product, [no, yes], i) => product * (isTrue(i) ? yes : no), 1);
		const ratios = [...patterns.keys()].map((pattern) => ratio((i) => pattern[i] === '1'));
		const sum = (m: Float64Array, column: number, by: readonly number[]) =>
			by.reduce((all, r, k) => all + r * (m[k * size + column] as number), 0);
		const single = [ratio(() => false), ...parts.map((_, one) => ratio((i) => i === one))];
		return {
			means,
			total: (m) => sum(m, 0, ratios),
			of: (m) => Float64Array.from(nodes, (_, i) => sum(m, 1 + i, ratios)),
			squared: sum(
				means.all,
				0,
				ratios.map((r) => r * r)
			),
			least: Math.min(...single, ...ratios),
			most: Math.max(...single, ...ratios)
		};
	};
}

interface Side {
	/** As far as who leads can be told. */
	told: number;
	overturns: Overturn | null;
}

/** From where it stands out to one end: as far as enough of the sample counts, and another leads or none does. */
function outward(
	standing: SampledStanding,
	line: Line,
	kind: Swept['kind'],
	value: number,
	limit: number
): Side {
	if (standing.now.close !== undefined) return { told: value, overturns: null };
	/** The furthest place at which it holds, out to one where it may not; it holds here. */
	const furthest = (holds: (to: number) => boolean, until: number) => {
		if (holds(until)) return until;
		let [near, far] = [value, until];
		for (let i = 0; i < HALVINGS; i++) {
			const middle = (near + far) / 2;
			if (holds(middle)) near = middle;
			else far = middle;
		}
		return near;
	};
	const end = furthest((to) => standing.counts(line(to)), limit);
	const isFirst = (to: number) => standing.leading(line(to)) === standing.first;
	const clear = (until: number) =>
		furthest((to) => isFirst(to) && standing.stand(line(to)).close === undefined, until);
	if (end === value || isFirst(end)) return { told: clear(end), overturns: null };
	const to = furthest(isFirst, end);
	const rival = standing.leading(line(to + (end - to) * 1e-9));
	const error = standing.errorOfCrossing(line, to, value + 0.999 * (to - value), rival);
	const decibans = Math.abs(change(kind, value, to));
	// What may as well be no crossing is none.
	if (!(error < Math.abs(to - value) / 2 && Number.isFinite(decibans)))
		return { told: clear(to), overturns: null };
	return { told: to, overturns: { to, error, leader: standing.name(rival), decibans } };
}

function leaveOut(standing: SampledStanding): Robustness['evidence'] {
	const { states } = standing;
	return piecesOf(states.tree).flatMap((piece) => {
		if (!allowsAll(states.tree, piece)) return [];
		const ratios = states.map((chain) => Math.exp(-chain.logOfPiece(piece)));
		const reweighed = standing.reweigh(
			(at) => ratios[at] as number,
			Math.min(...ratios),
			Math.max(...ratios)
		);
		if (!standing.counts(reweighed)) return [];
		const kind = piece.observation < 0 ? ('likelihood' as const) : ('finding' as const);
		return [{ id: piece.id, kind, ...standing.stand(reweighed) }];
	});
}
