import { getContext, setContext } from 'svelte';
import { page } from '$app/state';
import { chainOf, toFollow } from '$lib/investigation/views/changed-sources';
import type { OpenInvestigation } from '../case/open-case.svelte';
import { worker } from '../case/worker.svelte';
import { computeAgain } from './keep';

/** Several values that are corrected at once are followed once. */
const SETTLES_MS = 300;

/** Computes again, as soon as values of the case change, what weighs on a tree by them; of which any page may tell. */
export class FollowsCase {
	/** Runs that were computed again on this page, and what came of those that could not be, by id. */
	done = $state.raw<readonly string[]>([]);
	problems = $state.raw<Readonly<Record<string, string>>>({});
	/** Run that is being computed again. */
	underway = $state<string | null>(null);
	/** By run, the change that was tried last: what fails, or comes out as before, waits for a press. */
	readonly #tried: Record<string, string> = {};

	readonly #open: () => OpenInvestigation;

	constructor(open: () => OpenInvestigation) {
		this.#open = open;
		$effect(() => {
			const inv = open();
			if (this.underway !== null || worker.name === '') return;
			const next = Object.entries(inv.file.calculations).find(([id, run]) => {
				// A run that lies open is its reader's to compute.
				if (!run.likelihood?.use || page.url.pathname.endsWith(`/calculations/${id}`)) return false;
				const change = toFollow(inv.file, run);
				if (change === '') this.#tried[id] = '';
				return change !== null && change !== (this.#tried[id] ?? '');
			});
			if (!next) return;
			const timer = setTimeout(() => void this.compute(next[0], true), SETTLES_MS);
			return () => clearTimeout(timer);
		});
	}

	/** Computes runs again with all that they rest on, each after those that it takes values from. */
	async computeChain(wanted: readonly string[]) {
		for (const id of chainOf(this.#open().file, wanted)) await this.compute(id);
	}

	/** @param unasked because the case has changed, and not because somebody pressed for it */
	async compute(id: string, unasked = false) {
		const inv = this.#open();
		const run = inv.file.calculations[id];
		if (!run || this.underway !== null) return;
		this.#tried[id] = toFollow(inv.file, run) ?? '';
		this.underway = id;
		const problem = await computeAgain(inv, id, unasked).catch((error: unknown) => String(error));
		const { [id]: _, ...others } = this.problems;
		this.problems = problem === null ? others : { ...others, [id]: problem };
		if (problem === null) this.done = [...this.done.filter((other) => other !== id), id];
		this.underway = null;
	}
}

const KEY = Symbol('follows the case');
export const followTheCase = (open: () => OpenInvestigation) => setContext(KEY, new FollowsCase(open));
export const useFollowing = (): FollowsCase => getContext<FollowsCase>(KEY);
