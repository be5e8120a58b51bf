import {
	type Alike,
	alikeFindings,
	type Assumption,
	type Contradiction,
	decibans,
	type DoubleCount,
	doubleCounts,
	type NearContradiction,
	nearContradiction,
	type Overturn,
	type Robustness,
	robustness,
	type Swept,
	type TreeModel,
	weigh,
	type WeighOptions,
	withFlatWeights
} from '$lib/reasoning';
import { isLevelWith, type Lead, LEVEL, listed } from './leading';
import type { Investigation } from '../case';
import { type ToWeigh, withResidualLinks } from './tree-model';
import { percent, percentSampled, plusMinus, roundedProbability, typedApart } from '$lib/quantity/percent';

/** How far the answer hangs on single numbers. */
export interface Firm {
	/** Null where it can't be had. */
	robust: Robustness | null;
	near: NearContradiction | null;
	/** What clashes where only the branch that nobody has thought of allows all that was found. */
	clash: Contradiction | null;
	/** Why it can't be told which findings hardly go together, else null. */
	nearUntold: string | null;
	/** Dependence that was declared, and findings that look alike where none was. */
	counted: DoubleCount[];
	alike: Alike[];
	/** With no cause preferred at the start: what leads, one or several that can’t be told apart. */
	flat: { leaders: readonly string[]; leaderAt: number } | null;
}

/**
 * What would change the answer. The links assumed from what nobody has thought of follow the number that is moved, as
 * they do when it is typed.
 * @param linked the model with the assumed links, which has passed `checkTree`
 */
export function firmness(asked: ToWeigh, linked: TreeModel, reuse: WeighOptions['reuse']): Firm {
	// What nobody has thought of may lead like any other; nothing can be said of it in particular.
	const among = asked.model.events
		.filter(({ kind }) => kind === 'basic' || kind === 'undeveloped')
		.map(({ id }) => id);
	const named = among.filter((id) => id !== asked.residual);
	const assumed = asked.residual === null ? undefined : { event: asked.residual, findings: asked.byDefault };
	const robust = robustness(linked, { among, assumed, reuse });
	const near = nearContradiction(linked, { reuse });
	const { model: flatModel } = withResidualLinks({ ...asked, model: withFlatWeights(asked.model) });
	const flat = weigh(flatModel, { contributions: false, reuse });
	const alone = {
		...linked,
		events: linked.events.map((event) => (event.id === asked.residual ? { ...event, p: 0 } : event))
	};
	const clash =
		flat.method === 'exact' && asked.residual !== null
			? weigh(alone, { contributions: false, reuse }).contradiction
			: null;
	const at = (id: string) => flat.events[id]?.givenAll ?? 0;
	const leaderAt = Math.max(...among.map(at));
	return {
		robust: robust.ok ? robust : null,
		near: near.ok ? near.near : null,
		clash: clash && clash.clash.length > 0 ? clash : null,
		nearUntold: near.ok ? null : near.problem,
		counted: doubleCounts(linked, { among: named }),
		alike: alikeFindings(linked),
		flat:
			flat.contradiction || among.length === 0
				? null
				: { leaders: among.filter((id) => isLevelWith(at(id), leaderAt)), leaderAt }
	};
}

/** What the named causes can't leave together; `name` gives what stands under an id. */
export function clashSentence(
	{ clash }: Contradiction,
	findings: Investigation['findings'],
	name: (id: string) => string
): string {
	const pieces = clash.map((id) => (findings[id] ? `${name(id)} ${findings[id].state}` : name(id)));
	return clash.length === 1
		? `Without what nobody has thought of the tree can’t leave ${pieces[0]}: a cause is missing from it, or this is wrong.`
		: `Without what nobody has thought of the tree can’t leave together ${listed(pieces)}: a cause is missing from it, or one of these is wrong.`;
}

