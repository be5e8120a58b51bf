import type { Answered, Asked } from './weigh.worker';
import type { WeighRequest } from './weigh-case';

/** Longer than this and a newer question does not wait for the old answer. */
const PATIENCE_MS = 400;

/**
 * One worker, of whose questions only the newest counts: while it works, a newer question replaces the one that waits,
 * and a long computation that nobody needs any more is ended.
 */
export class Latest<Answer> {
	#worker: Worker | null = null;
	#asked: { id: number; at: number } | null = null;
	#next: WeighRequest | null = null;
	#count = 0;

	constructor(
		private readonly deeper: boolean,
		private readonly take: (answer: Answer, newest: boolean) => void,
		private readonly fail: (words: string) => void
	) {}

	ask(request: WeighRequest) {
		this.#next = request;
		if (this.#asked && performance.now() - this.#asked.at > PATIENCE_MS) this.#end();
		if (!this.#asked) this.#send();
	}

	/** Makes ready for questions that may come, where nothing is being asked. */
	prepare(requests: readonly WeighRequest[]) {
		if (this.#asked || !this.#worker) return;
		for (const request of requests) {
			const asked: Asked = { id: 0, deeper: this.deeper, ahead: true, request };
			this.#worker.postMessage(asked);
		}
	}

	/** Ends the work in hand, whose answer is no longer wanted; an idle worker keeps what it holds. */
	drop() {
		this.#next = null;
		if (this.#asked) this.#end();
	}

	/** Ends the work in hand and forgets what waits. */
	stop() {
		this.#next = null;
		this.#end();
	}

	#end() {
		this.#worker?.terminate();
		this.#worker = null;
		this.#asked = null;
	}

	#send() {
		if (!this.#next) return;
		const asked: Asked = { id: ++this.#count, deeper: this.deeper, request: this.#next };
		this.#next = null;
		this.#asked = { id: asked.id, at: performance.now() };
		this.#start().postMessage(asked);
	}

	#start(): Worker {
		if (this.#worker) return this.#worker;
		const worker = new Worker(new URL('./weigh.worker.ts', import.meta.url), { type: 'module' });
		worker.addEventListener('message', ({ data }: MessageEvent<Answered>) => {
			if (data.id !== this.#asked?.id) return;
			this.take(data.answer as Answer, this.#next === null && !data.more);
			if (data.more) return;
			this.#asked = null;
			this.#send();
		});
		worker.addEventListener('error', (event) => {
			this.#end();
			this.fail(`The weighing stopped: ${event.message || 'its worker could not be started'}.`);
		});
		this.#worker = worker;
		return worker;
	}
}
