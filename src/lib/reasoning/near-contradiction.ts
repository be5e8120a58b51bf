/**
 * Evidence that the tree makes almost impossible.
 *
 * Measure: of one finding its probability, given what is given; of several pieces the probability of all together over
 * the product of each alone. Under a tree that is right, a finding below the threshold t comes up with a probability
 * below t. So do several whose ratio is below t: as the product is a probability over the outcomes too, those outcomes
 * for which P < t · product have together P < t. It holds for densities alike, so a calculation may be one of several;
 * alone it is not judged, as a density is no probability.
 */
import { logOfOnly, piecesOf, type Piece } from './contradiction';
import { afterEvidence, exactFor } from './exact';
import type { TreeModel } from './model';
import { resolve } from './resolve';
import type { Refusable, WeighOptions } from './weighing';

/** Below this it is almost impossible: a right tree shows a given piece, pair or all of it so in fewer of a thousand. */
export const ALMOST_IMPOSSIBLE = 1e-3;
/** Pairs are searched up to this many pieces. */
const MAX_PAIRS = 60;

export interface NearContradiction {
	/** Ids of findings and likelihoods that are almost impossible together. */
	clash: string[];
	/** Of one piece its probability; of several, that of all over the product of each alone. */
	ratio: number;
	/** No fewer pieces are almost impossible. */
	fewest: boolean;
	message: string;
}

/** The fewest pieces of evidence that are almost impossible, and of as many the least probable; null where none are. */
export function nearContradiction(
	model: TreeModel,
	options: WeighOptions = {}
): Refusable<{ near: NearContradiction | null }> {
	const tree = resolve(model);
	const exact = exactFor(tree, options);
	if (!exact)
		return {
			ok: false,
			problem:
				'the tree with its evidence is too large to weigh a few pieces at a time: a sample holds states that allow all pieces, and says nothing of those that a few alone would make probable'
		};
	const after = afterEvidence(exact, tree, []);
	const log = (kept: readonly Piece[]) => logOfOnly(kept, tree, after);
	const pieces = piecesOf(tree);
	const given = log([]);
	if (!(log(pieces) > -Infinity))
		return { ok: false, problem: 'the evidence is impossible under this tree, not only almost' };
	const alone = new Map(pieces.map((piece) => [piece, log([piece]) - given]));
	const ratio = (kept: readonly Piece[]) =>
		log(kept) - given - kept.reduce((sum, piece) => sum + (alone.get(piece) ?? 0), 0);
	const limit = Math.log(ALMOST_IMPOSSIBLE);
	const answer = (clash: readonly Piece[], lnRatio: number, fewest: boolean) => ({
		ok: true as const,
		near: describe(clash, Math.exp(lnRatio), fewest)
	});
	const least = (sets: readonly (readonly Piece[])[], of: (set: readonly Piece[]) => number) =>
		sets
			.map((set) => ({ set, value: of(set) }))
			.reduce((best, one) => (one.value < best.value ? one : best), {
				set: [] as readonly Piece[],
				value: 0
			});

	const findings = pieces.filter(({ observation }) => observation >= 0);
	const one = least(
		findings.map((piece) => [piece]),
		([piece]) => alone.get(piece as Piece) ?? 0
	);
	if (one.value < limit) return answer(one.set, one.value, true);
	const search = pieces.length <= MAX_PAIRS;
	const two = least(search ? pieces.flatMap((a, i) => pieces.slice(i + 1).map((b) => [a, b])) : [], ratio);
	if (two.value < limit) return answer(two.set, two.value, true);
	// Drop, one at a time, the piece without which the rest stay the least probable.
	let core = { set: pieces as readonly Piece[], value: ratio(pieces) };
	if (!(core.value < limit)) return { ok: true, near: null };
	for (;;) {
		const { set } = core;
		const smaller = least(
			set.map((piece) => set.filter((other) => other !== piece)),
			ratio
		);
		if (!(smaller.value < limit)) return answer(set, core.value, search && set.length === 3);
		core = smaller;
	}
}

function describe(clash: readonly Piece[], ratio: number, fewest: boolean): NearContradiction {
	const ids = clash.map(({ id }) => id);
	const names = ids.map((id) => `'${id}'`).join(', ');
	const times = Number((1 / ratio).toPrecision(2)).toLocaleString('en');
	const message =
		ids.length === 1
			? `${names} is almost impossible under this tree, 1 in ${times}: a cause is missing from it, this finding is wrong, or something rare did happen`
			: `${names} hardly go together under this tree, ${times} times less than if they had nothing to do with one another: a cause is missing from it, one of these is wrong, or several rare things did happen`;
	return { clash: ids, ratio, fewest, message };
}
