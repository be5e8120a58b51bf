/** When the evidence can't all be true under the tree: which few findings clash. */
import { directClash, type Resolved } from './resolve';
import type { Weigher } from './weights';

export interface Contradiction {
	/** 'given': what is given is impossible by itself; 'evidence': the findings clash with it or with each other. */
	kind: 'given' | 'evidence';
	/** Ids of findings and likelihoods that are impossible together; without any one of them the rest is possible. */
	clash: string[];
	/** No smaller clash exists. */
	fewest: boolean;
	message: string;
}

/** A clash of more pieces is none that a person can look at. */
const MAX_CLASH = 20;
/** Pairs are searched one by one up to this many pieces of evidence; above it a clash is only made irreducible. */
const MAX_PAIRS = 80;

/** An observation or a calculated likelihood, by number. */
export interface Piece {
	id: string;
	observation: number;
	likelihood: number;
}

/** All that was observed or calculated. */
export function piecesOf({ observations, likelihoods }: Resolved): Piece[] {
	const made = observations.flatMap(({ reports }, observation) => {
		const first = reports.find(({ state }) => state !== 'notExamined');
		return first ? [{ id: first.id, observation, likelihood: -1 }] : [];
	});
	return [...made, ...likelihoods.map(({ id }, likelihood) => ({ id, observation: -1, likelihood }))];
}

/** ln of the weight of what is given and these pieces, all others left out. */
export function logOfOnly(kept: readonly Piece[], tree: Resolved, after: Weigher): number {
	const observations = new Set(kept.map(({ observation }) => observation));
	const likelihoods = new Set(kept.map(({ likelihood }) => likelihood));
	return after.log(tree, {
		withoutObservation: (o) => !observations.has(o),
		withoutLikelihood: (l) => !likelihoods.has(l)
	});
}

export function findContradiction(
	tree: Resolved,
	after: Weigher,
	givenPossible: boolean,
	allPossible: boolean
): Contradiction | null {
	if (!givenPossible) return { kind: 'given', clash: [], fewest: true, message: impossibleGiven(tree) };
	for (const observation of tree.observations) {
		const pair = directClash(observation);
		if (pair) return evidence([...pair], true);
	}
	if (allPossible) return null;
	const pieces = piecesOf(tree);
	const possible = (kept: readonly Piece[]) => logOfOnly(kept, tree, after) > -Infinity;
	for (const piece of pieces) if (!possible([piece])) return evidence([piece.id], true);
	if (pieces.length <= MAX_PAIRS)
		for (const [i, a] of pieces.entries())
			for (const b of pieces.slice(i + 1)) if (!possible([a, b])) return evidence([a.id, b.id], true);
	// Drop one at a time whatever is not needed for the clash: no part of what is left is impossible.
	let core = pieces;
	for (const piece of pieces) {
		const rest = core.filter((other) => other !== piece);
		if (!possible(rest)) core = rest;
	}
	if (core.length > MAX_CLASH) return tooMany();
	return evidence(
		core.map(({ id }) => id),
		pieces.length <= MAX_PAIRS && core.length === 3
	);
}

function evidence(clash: string[], fewest: boolean): Contradiction {
	const names = clash.map((id) => `'${id}'`).join(', ');
	const message =
		clash.length === 1
			? `${names} is impossible under this tree: a cause is missing from it, or this finding is wrong`
			: `${names} can't all be so under this tree: a cause is missing from it, or one of these is wrong`;
	return { kind: 'evidence', clash, fewest, message };
}

function tooMany(): Contradiction {
	return {
		kind: 'evidence',
		clash: [],
		fewest: false,
		message:
			'together the findings are impossible under this tree, and no few of them are: a cause is missing from it, or several are wrong'
	};
}

function impossibleGiven({ ids, given }: Resolved): string {
	const names = given.map(({ node, value }) => `'${ids[node]}' ${value ? 'true' : 'false'}`).join(' and ');
	return `${names} is impossible under this tree, whatever its events do: check gates, house events and weights of 0 or 1`;
}
