import type { Problem } from '$lib/calculations/inputs';
import { calculationById } from '$lib/calculations/registry';
import { type CalculationResult, type Request, runCalculation } from '$lib/calculations/run';
import type { Answered, Asked } from './calculate.worker';
import { startWorker } from './start-worker';

/** A rough run that is cheaper than this is done on the page itself, within the frame. */
const FRAME_MS = 8;
const ROUGH_SAMPLES = 100;

/** Keeps the answer to the newest question: roughly at once, then sharper as samples arrive. */
export class Runner {
	/** The newest answer, rough or full; stays in sight while a newer one is computed. */
	result = $state.raw<CalculationResult | null>(null);
	/** The result has all the samples asked for and answers the newest question. */
	final = $state(false);
	problem = $state.raw<Problem | null>(null);
	/** Share of the full run that is done; null while none runs. */
	progress = $state<number | null>(null);
	/** A person ended the run: the rough answer is all there is. */
	cancelled = $state(false);
	#worker: Worker | null = null;
	#id = 0;
	#roughMs = Infinity;
	#waiting: ((result: CalculationResult | null) => void)[] = [];

	ask(calculation: string, request: Request) {
		this.final = false;
		this.cancelled = false;
		this.progress = 0;
		this.#roughly(calculation, request);
		const asked: Asked = { id: ++this.#id, calculation, request };
		this.#start().postMessage(asked);
	}

	/** The full answer to the newest question, or null where there is none. */
	finished(): Promise<CalculationResult | null> {
		if (this.final) return Promise.resolve(this.result);
		if (this.progress === null) return Promise.resolve(null);
		return new Promise((settle) => this.#waiting.push(settle));
	}

	cancel() {
		this.#end();
		this.cancelled = true;
	}

	/** For good: the page is left. */
	stop() {
		this.#end();
		this.#worker?.terminate();
		this.#worker = null;
	}

	#end() {
		this.#id++;
		this.#worker?.postMessage({ id: 0 });
		this.progress = null;
		this.#settle(null);
	}

	#roughly(calculation: string, request: Request) {
		const known = calculationById(calculation);
		if (!known || this.#roughMs > FRAME_MS) return;
		const started = performance.now();
		const run = runCalculation(known, { ...request, samples: ROUGH_SAMPLES });
		this.#roughMs = performance.now() - started;
		if (run.ok) {
			this.result = run.value;
			this.problem = null;
		} else this.problem = run.error;
	}

	#start(): Worker {
		if (this.#worker) return this.#worker;
		const worker = startWorker();
		worker.addEventListener('message', ({ data }: MessageEvent<Answered>) => this.#take(data));
		worker.addEventListener('error', (event) => {
			this.#worker = null;
			this.problem = {
				path: '',
				message: `the calculation stopped: ${event.message || 'its worker failed'}`
			};
			this.progress = null;
			this.#settle(null);
		});
		this.#worker = worker;
		return worker;
	}

	#take(answered: Answered) {
		if (answered.id !== this.#id) return;
		if ('progress' in answered) this.progress = answered.progress;
		else if ('problem' in answered) {
			this.problem = answered.problem;
			this.progress = null;
			this.#settle(null);
		} else {
			const { result, final, ms } = answered;
			this.result = result;
			this.problem = null;
			this.final = final;
			if (final) this.progress = null;
			else this.#roughMs = (ms * ROUGH_SAMPLES) / result.samples;
			if (final) this.#settle(result);
		}
	}

	#settle(result: CalculationResult | null) {
		for (const settle of this.#waiting.splice(0)) settle(result);
	}
}
