/** Runs calculations off the page: a rough answer first, then the full one, with progress. A newer question ends the older. */
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
	for (const samples of full > 2 * ROUGH ? [ROUGH, full] : [full]) {
		if (!(await run(id, calculation, { ...request, samples }, samples === full))) return;
	}
}

/** True if there is a result and the question still stands. */
async function run(id: number, name: string, request: Request, final: boolean): Promise<boolean> {
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
		if (final) post({ id, progress: step.value });
		await new Promise((resume) => setTimeout(resume));
		if (newest !== id) return false;
		slice = performance.now();
	}
}
