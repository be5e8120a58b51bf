/**
 * How an event got to where it stands, where no diagram fits. Populations in which it is true, and others in which it is
 * not, are led from what is given through one piece of evidence after another. How probable the evidence so far is among
 * the ones and the others gives the odds of the event after each piece, however rare it is.
 */
import { piecesOf, type Piece } from './contradiction';
import { beforeEvidence } from './exact';
import { errorOf, meanInTurn, minus, type InTurn } from './jackknife';
import type { Observation, Resolved } from './resolve';
import { leadThrough } from './sample';
import { effortOf, UNSEEN } from './sampled-states';
import { knowing, type Steps } from './steps';
import { bare, startFor } from './weigh';
import type { Refusable, WeighOptions } from './weighing';

/** ln of a factor of two: odds that scatter by more say nothing. */
const MOST_SCATTER = Math.LN2;
/** Without the sweeps at the end there is time for more states. */
const MORE = 2;
const DECIBANS = 10 / Math.LN10;
const IMPOSSIBLE = [-Infinity];

export function sampledSteps(tree: Resolved, node: number, options: WeighOptions): Refusable<Steps> {
	const pieces = piecesOf(tree);
	const stages = pieces.map((_, i) => pieces.slice(0, i + 1));
	const effort = effortOf(tree, options);
	const particles = MORE * effort.particles;
	const held = (given: Resolved['given'], value: boolean) => [...given, { node, value }];
	const start = startFor({ ...tree, given: held(tree.given, true) }, options);
	const before = start && beforeEvidence(start, bare(tree), []);
	/** ln of the odds without evidence, exactly, where the diagram fits. */
	const exactly = (given: Resolved['given']): number | undefined => {
		const [yes, no] = [true, false].map((value) =>
			before?.log(bare(tree), { held: new Map(held(given, value).map((one) => [one.node, one.value])) })
		);
		return yes === undefined || no === undefined ? undefined : yes - no;
	};
	/** After what is given, and after each piece: ln of how probable all of it is with the event held so. */
	const lead = (given: Resolved['given'], value: boolean, withEvidence: boolean): InTurn[] => {
		const request = { ...effort, particles, given: held(given, value), withEvidence, start, stages };
		const by = leadThrough(tree, request);
		return (by[0] ?? []).map((_, i) => meanInTurn(by.map((logs) => logs[i] as number)));
	};
	const p = tree.p[node];
	const typed = p === undefined ? exactly([]) : Math.log(p) - Math.log1p(-p);
	const prior: InTurn =
		typed === undefined
			? minus(lead([], true, false)[0] ?? IMPOSSIBLE, lead([], false, false)[0] ?? IMPOSSIBLE)
			: [typed];
	const known = tree.given.find((given) => given.node === node)?.value;
	const given = exactly(tree.given);
	const sure = known === undefined ? (given ?? typed ?? 0) : known ? Infinity : -Infinity;
	const sides = [true, false].map((value) =>
		sure === (value ? -Infinity : Infinity) ? [] : lead(tree.given, value, true)
	);
	const steps: Steps['steps'] = [];
	let [last, unseen] = [prior, 0];
	for (let k = 0; k <= pieces.length; k++) {
		const piece = pieces[k - 1];
		const [yes = IMPOSSIBLE, no = IMPOSSIBLE] = sides.map((side) => side[k] ?? IMPOSSIBLE);
		if (yes[0] === -Infinity && no[0] === -Infinity)
			return { ok: false, problem: 'no state of this tree was found that allows all of the evidence' };
		const odds = minus(yes, minus(no, [Number.isFinite(sure) ? (given ?? 0) : 0]));
		const step = minus(odds, last);
		/** A state that none of them shows might have made the piece as probable as any could. */
		const own = Math.hypot(
			...sides.map((side, i) => {
				const [[now = NaN] = [], [then = NaN] = []] = [side[k], side[k - 1]];
				if (!piece || now === -Infinity) return 0;
				const most = mostOf(tree, pieces.slice(0, k - 1), piece, { node, value: i === 0 });
				return (UNSEEN / particles) * Math.exp(most - (now - then));
			})
		);
		unseen = Math.hypot(unseen, own);
		const error = Number.isFinite(odds[0]) ? Math.hypot(errorOf(odds), unseen) : 0;
		if (!(error <= MOST_SCATTER)) return tooPoor(piece);
		const ofStep = error && Math.hypot(errorOf(step), own);
		steps.push({
			...knowing(tree, piece),
			stands: chance(odds),
			decibans: DECIBANS * (step[0] as number),
			...(error || ofStep ? { error: { stands: spread(odds, error), decibans: DECIBANS * ofStep } } : {})
		});
		last = odds;
	}
	return {
		ok: true,
		prior: p ?? chance(prior),
		...(prior.length > 1 ? { priorError: spread(prior, errorOf(prior)) } : {}),
		steps
	};
}

const chance = ([odds]: InTurn) => 1 / (1 + Math.exp(-(odds as number)));
const spread = (odds: InTurn, error: number) => chance(odds) * (1 - chance(odds)) * error;

/** ln of the most that any state in which the node is held so could make of a piece, all before it known. */
function mostOf(
	tree: Resolved,
	before: readonly Piece[],
	piece: Piece,
	held: { node: number; value: boolean }
) {
	const { observations, origins, likelihoods } = tree;
	const { scenarios = [] } = likelihoods[piece.likelihood] ?? {};
	if (piece.likelihood >= 0) return Math.log(Math.max(...scenarios.map(({ density }) => density)));
	const { reports, links, baseRate } = observations[piece.observation] as Observation;
	const isPresent = reports.find(({ state }) => state !== 'notExamined')?.state === 'present';
	// Whatever else is so: all that might make a sign does, or nothing but what is held.
	const making = links.filter(({ from }) =>
		from >> 1 === held.node ? held.value !== ((from & 1) === 1) : isPresent
	);
	const none = making.reduce((product, { p }) => product * (1 - p), 1 - baseRate);
	const anyway = reports.flatMap(({ origin }) => {
		const own = origins[origin];
		if (!own) return [];
		if (
			before.some((other) =>
				observations[other.observation]?.reports.some((report) => report.origin === origin)
			)
		)
			return [1];
		return [isPresent ? own.saysAnyway : 1 - own.saysAnyway];
	});
	return Math.log(Math.max(isPresent ? 1 - none : none, ...anyway));
}

const tooPoor = (piece: Piece | undefined) => ({
	ok: false as const,
	problem: `the tree with its evidence is too large to be taken step by step exactly, and ${piece ? `from '${piece.id}' on` : 'with what is given'} a sample is too poor: it scatters by more than a factor of two in the odds`
});
