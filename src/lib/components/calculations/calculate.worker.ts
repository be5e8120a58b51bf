/** Runs calculations off the page: a rough answer first, then ever sharper ones, with progress. A newer question ends the older. */
import { calculationById } from '$lib/calculations/registry';
import { type CalculationResult, calculationSteps, type Request } from '$lib/calculations/run';
import type { Problem } from '$lib/calculations/inputs';

export interface Asked {
	/** Rises with every question; 0 ends the work in hand. */
	id: number;
	calculation: string;
	request: Request;
}
export type Answered =
	| { id: number; progress: number }
	| { id: number; result: CalculationResult; final: boolean; ms: number }
	| { id: number; problem: Problem };

/** Enough for a first picture. */
const ROUGH = 200;
/** How long the worker computes before it listens again. */
const SLICE_MS = 24;

let newest = 0;
addEventListener('message', ({ data }: MessageEvent<Asked>) => {
	newest = data.id;
	// What fails here must reach the page as an error of this worker.
	if (data.id > 0)
		answer(data).catch((error: unknown) =>
			setTimeout(() => {
				throw error;
			})
		);
});

const post = (answered: Answered) => postMessage(answered);

async function answer({ id, calculation, request }: Asked) {
	const full = request.samples ?? ROUGH;
	const stages = stagesOf(full);
	const all = stages.reduce((sum, samples) => sum + samples, 0);
	let done = 0;
	for (const samples of stages) {
		const share = (step: number) => (done + step * samples) / all;
		if (!(await run(id, calculation, { ...request, samples }, samples === full, share))) return;
		done += samples;
	}
}

/** Samples of each answer: five times as many as for the one before, which costs a quarter more than the last alone. */
function stagesOf(full: number): number[] {
	const stages = [full];
	for (let samples = Math.ceil(full / 5); samples > ROUGH; samples = Math.ceil(samples / 5))
		stages.unshift(samples);
	return full > 2 * ROUGH ? [ROUGH, ...stages] : stages;
}

/** True if there is a result and the question still stands. */
async function run(
	id: number,
	name: string,
	request: Request,
	final: boolean,
	share: (step: number) => number
): Promise<boolean> {
	const calculation = calculationById(name);
	if (!calculation) throw new Error(`there is no calculation ${name}`);
	const started = performance.now();
	const steps = calculationSteps(calculation, request);
	for (let slice = started; ;) {
		const step = steps.next();
		if (step.done) {
			if (step.value.ok) post({ id, result: step.value.value, final, ms: performance.now() - started });
			else post({ id, problem: step.value.error });
			return step.value.ok;
		}
		if (performance.now() - slice < SLICE_MS) continue;
		post({ id, progress: share(step.value) });
		await new Promise((resume) => setTimeout(resume));
		if (newest !== id) return false;
		slice = performance.now();
	}
}
