/** Which few pieces of evidence the tree makes almost impossible. */
import { ALMOST_IMPOSSIBLE, describe, MAX_PAIRS, type NearContradiction } from './almost-impossible';
import { logOfOnly, piecesOf, type Piece } from './contradiction';
import { afterEvidence, exactFor } from './exact';
import type { TreeModel } from './model';
import { resolve } from './resolve';
import { sampledNearContradiction } from './sampled-near-contradiction';
import type { Refusable, WeighOptions } from './weighing';

/** The fewest pieces of evidence that are almost impossible, and of as many the least probable; null where none are. */
export function nearContradiction(
	model: TreeModel,
	options: WeighOptions = {}
): Refusable<{ near: NearContradiction | null }> {
	const tree = resolve(model);
	const exact = exactFor(tree, options);
	if (!exact) return sampledNearContradiction(tree, options);
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
