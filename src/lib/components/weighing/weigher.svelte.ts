import { Latest } from './latest';
import type { Firm } from '$lib/investigation/views/firm';
import type { Argued, Deeper, Told, Weighed, WeighRequest } from './weigh-case';

/** The slower questions wait until an answer has stood for this long. */
const PAUSE_MS = 150;
/** A hand that rests on a sign for this long may be about to turn it. */
const RESTS_MS = 60;

/** Weighs an anomaly in a worker and keeps the newest answer; the slower answers follow from a second worker. */
export class Weigher {
	/** The newest answer; null until the first. */
	answer = $state.raw<Weighed | null>(null);
	/** What each piece of evidence did; follows the answer, and is kept while it is worked out anew. */
	told = $state.raw<Told | null>(null);
	/** What takes longer; null until it is there, and kept while it is worked out anew. */
	deeper = $state.raw<Deeper | null>(null);
	/** The argument about one event, where one is asked for; kept while it is worked out anew. */
	argued = $state.raw<Argued | null>(null);
	/** What would change the answer; the last to come, and kept while it is worked out anew. */
	firm = $state.raw<Firm | null>(null);
	/** A newer question is being worked on. */
	working = $state(false);
	#pause: ReturnType<typeof setTimeout> | undefined;
	#rests: ReturnType<typeof setTimeout> | undefined;
	#asked: WeighRequest | null = null;
	#weigh = new Latest<Weighed>(
		false,
		(answer, newest) => {
			this.answer = answer;
			this.working = !newest;
			if (newest) this.#lookLater();
		},
		(words) => {
			this.answer = { ok: false, problems: [words] };
			this.working = false;
		}
	);
	#look = new Latest<Told | Argued | Deeper | { firm: Firm | null }>(
		true,
		(answer) => {
			if ('contributions' in answer) this.told = answer;
			else if ('argued' in answer) this.argued = answer;
			else if ('firm' in answer) this.firm = answer.firm;
			else this.deeper = answer;
		},
		() => (this.told = this.argued = this.deeper = this.firm = null)
	);

	ask(request: WeighRequest) {
		this.working = true;
		this.#asked = request;
		this.#weigh.ask(request);
		// What takes longer would hold the processor against the answer that a person waits for.
		clearTimeout(this.#pause);
		clearTimeout(this.#rests);
		this.#look.drop();
	}

	#lookLater() {
		const request = this.#asked;
		if (request && !request.trying) this.#pause = setTimeout(() => this.#look.ask(request), PAUSE_MS);
	}

	/** What may be asked next is made ready while nothing else is to be done. */
	expect(requests: () => WeighRequest[]) {
		clearTimeout(this.#rests);
		this.#rests = setTimeout(() => this.#weigh.prepare(requests()), RESTS_MS);
	}

	stop() {
		clearTimeout(this.#pause);
		clearTimeout(this.#rests);
		this.#weigh.stop();
		this.#look.stop();
	}
}
