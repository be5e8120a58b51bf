import type { Finding } from '$lib/investigation/schema/anomaly';
import type { Telling } from './telling';

export const ORDERS = {
	number: 'as written',
	telling: 'what tells most',
	name: 'by name',
	state: 'not examined first'
} as const;
export type Order = keyof typeof ORDERS;

const RANK = { notExamined: 0, present: 1, absent: 2 };

/** Moves a branch by less than this and a finding tells nothing: it is as likely under all. */
const TELLS = 0.05;

/** It was looked at, and is as likely under all causes. */
export const isIdle = (finding: Finding, tell: Telling | undefined): boolean =>
	finding.state !== 'notExamined' && tell !== undefined && tell.most < TELLS;

/** Findings in an order; those alike in it by their numbers. */
export function inOrder(
	findings: readonly [string, Finding][],
	order: Order,
	tells: ReadonlyMap<string, Telling>
): [string, Finding][] {
	const most = (id: string) => tells.get(id)?.most ?? -1;
	const by: Record<Order, (a: [string, Finding], b: [string, Finding]) => number> = {
		number: () => 0,
		// Two that settle it alone are alike, and Infinity less itself is no number.
		telling: ([a], [b]) => (most(a) === most(b) ? 0 : most(b) - most(a)),
		name: ([, a], [, b]) => a.statement.localeCompare(b.statement, 'en', { numeric: true }),
		state: ([, a], [, b]) => RANK[a.state] - RANK[b.state]
	};
	return findings.toSorted((a, b) => by[order](a, b) || a[1].number - b[1].number);
}

/** The same with rows where they stood when they were ordered last, new ones at the end: none moves under a hand. */
export function asTheyStood(
	findings: readonly [string, Finding][],
	stood: readonly string[]
): [string, Finding][] {
	const place = new Map(stood.map((id, at) => [id, at]));
	const at = (id: string) => place.get(id) ?? stood.length;
	return findings.toSorted(([a], [b]) => at(a) - at(b));
}
