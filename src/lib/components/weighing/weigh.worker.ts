/** Weighs off the page, so that no keystroke waits. Keeps the last diagrams: a changed number re-uses them. */
import { weighCase, type Weighed, type WeighRequest } from './weigh-case';

export interface Asked {
	id: number;
	request: WeighRequest;
}
export interface Answered {
	id: number;
	weighed: Weighed;
}

addEventListener('message', ({ data }: MessageEvent<Asked>) => {
	const answer: Answered = { id: data.id, weighed: weighCase(data.request) };
	postMessage(answer);
});
