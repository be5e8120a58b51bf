import { type NodeWeight, wordForProbability } from '$lib/reasoning';
import type { TreeEvent } from '$lib/investigation/schema/anomaly';
import { isBranch } from '$lib/investigation/views/tree';
import { percent } from '$lib/investigation/views/weight-line';

/** The leading explanations in sentences: what stands highest, what it started from, and what is left unexplained. */
export function leadingSentences(
	events: Readonly<Record<string, TreeEvent>>,
	weights: Readonly<Record<string, NodeWeight>>
): string[] {
	const branches = Object.entries(events)
		.filter(([id, event]) => isBranch(event) && weights[id]?.givenAll != null)
		.map(([id, event]) => ({ event, now: weights[id]!.givenAll!, before: weights[id]!.givenTop }))
		.sort((a, b) => b.now - a.now);
	const named = branches.filter(({ event }) => !event.residual);
	const [first, second] = named;
	if (!first) return [];
	const sentences = [
		`“${first.event.title}” leads; given everything: ${wordForProbability(first.now)}, at ${percent(first.now)}${first.before === null ? '' : `; given only that it happened it stood at ${percent(first.before)}`}.`
	];
	if (second) {
		const near = second.now > 0.2;
		sentences.push(
			near
				? `“${second.event.title}” is not far behind at ${percent(second.now)}, and both may be true together.`
				: `Nothing else named stands above ${percent(second.now)}.`
		);
	}
	const residual = branches.find(({ event }) => event.residual);
	if (residual)
		sentences.push(`That the cause is something nobody has thought of still holds ${percent(residual.now)}.`);
	return sentences;
}

/** The named branch that stands highest, or null where nothing is weighed. */
export function leadingBranch(
	events: Readonly<Record<string, TreeEvent>>,
	weights: Readonly<Record<string, NodeWeight>>
): string | null {
	let best: string | null = null;
	for (const [id, event] of Object.entries(events)) {
		if (!isBranch(event) || event.residual) continue;
		if ((weights[id]?.givenAll ?? 0) > (best === null ? 0 : (weights[best]?.givenAll ?? 0))) best = id;
	}
	return best;
}
