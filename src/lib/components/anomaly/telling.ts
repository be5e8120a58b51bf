import { decibans } from '$lib/reasoning';
import { isBranch } from '$lib/investigation/views/tree';
import type { AnomalyDesk } from './desk.svelte';

export interface Telling {
	/** The most by which it moves any branch, decibans without sign; infinite where it settles one. */
	most: number;
	/** That branch, and by how much with its sign. */
	branch: string;
	db: number;
}

/** How much each piece of evidence tells, by its identity; one that was not examined tells nothing. */
export function tellings(desk: AnomalyDesk): Map<string, Telling> {
	const found = new Map<string, Telling>();
	const branches = Object.keys(desk.events).filter((id) => isBranch(desk.events[id]!));
	for (const piece of desk.contributions) {
		let best: Telling = { most: 0, branch: '', db: 0 };
		for (const branch of branches) {
			const now = desk.withAll(branch);
			const without = desk.without(piece, branch);
			if (now == null || without === undefined) continue;
			const db = decibans(now, without);
			if (Math.abs(db) > best.most) best = { most: Math.abs(db), branch, db };
		}
		for (const each of [piece.id, ...piece.together]) found.set(each, best);
	}
	return found;
}

/** +3.1 dB, −12 dB, ∞. */
export const signedDecibans = (db: number): string =>
	`${db > 0 ? '+' : db < 0 ? '−' : ''}${Number.isFinite(db) ? Math.abs(db).toFixed(1) : '∞'} dB`;
