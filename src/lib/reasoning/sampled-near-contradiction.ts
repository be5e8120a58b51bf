/**
 * Evidence that hardly goes together, where no diagram fits. One sample of what is given alone tells how probable each
 * piece is and which pairs may hardly go together; those, and whatever is judged, are led from what is given to just these
 * pieces, however improbable they are.
 */
import { ALMOST_IMPOSSIBLE, describe, MAX_PAIRS, type NearContradiction } from './almost-impossible';
import { piecesOf, type Piece } from './contradiction';
import { errorOf, meanInTurn, minus, type InTurn } from './jackknife';
import type { Resolved } from './resolve';
import { leadThrough, sample, unseenIn, type Population } from './sample';
import { CLEAR, effortOf, type Means, MOST_SCATTER, SampledStates, UNSEEN } from './sampled-states';
import { statesFor, startFor } from './weigh';
import type { Refusable, WeighOptions } from './weighing';

/** Of the logarithm of how probable one piece is: with a larger error it is led to by itself. */
const WELL_KNOWN = 0.1;
/** Pairs that are led to, and pieces that are gathered, before the search is given up. */
const MOST_LED = 40;
const MOST_GATHERED = 12;

export function sampledNearContradiction(
	tree: Resolved,
	options: WeighOptions
): Refusable<{ near: NearContradiction | null }> {
	if (!(statesFor(tree, options).all.log > -Infinity))
		return { ok: false, problem: 'no state of this tree was found that allows all of the evidence' };
	const pieces = piecesOf(tree);
	const request = {
		...effortOf(tree, options),
		given: tree.given,
		withEvidence: true,
		start: startFor(tree, options)
	};
	const drawn = (kept: readonly Piece[]): SampledStates => {
		const populations: Population[] = [];
		const keep = (population: Population) => populations.push(population);
		return new SampledStates(tree, sample(tree, { ...request, stages: [kept], keep }), populations);
	};
	/** ln of how probable just these pieces are, given what is given. */
	const logOf = (kept: readonly Piece[]): InTurn => {
		const by = leadThrough(tree, { ...request, stages: [kept] });
		const [given, all] = [0, 1].map((stage) => meanInTurn(by.map((logs) => logs[stage] as number)));
		return minus(all as InTurn, given as InTurn);
	};

	const given = drawn([]);
	const couples =
		pieces.length <= MAX_PAIRS
			? pieces.flatMap((_, i) => pieces.slice(0, i).map((_, j): Couple => [j, i]))
			: [];
	const means = ofCouples(given, pieces, couples);
	const alone = pieces.map((piece, i): InTurn => {
		const log = means.inTurn((m) => Math.log(m[i] as number));
		const most = Math.exp(given.chain.mostUnder(given.chain.exponents([piece])));
		const unseen = (UNSEEN * most) / (given.all.effectiveSampleSize * (means.all[i] as number));
		return Math.hypot(errorOf(log), unseen) < WELL_KNOWN ? log : logOf([piece]);
	});
	const over = (together: InTurn, set: readonly number[]) =>
		set.reduce((log, i) => minus(log, alone[i] as InTurn), together);
	const led = (set: readonly number[]): Candidate => ({
		set,
		log: over(logOf(set.map((i) => pieces[i] as Piece)), set)
	});
	const answer = ({ set, log }: Candidate, fewest: boolean) => {
		const ratio = Math.exp(log[0] as number);
		const error = Math.hypot(errorOf(log), unseenIn(request.particles));
		if (!(error <= MOST_SCATTER)) return TOO_POOR;
		const clash = set.map((i) => pieces[i] as Piece);
		return { ok: true as const, near: describe(clash, ratio, fewest, ratio * error) };
	};

	const findings = [...pieces.keys()].filter((i) => (pieces[i] as Piece).observation >= 0);
	const singles = findings.map((i) => ({ set: [i], log: alone[i] as InTurn }));
	const one = least(singles);
	if (one && isNear(one)) return answer(one, true);
	const pairs = couples.map((set, k) => {
		const log = over(
			means.inTurn((m) => Math.log(m[pieces.length + k] as number)),
			set
		);
		return { set, log };
	});
	// What is rare may be missing from the sample, and then the pair only seems to be less probable than it is.
	const doubtful = pairs.filter(({ log }) => (log[0] as number) - CLEAR * errorOf(log) < LIMIT).sort(byLog);
	const judged = doubtful.slice(0, MOST_LED).map(({ set }) => led(set));
	const two = least(judged);
	if (two && isNear(two)) return answer(two, true);
	const whole = led([...pieces.keys()]);
	if (!isNear(whole))
		return [...singles, ...judged, whole].some(isOpen) ? TOO_POOR : { ok: true, near: null };

	// Gather, one at a time, the piece that hardly goes with those before it; then drop what is not needed.
	let core = two ?? least(pairs) ?? one ?? whole;
	while (!isNear(core)) {
		if (core.set.length >= MOST_GATHERED) return answer(whole, false);
		const { set } = core;
		const one = next(drawn(set.map((i) => pieces[i] as Piece)), pieces, set, alone);
		core = led([...set, one].sort((a, b) => a - b));
	}
	for (;;) {
		const { set } = core;
		const smaller = least(set.map((i) => led(set.filter((other) => other !== i))));
		if (!smaller || !isNear(smaller))
			return answer(core, couples.length > 0 && doubtful.length <= MOST_LED && set.length === 3);
		core = smaller;
	}
}

