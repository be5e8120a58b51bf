import type { Quantity } from '$lib/quantity/quantity';
import type { Investigation } from '../case';
import type { Change, ChangeStep } from '../schema/change';
import { judge, presentLife, sharedDimension, type Verdict } from './change-life';
import { cited, shows } from './citations';
import { isTest, standingPrediction } from './predictions';
import { timed } from './timeline';

/** States that rest on a proof. */
const PROVEN: ReadonlySet<string> = new Set(['verified', 'flown', 'closed']);

/**
 * Why what verified or closed a change proves it no longer: evidence cited there was withdrawn, or says something else
 * now. Empty where the proof stands, or none is claimed.
 */
export function provesNoLonger(file: Pick<Investigation, 'evidence'>, change: Change): string[] {
	if (!PROVEN.has(change.state)) return [];
	const life = presentLife(change);
	const steps = life.slice(life.findLastIndex(({ state }) => state === 'verified'));
	const proofs = steps.filter(({ state }) => state === 'verified' || state === 'closed');
	const faults = proofs.flatMap(({ cites, said = {} }) => cites.map((id) => faultOf(file, id, said[id])));
	return [...new Set(faults)].filter((fault) => fault !== '');
}

function faultOf({ evidence }: Pick<Investigation, 'evidence'>, id: string, said: string | undefined) {
	const item = evidence[id];
	if (!item) return '';
	if (item.withdrawn) return `E${item.number} was withdrawn: “${item.withdrawn.reason}”.`;
	const now = saidBy({ evidence }, id);
	return said === undefined || said === now
		? ''
		: `E${item.number} was corrected: it said “${said}” and says “${now}” now.`;
}

/** What evidence says otherwise by now than it said then, in sentences. */
export const changedSince = (
	file: Pick<Investigation, 'evidence'>,
	said: Readonly<Record<string, string>> = {}
): string[] => Object.entries(said).flatMap(([id, then]) => faultOf(file, id, then) || []);

/** [C14] The change as it stands: without its proof it is made, no more. */
export const asItStands = (file: Pick<Investigation, 'evidence'>, change: Change): Change =>
	provesNoLonger(file, change).length === 0 ? change : { ...change, state: 'made' };

/** What an item says, in one line; '' where it is no number and no result. */
export function saidBy({ evidence }: Pick<Investigation, 'evidence'>, id: string): string {
	const item = evidence[id];
	const value = numberOf(item);
	const text = value?.text ?? '';
	return isTest(item) ? [text, item.result].filter(Boolean).join('; ') : text;
}

/** What each cited item says now, kept with a step so that a correction shows. */
export const saidNow = (file: Investigation, cites: readonly string[]): Record<string, string> =>
	Object.fromEntries(cites.map((id) => [id, saidBy(file, id)] as const).filter(([, said]) => said !== ''));

const numberOf = (item: Investigation['evidence'][string] | undefined): Quantity | null =>
	item?.kind === 'test' || item?.kind === 'measurement' ? item.value : null;

const WORST: readonly Verdict[] = ['fails', 'mayNotMeet', 'meets'];

/**
 * [C12] The number by which cited tests and measurements are judged: of those that can be compared, the one that meets
 * the criterion least. Null where none says a number of that kind.
 */
export function provenBy(
	file: Pick<Investigation, 'evidence'>,
	criterion: Change['criterion'],
	cites: readonly string[]
): Quantity | null {
	if (!criterion) return null;
	const judged = cites.flatMap((id) => {
		const said = numberOf(file.evidence[id]);
		return said && sharedDimension(criterion.value, said) ? [{ said, ...judge(criterion, said) }] : [];
	});
	/** How far the nearer end lies inside, SI; below 0 it lies outside. */
	const inside = ({ low, high, from, to }: (typeof judged)[number]) =>
		Math.min(from === null ? Infinity : low - from, to === null ? Infinity : to - high);
	judged.sort((a, b) => WORST.indexOf(a.verdict) - WORST.indexOf(b.verdict) || inside(a) - inside(b));
	return judged[0]?.said ?? null;
}

/**
 * [C13] Cited evidence that is older than the step 'made': it may show another part than the one that was made. Only
 * where both times are known.
 */
export function olderThanMade(file: Investigation, change: Change, cites: readonly string[]): string[] {
	const made = presentLife(change).findLast(({ state }) => state === 'made');
	return made
		? cites.filter((id) => latest(file, id) < Date.parse(made.at)).map((id) => cited(file, id)!.label)
		: [];
}

/** The latest moment that an item can be of, milliseconds after 1970; Infinity where nobody knows. */
function latest(file: Investigation, id: string): number {
	const at = file.evidence[id]?.at;
	const trueS = at && timed(file, at).trueS;
	// A reading to the day or the minute stands at its middle.
	if (at && trueS != null)
		return (trueS + (at.kind === 'clock' && at.reading.length === 10 ? 43_200 : 30)) * 1000;
	const entered = standingPrediction(file, id)?.[1].resultAt;
	return entered ? Date.parse(entered) : Infinity;
}

/** Tests made to prove this change whose result is in, counts, and is not older than the change as it was made. */
export function proofTests(file: Investigation, changeId: string, change: Change): string[] {
	const ids = Object.entries(file.evidence).flatMap(([id, item]) =>
		isTest(item) && item.proves === changeId && shows(file, id) ? [id] : []
	);
	const older = olderThanMade(file, change, ids);
	return ids.filter((id) => !older.includes(cited(file, id)!.label));
}

/** A measured number that was kept although it failed: the step says so itself. */
export const failed = (
	criterion: Change['criterion'],
	{ state, value }: Pick<ChangeStep, 'state' | 'value'>
) =>
	state === 'reopened' && criterion !== null && value !== null && judge(criterion, value).verdict === 'fails';