/** The number in words; `name` gives what stands under an id. */
export function assumptionWords({ kind, id, from }: Assumption, name: (id: string) => string): string {
	const cause = from === undefined ? '‘none of these’' : name(from.replace('!', ''));
	const negated = from?.startsWith('!') ?? false;
	switch (kind) {
		case 'weight':
			return `the starting weight of ${name(id)}`;
		case 'link':
			return negated
				? `how often it shows when ${cause} did not happen: ${name(id)}`
				: `how often ${cause} by itself shows it: ${name(id)}`;
		case 'baseRate':
			return `how often it is there anyway: ${name(id)}`;
		case 'reliability':
			return `how often ${name(id)} can be relied on`;
		case 'saysAnyway':
			return `how often ${name(id)} says ‘present’ anyway`;
		case 'density':
			return `how well ${negated ? 'not ' : ''}${cause} fits by calculation: ${name(id)}`;
	}
}

/** From where to where, in words: '5 % → 12 %', 'three times better'. Two causes that stand level are parted by a hair. */
export function moveWords(
	{ kind, value }: Assumption,
	{ to, error }: Pick<Overturn, 'to' | 'error'>
): string {
	if (isLevel({ kind, value }, to))
		return kind === 'density' ? 'by a hair' : `${roundedProbability(value)}, by a hair`;
	if (kind !== 'density') return `${typedApart(value, to).join(' → ')}${plusMinus(error)}`;
	const factor = to > value ? to / value : value / to;
	const sampled = error === undefined ? '' : ` ± ${Number(((factor * error) / to).toPrecision(1))}`;
	return `${Number(factor.toPrecision(2)).toLocaleString('en')}${sampled} times ${to > value ? 'better' : 'less well'}`;
}

/** The move is too small to tell apart, on the odds or on the density. */
export const isLevel = ({ kind, value }: Pick<Assumption, 'kind' | 'value'>, to: number): boolean =>
	kind === 'density' ? Math.max(to / value, value / to) < LEVEL : isLevelWith(value, to);

export type Turning = Swept & { overturns: Overturn };

/** Numbers that would turn the answer if they were off by less than this, in decibans: a factor of 1,000 on the odds. */
const NOTABLE = 30;

/** The numbers that turn the answer with the least change, and whether they come near enough to matter. */
export function turningNumbers(
	{ assumptions }: Robustness,
	most: number
): { near: Turning[]; nearest: Turning | null } {
	const turning = assumptions.flatMap((one) => (one.overturns ? [{ ...one, overturns: one.overturns }] : []));
	return {
		near: turning.filter(({ overturns }) => overturns.decibans < NOTABLE).slice(0, most),
		nearest: turning[0] ?? null
	};
}

/** Where none comes near. */
export function firmWords(
	{ assumptions, close, error }: Robustness,
	nearest: Turning | null,
	name: (id: string) => string
): string {
	if (close !== undefined)
		return 'Which number would put another cause first can’t be told from this sample.';
	const lost = assumptions.filter(({ kind, value, told = [0, Infinity] }) =>
		told.some((end) => {
			const size = kind === 'density' ? 10 * Math.log10(end / value) : decibans(Math.min(1, end), value);
			return Math.abs(size) < NOTABLE;
		})
	);
	if (error !== undefined && lost.length > 0)
		return `As far as this sample tells, no single number would put another cause first. ${lost.length} of ${assumptions.length} it can’t follow to a factor of 1,000 in the odds: too few of its states would count there.`;
	return nearest === null
		? 'No single number would put another cause first, even if it were off by a factor of 10,000 in its odds.'
		: `No single number would put another cause first unless it were off by a factor of more than 1,000 in its odds. The nearest is ${assumptionWords(nearest, name)}: ${moveWords(nearest, nearest.overturns)}.`;
}

/** So many are named one by one. */
const MOST_NAMED = 6;
const someOf = (names: readonly string[]) =>
	names.length <= MOST_NAMED
		? names
		: [...names.slice(0, MOST_NAMED - 1), `${names.length - MOST_NAMED + 1} more`];