/** Pieces by number, and ln of how probable all are over the product of each alone. */
interface Candidate {
	set: readonly number[];
	log: InTurn;
}

const LIMIT = Math.log(ALMOST_IMPOSSIBLE);
const byLog = (a: Candidate, b: Candidate) => (a.log[0] as number) - (b.log[0] as number);
const least = (candidates: readonly Candidate[]): Candidate | undefined => candidates.toSorted(byLog)[0];
/** It may as well be near. */
const isOpen = ({ log }: Candidate) =>
	errorOf(log) > WELL_KNOWN && (log[0] as number) - CLEAR * errorOf(log) < LIMIT;
const isNear = ({ log }: Candidate) => (log[0] as number) < LIMIT;

const TOO_POOR = {
	ok: false,
	problem:
		'whether some findings hardly go together can not be told: the samples scatter too far in how probable they are'
} as const;

type Couple = readonly [number, number];

/** Means of what a state makes of each piece, then of what it makes of both of each couple. */
function ofCouples(states: SampledStates, pieces: readonly Piece[], couples: readonly Couple[]): Means {
	const { tree, chain } = states;
	const by = pieces.map((piece) => chain.exponents([piece]));
	const originsOf = ({ observation }: Piece) =>
		(tree.observations[observation]?.reports ?? [])
			.map(({ origin }) => origin)
			.filter((origin) => origin >= 0);
	// Two that rest on one origin are believed or not together.
	const together = couples.map(([i, j]) => {
		const both = [pieces[i] as Piece, pieces[j] as Piece];
		const [a, b] = both.map(originsOf);
		return a?.some((origin) => b?.includes(origin)) ? chain.exponents(both) : undefined;
	});
	const own = new Float64Array(pieces.length);
	return states.read(pieces.length + couples.length, (state, sums) => {
		by.forEach((exponents, i) => {
			own[i] = Math.exp(state.logUnder(exponents));
			sums[i] = (sums[i] as number) + own[i];
		});
		couples.forEach(([i, j], k) => {
			const exponents = together[k];
			const both = exponents ? Math.exp(state.logUnder(exponents)) : (own[i] as number) * (own[j] as number);
			sums[pieces.length + k] = (sums[pieces.length + k] as number) + both;
		});
	});
}

/** The piece that those of the set make the least probable, against how probable it is alone. */
function next(
	states: SampledStates,
	pieces: readonly Piece[],
	set: readonly number[],
	alone: readonly InTurn[]
): number {
	const { chain } = states;
	const kept = set.map((i) => pieces[i] as Piece);
	const now = chain.exponents(kept);
	const others = [...pieces.keys()].filter((i) => !set.includes(i));
	const more = others.map((i) =>
		chain.exponents([...kept, pieces[i] as Piece]).map((exponent, f) => exponent - (now[f] as number))
	);
	const { all } = states.read(others.length, (state, sums) =>
		more.forEach((exponents, k) => (sums[k] = (sums[k] as number) + Math.exp(state.logUnder(exponents))))
	);
	const against = others.map((i, k) => Math.log(all[k] as number) - (alone[i]?.[0] as number));
	return others[against.indexOf(Math.min(...against))] as number;
}
