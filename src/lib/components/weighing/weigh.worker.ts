/** Weighs off the page, so that no keystroke waits. Keeps the last diagrams: a changed number re-uses them. */
import {
	argue,
	type Argued,
	type Deeper,
	howFirm,
	lookDeeper,
	stepByStep,
	type Told,
	weighCase,
	type Weighed,
	type WeighRequest,
	whatEachDid,
	whatItWouldDo,
	whatMatters
} from './weigh-case';

export interface Asked {
	id: number;
	deeper: boolean;
	/** Nobody asks yet: only makes ready what an answer would need. */
	ahead?: boolean;
	request: WeighRequest;
}
export interface Answered {
	id: number;
	answer: Weighed | Told | Argued | Deeper | ReturnType<typeof howFirm | typeof whatItWouldDo>;
	/** A better answer to the same question follows, or the rest of it. */
	more: boolean;
}

addEventListener('message', ({ data: { id, deeper, ahead, request } }: MessageEvent<Asked>) => {
	const answer = (answer: Answered['answer'], more = false) => {
		const answered: Answered = { id, answer, more };
		postMessage(answered);
	};
	if (request.apart) return answer(whatItWouldDo(request, request.apart));
	if (deeper) {
		answer(whatEachDid(request), true);
		const argued = request.argued ? argue(request, request.argued) : null;
		if (argued) answer(argued, true);
		answer(lookDeeper(request), true);
		if (argued) {
			argued.matters = whatMatters(request);
			answer(argued, true);
			if (argued.steps === undefined) answer({ ...argued, steps: stepByStep(request, argued.argued) }, true);
		}
		answer(howFirm(request));
		return;
	}
	// With the links that were assumed before, an answer is there at once; the exact one follows where they changed.
	if (ahead) return void weighCase({ ...request, trying: true });
	const first = weighCase({ ...request, trying: true });
	const more = first.ok && first.stale && !request.trying;
	answer(first, more);
	if (more) answer(weighCase(request));
});