/** Whether the lead holds, and what stays settled, in sentences. */
export function firmSentences(robust: Robustness, lead: Lead | null, name: (id: string) => string): string[] {
	const { leader, leaderAt, error, close, survives, settled, assumptions } = robust;
	const leads = `${name(leader)} leads at ${percentSampled(leaderAt, error)}`;
	const level = lead?.level ?? [];
	const moves = assumptions.flatMap(({ lower, higher }) => [lower, higher].filter((moved) => moved !== null));
	const tooClose = moves.filter((moved) => moved.close !== undefined).length;
	const others = moves.filter((moved) => moved.leader !== leader && moved.close === undefined).length;
	const untold = assumptions.reduce((sum, one) => sum + (one.untold ?? 0), 0);
	const lost = settled.filter((id) => !survives.settled.includes(id));
	return [
		close !== undefined
			? `${leads}, so close to ${name(close)} that this sample can’t tell which of them leads.`
			: level.length > 1
				? `${listed(level.map(({ id }) => name(id)))} can’t be told apart, at ${percent(level[0]!.now)}: a hair decides which of them leads.`
				: survives.leader
					? `${leads}, and goes on leading with each starting weight ten times lower or higher and each other number one step down or up: ${moves.length} changes, one at a time.`
					: `${leads}, but not whatever one assumes: of ${moves.length} changes, one at a time, ${others} would put another cause first${tooClose === 0 ? '' : `, and after ${tooClose} two stand too close to tell`}.`,
		...(untold === 0
			? []
			: [
					`${untold} more ${untold === 1 ? 'change' : 'changes'} of a number can’t be told from this sample: too few of its states would count.`
				]),
		...(settled.length === 0
			? []
			: [
					lost.length === 0
						? `What is settled now (above 90 % or below 10 %) stays settled with each number moved so.`
						: `Settled now (above 90 % or below 10 %), but no longer with one of the numbers moved: ${listed(someOf(lost.map(name)))}.`
				]),
		...(error === undefined
			? []
			: ['The links assumed from what nobody has thought of stay here as they are now.'])
	];
}

/** Where one cause would stand if its starting weight were ten times lower, or higher where it does not lead. */
export function startSentence(
	{ lower, higher }: Pick<Swept, 'lower' | 'higher'>,
	id: string,
	lead: Lead | null,
	name: (id: string) => string
): string {
	if (lower?.own === undefined || higher?.own === undefined) return '';
	const level = lead?.level ?? [];
	const among = level.some((stand) => stand.id === id);
	const { own, ownError, leader, close } = among ? lower : higher;
	const at = `${percentSampled(own, ownError)}`;
	const start = `If its start were ten times ${among ? 'lower' : 'higher'} it would`;
	if (leader === id && close === undefined)
		return among ? `${start} still lead, at ${at}.` : `${start} stand at ${at} and lead.`;
	if (!among) return `${start} stand at ${at}.`;
	if (level.length > 1) return `${start} stand at ${at}, below those that it can’t be told apart from now.`;
	return leader === id
		? `${start} no longer lead clearly, at ${at}.`
		: `${start} stand at ${at}, below ${name(leader)}.`;
}

/** What leads with no cause preferred at the start. */
export function flatSentence(
	{ leaders, leaderAt }: NonNullable<Firm['flat']>,
	lead: Lead | null,
	name: (id: string) => string
): string {
	const names = listed(leaders.map(name));
	if (leaders.length > 1)
		return `With every cause starting equal, ${names} could not be told apart, at ${percent(leaderAt)}.`;
	const too = lead?.level.some(({ id }) => id === leaders[0]) ? ' too' : '';
	return `With every cause starting equal, ${names} would lead${too}, at ${percent(leaderAt)}.`;
}

/** What is declared dependent, counted once and as if it were not; null where it would make no difference. */
export function countedSentence(
	{ because, origin, causes }: DoubleCount,
	findings: string,
	name: (id: string) => string
): string | null {
	const [most] = causes;
	if (!most || Math.abs(most.apart - most.together) < 0.05) return null;
	const db = (x: number) => `${x < 0 ? '−' : '+'}${Math.abs(x).toFixed(1)} dB`;
	const why = because === 'origin' ? `rest on ${name(origin ?? '')}` : 'are one observation';
	return `${findings} ${why}: for ${name(most.id)} they count ${db(most.together)} together; apart it would have been ${db(most.apart)}.`;
}
