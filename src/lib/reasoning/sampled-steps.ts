/**
 * How an event got to where it stands, where no diagram fits. Populations in which it is true, and others in which it is
 * not, are led from what is given through one piece of evidence after another. How probable the evidence so far is among
 * the ones and the others gives the odds of the event after each piece, however rare it is.
 */
import { piecesOf, type Piece } from './contradiction';
import { beforeEvidence } from './exact';
import { errorOf, meanInTurn, minus, type InTurn } from './jackknife';
import type { Resolved } from './resolve';
import { leadThrough, unseenIn } from './sample';
import { effortOf, MOST_SCATTER } from './sampled-states';
import { knowing, type Steps } from './step';
import { bare, startFor } from './weigh';
import type { Refusable, WeighOptions } from './weighing';

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
	const p = tree.p[node];
	// An event is drawn true or false where there is no diagram to draw it from; a gate has to be led there.
	const isDrawn = p !== undefined && !start;
	/** After what is given, and after each piece: ln of how probable all of it is with the event held so. */
	const lead = (given: Resolved['given'], value: boolean, withEvidence: boolean): InTurn[] => {
		const own = isDrawn ? given : held(given, value);
		const request = { ...effort, particles, given: own, withEvidence, start, stages };
		const by = leadThrough(isDrawn ? conditioned(tree, node, value) : tree, request);
		return (by[0] ?? []).map((_, i) => meanInTurn(by.map((logs) => logs[i] as number)));
	};
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
		const odds = minus(yes, minus(no, [Number.isFinite(sure) ? (given ?? typed ?? 0) : 0]));
		const step = minus(odds, last);
		const own = piece || (!start && tree.given.length > 0) ? unseenIn(particles) : 0;
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

/** The same tree with an event sure to be true or false; those that exclude it give way. */
function conditioned(tree: Resolved, node: number, value: boolean): Resolved {
	const group = tree.exclusive[tree.groupOf[node] as number] ?? [];
	const rest = value ? 0 : 1 / (1 - (tree.p[node] as number));
	const p = tree.p.map((own, event) =>
		event === node ? Number(value) : group.includes(event) ? own * rest : own
	);
	return { ...tree, p };
}

const chance = ([odds]: InTurn) => 1 / (1 + Math.exp(-(odds as number)));
const spread = (odds: InTurn, error: number) => chance(odds) * (1 - chance(odds)) * error;

const tooPoor = (piece: Piece | undefined) => ({
	ok: false as const,
	problem: `the tree with its evidence is too large to be taken step by step exactly, and ${piece ? `from '${piece.id}' on` : 'with what is given'} a sample is too poor: it scatters by more than a factor of two in the odds`
});
