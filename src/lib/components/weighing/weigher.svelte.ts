import type { Answered, Asked } from './weigh.worker';
import type { Weighed, WeighRequest } from './weigh-case';

/** Longer than this and a newer question does not wait for the old answer. */
const PATIENCE_MS = 400;

/**
 * Asks the worker and keeps the newest answer. While it works only the newest question waits, so that a slider
 * dragged over a slow tree never builds a queue.
 */
export class Weigher {
	/** The newest answer; null until the first. */
	answer = $state.raw<Weighed | null>(null);
	/** A newer question is being worked on. */
	working = $state(false);
	#worker: Worker | null = null;
	#asked: { id: number; at: number } | null = null;
	#next: WeighRequest | null = null;
	#count = 0;

	ask(request: WeighRequest) {
		this.#next = request;
		this.working = true;
		if (this.#asked && performance.now() - this.#asked.at > PATIENCE_MS) this.stop();
		if (!this.#asked) this.#send();
	}

	/** Ends the work in hand; the next question starts afresh. */
	stop() {
		this.#worker?.terminate();
		this.#worker = null;
		this.#asked = null;
	}

	#send() {
		if (!this.#next) return;
		const asked: Asked = { id: ++this.#count, request: this.#next };
		this.#next = null;
		this.#asked = { id: asked.id, at: performance.now() };
		this.#start().postMessage(asked);
	}

	#start(): Worker {
		if (this.#worker) return this.#worker;
		const worker = new Worker(new URL('./weigh.worker.ts', import.meta.url), { type: 'module' });
		worker.addEventListener('message', ({ data }: MessageEvent<Answered>) => {
			if (data.id !== this.#asked?.id) return;
			this.#settle(data.weighed);
		});
		worker.addEventListener('error', (event) => {
			this.stop();
			this.#settle({
				ok: false,
				problems: [`The weighing stopped: ${event.message || 'the worker failed'}.`]
			});
		});
		this.#worker = worker;
		return worker;
	}

	#settle(weighed: Weighed) {
		this.#asked = null;
		this.answer = weighed;
		this.working = this.#next !== null;
		this.#send();
	}
}
