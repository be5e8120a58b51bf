/**
 * Evidence that the tree makes almost impossible.
 *
 * Measure: of one finding its probability, given what is given; of several pieces the probability of all together over
 * the product of each alone. Under a tree that is right, a finding below the threshold t comes up with a probability
 * below t. So do several whose ratio is below t: as the product is a probability over the outcomes too, those outcomes
 * for which P < t · product have together P < t. It holds for densities alike, so a calculation may be one of several;
 * alone it is not judged, as a density is no probability.
 */
import type { Piece } from './contradiction';

/** Below this it is almost impossible: a right tree shows a given piece, pair or all of it so in fewer of a thousand. */
export const ALMOST_IMPOSSIBLE = 1e-3;
/** Pairs are searched up to this many pieces. */
export const MAX_PAIRS = 60;

export interface NearContradiction {
	/** Ids of findings and likelihoods that are almost impossible together. */
	clash: string[];
	/** Of one piece its probability; of several, that of all over the product of each alone. */
	ratio: number;
	/** Its standard error, where it was sampled. */
	error?: number;
	/** No fewer pieces are almost impossible. */
	fewest: boolean;
	message: string;
}

/** @param error  standard error of the ratio, where it was sampled */
export function describe(
	clash: readonly Piece[],
	ratio: number,
	fewest: boolean,
	error?: number
): NearContradiction {
	const ids = clash.map(({ id }) => id);
	const names = ids.map((id) => `'${id}'`).join(', ');
	const said = (times: number, figures: number) => Number(times.toPrecision(figures)).toLocaleString('en');
	// Two figures are good to some per cent anyway.
	const between = error === undefined || error < 0.05 * ratio ? '' : ` ± ${said(error / ratio ** 2, 1)}`;
	const times = said(1 / ratio, 2) + between;
	const message =
		ids.length === 1
			? `${names} is almost impossible under this tree, 1 in ${times}: a cause is missing from it, this finding is wrong, or something rare did happen`
			: `${names} hardly go together under this tree, ${times} times less than if they had nothing to do with one another: a cause is missing from it, one of these is wrong, or several rare things did happen`;
	return { clash: ids, ratio, ...(error === undefined ? {} : { error }), fewest, message };
}
