/** A weighing by sampling, for a tree whose diagrams outgrow the limit. */
import type { Compiled } from './compile';
import { directClash, type Resolved } from './resolve';
import { combine, sample, type Run, type Sampled } from './sample';
import {
	effortOf,
	LEAST_KEPT,
	LEAST_SAMPLES,
	notCertain,
	sampledStates,
	type SampledStates
} from './sampled-states';
import { piecesOf, type Piece } from './contradiction';
import {
	recordNodes,
	type Contribution,
	type NodeWeight,
	type WeighOptions,
	type Weighing
} from './weighing';

const finite = (x: number): number | null => (Number.isFinite(x) ? x : null);

/**
 * @param start diagram of the tree without evidence, where it fits
 * @param alone exact weighing of the tree without evidence, where it fits
 */
export function weighBySampling(
	tree: Resolved,
	options: WeighOptions,
	start: Compiled | undefined,
	alone: Weighing | undefined
): Weighing {
	const { top, ids } = tree;
	const { contributions = true } = options;
	const { seed, particles } = effortOf(tree, options);
	const ask = { seed, particles, start };
	const pieces = piecesOf(tree);
	const states = sampledStates(tree, options, () => start);
	const { all } = states;
	const prior = alone ? undefined : sample(tree, { ...ask, given: [], withEvidence: false });
	const atTop =
		alone || top === undefined
			? undefined
			: sample(tree, { ...ask, given: [{ node: top, value: true }], withEvidence: false });
	const exact = alone && { ...alone.events, ...alone.gates, ...alone.parts };
	const found = all.log > -Infinity;
	const clash = tree.observations.map(directClash).find((pair) => pair !== undefined);
	const contradiction = alone?.contradiction ?? (clash ? clashing(clash) : found ? null : clashing([]));
	/** Whatever was found: switched, given, or so by the tree alone. */
	const isCertain = (node: number) =>
		[0, 1].includes(exact?.[ids[node] as string]?.givenAll ?? tree.p[node] ?? -1) ||
		tree.given.some((given) => given.node === node);
	const weightOf = (node: number): NodeWeight => {
		const known = exact?.[ids[node] as string];
		const typed = node < tree.eventCount ? tree.p[node] : undefined;
		const at = (sampled: Sampled | undefined) => {
			if (!sampled || !(sampled.log > -Infinity)) return undefined;
			const p = sampled.p[node] as number;
			return isCertain(node) ? p : notCertain(p, sampled.effectiveSampleSize);
		};
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
	const told = contradiction
		? []
		: pieces.map((piece) => (contributions ? contributionOf(states, piece) : null));
	const known = told.filter((contribution) => contribution !== null);
	const untold =
		contributions && !contradiction ? pieces.filter(({ id }) => !known.some((c) => c.id === id)) : [];
	return {
		method: 'sampled',
		top: top === undefined ? null : (ids[top] as string),
		probabilityOfTop: top === undefined ? null : weightOf(top).prior,
		...recordNodes(tree, weightOf),
		logGiven: alone ? alone.logGiven : finite(all.logGiven),
		logEvidence: contradiction ? null : finite(all.logFindings - all.logGiven),
		logDensity: contradiction ? null : finite(all.log - all.logFindings),
		contributions: known,
		contradiction,
		warnings: [
			...tree.warnings,
			`this tree with its evidence is too large for an exact answer: it was sampled (${particles} states, seed ${seed}); every number stands beside its standard error`,
			...(untold.length > 0
				? [
						`what ${untold.map(({ id }) => `'${id}'`).join(', ')} did can't be told from this sample: without it states count that the sample has not seen, or too seldom`
					]
				: [])
		],
		nodes: 0,
		effectiveSampleSize: all.effectiveSampleSize,
		logStandardError: all.logStandardError
	};
}

/**
 * Whether a piece leaves every state possible. One that rules states out has kept them from the sample, which then can't
 * say how things would stand without it.
 */
export function allowsAll(
	{ observations, origins, likelihoods }: Resolved,
	{ observation, likelihood }: Piece
): boolean {
	if (likelihood >= 0) return likelihoods[likelihood]?.scenarios.every(({ density }) => density > 0) ?? false;
	const { reports, baseRate, links } = observations[observation] as Resolved['observations'][number];
	const made = reports.filter(({ state }) => state !== 'notExamined');
	const present = made[0]?.state === 'present';
	if (made.some(({ state }) => (state === 'present') !== present)) return false;
	// An origin that is not genuine says one thing of all: a report that differs rules that out, where it alone does.
	const anyway = made.every(({ origin }) => {
		const says = origins[origin]?.saysAnyway;
		if (says === undefined) return true;
		const others = observations.flatMap((other, o) =>
			o === observation ? [] : other.reports.filter((report) => report.origin === origin)
		);
		const [yes, no] = (['present', 'absent'] as const).map((said) =>
			others.some(({ state }) => state === said)
		);
		return (yes && no) || (!(present ? no : yes) && (present ? says > 0 : says < 1));
	});
	return anyway && (present ? baseRate > 0 : baseRate < 1 && links.every(({ p }) => p < 1));
}

/** Everything but one piece: the same states, each weighed by one over what the piece makes of it. */
function leftOut({ tree, chain, populations }: SampledStates, piece: Piece): Sampled & { kept: number } {
	let kept = 1;
	const runs = populations.map(({ log, states }): Run => {
		const p = new Float64Array(tree.ids.length);
		let [total, squares] = [0, 0];
		for (const state of states) {
			const weight = Math.exp(-chain.use(state).logOfPiece(piece));
			total += weight;
			squares += weight * weight;
			for (let n = 0; n < p.length; n++) if (state.slots[n] === 1) p[n] = (p[n] as number) + weight;
		}
		kept = Math.min(kept, total ** 2 / (states.length * squares));
		return { p: p.map((sum) => sum / total), log: log + Math.log(total / states.length), logs: [] };
	});
	return { ...combine(runs, tree.ids.length), kept };
}

/** Null where too few samples count without the piece. */
function contributionOf(states: SampledStates, piece: Piece): Contribution | null {
	const { tree } = states;
	if (!allowsAll(tree, piece)) return null;
	const without = leftOut(states, piece);
	if (!(without.effectiveSampleSize >= LEAST_SAMPLES && without.kept >= LEAST_KEPT)) return null;
	const { events, gates, parts } = recordNodes(tree, (node) => node);
	const nodes = Object.entries({ ...events, ...gates, ...parts });
	const record = (of: (node: number) => number) =>
		Object.fromEntries(nodes.map(([name, node]) => [name, of(node)]));
	const { id, observation } = piece;
	const made = tree.observations[observation]?.reports.filter(({ state }) => state !== 'notExamined') ?? [];
	return {
		id,
		kind: observation < 0 ? 'likelihood' : 'finding',
		together: made.slice(1).map((report) => report.id),
		...(made[0] ? { state: made[0].state } : {}),
		withoutIt: record((node) => notCertain(without.p[node] as number, without.effectiveSampleSize)),
		standardError: record((node) => without.standardError[node] as number)
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
