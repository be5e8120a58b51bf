/** Weighs off the page, so that no keystroke waits. Keeps the last diagrams: a changed number re-uses them. */
import { type Deeper, lookDeeper, weighCase, type Weighed, type WeighRequest } from './weigh-case';

export interface Asked {
	id: number;
	deeper: boolean;
	request: WeighRequest;
}
export interface Answered {
	id: number;
	answer: Weighed | Deeper;
	/** A better answer to the same question follows. */
	more: boolean;
}

addEventListener('message', ({ data: { id, deeper, request } }: MessageEvent<Asked>) => {
	const answer = (answer: Weighed | Deeper, more = false) => {
		const answered: Answered = { id, answer, more };
		postMessage(answered);
	};
	if (deeper) return answer(lookDeeper(request));
	// With the links that were assumed before, an answer is there at once; the exact one follows where they changed.
	const first = weighCase({ ...request, trying: true });
	const more = first.ok && first.stale && !request.trying;
	answer(first, more);
	if (more) answer(weighCase(request));
});
