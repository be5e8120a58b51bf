/** A weighing by sampling, for a tree whose diagrams outgrow the limit. */
import type { Compiled } from './compile';
import { directClash, type Resolved } from './resolve';
import { sample, type Sampled } from './sample';
import { recordNodes, type NodeWeight, type WeighOptions, type Weighing } from './weighing';

const DEFAULT_SEED = 1;
/** States led at once; fewer in a tree so large that each costs more. */
const defaultParticles = (slots: number) => Math.max(160, Math.min(800, Math.round(80_000 / slots)));

const finite = (x: number): number | null => (Number.isFinite(x) ? x : null);

/**
 * @param start diagram of the tree without evidence, where it fits
 * @param alone exact weighing of the tree without evidence, where it fits
 */
export function weighBySampling(
	tree: Resolved,
	{ seed = DEFAULT_SEED, particles = defaultParticles(tree.ids.length) }: WeighOptions,
	start: Compiled | undefined,
	alone: Weighing | undefined
): Weighing {
	const { top, ids } = tree;
	const ask = { seed, particles, start };
	const all = sample(tree, { ...ask, given: tree.given, withEvidence: true });
	const prior = alone ? undefined : sample(tree, { ...ask, given: [], withEvidence: false });
	const atTop =
		alone || top === undefined
			? undefined
			: sample(tree, { ...ask, given: [{ node: top, value: true }], withEvidence: false });
	const exact = alone && { ...alone.events, ...alone.gates, ...alone.parts };
	const found = all.log > -Infinity;
	const clash = tree.observations.map(directClash).find((pair) => pair !== undefined);
	const contradiction = alone?.contradiction ?? (clash ? clashing(clash) : found ? null : clashing([]));
	const weightOf = (node: number): NodeWeight => {
		const known = exact?.[ids[node] as string];
		const typed = node < tree.eventCount ? tree.p[node] : undefined;
		const at = (sampled: Sampled | undefined) =>
			sampled && sampled.log > -Infinity ? sampled.p[node] : undefined;
		return {
			prior: known?.prior ?? typed ?? prior?.p[node] ?? 0,
			givenTop: known?.givenTop ?? at(atTop) ?? null,
			givenAll: contradiction ? null : (at(all) ?? null),
			...(contradiction ? {} : { standardError: all.standardError[node] as number }),
			...(prior && typed === undefined ? { priorStandardError: prior.standardError[node] as number } : {}),
			...(atTop && at(atTop) !== undefined
				? { givenTopStandardError: atTop.standardError[node] as number }
				: {})
		};
	};
	return {
		method: 'sampled',
		top: top === undefined ? null : (ids[top] as string),
		probabilityOfTop: top === undefined ? null : weightOf(top).prior,
		...recordNodes(tree, weightOf),
		logGiven: alone ? alone.logGiven : finite(all.logGiven),
		logEvidence: contradiction ? null : finite(all.logFindings - all.logGiven),
		logDensity: contradiction ? null : finite(all.log - all.logFindings),
		contributions: [],
		contradiction,
		warnings: [
			...tree.warnings,
			`this tree with its evidence is too large for an exact answer: it was sampled (${particles} states, seed ${seed}); every number stands beside its standard error`
		],
		nodes: 0,
		effectiveSampleSize: all.effectiveSampleSize,
		logStandardError: all.logStandardError
	};
}

function clashing(clash: string[]): NonNullable<Weighing['contradiction']> {
	const names = clash.map((id) => `'${id}'`).join(' and ');
	return {
		kind: 'evidence',
		clash,
		fewest: clash.length > 0,
		message:
			clash.length > 0
				? `${names} can't both be so: they are the same observation`
				: 'no state of this tree was found that allows all of the evidence: a cause is missing from it, or a finding is wrong'
	};
}
