import { Latest } from './latest';
import type { Firm } from '$lib/investigation/views/firm';
import type { Argued, Deeper, Told, Weighed, WeighRequest } from './weigh-case';

/** The slower questions wait until an answer has stood for this long. */
const PAUSE_MS = 150;
/** A hand that rests on a sign for this long may be about to turn it. */
const RESTS_MS = 60;
/** So long the slower answers of before may stand beside newer numbers. */
const STALE_MS = 1000;

const NOTHING = { told: null, deeper: null, argued: null, firm: null };

interface Slower {
	told: Told | null;
	deeper: Deeper | null;
	argued: Argued | null;
	firm: Firm | null;
}

/** Weighs an anomaly in a worker and keeps the newest answer; the slower answers follow from a second worker. */
export class Weigher {
	/** The newest answer; null until the first. */
	answer = $state.raw<Weighed | null>(null);
	/** The slower answers, each null until it is there; those of before stand for a moment while they are worked out anew. */
	#slower = $state.raw<Slower>(NOTHING);
	/** As far as they are of the newest answer. */
	#fresh: Slower = NOTHING;
	/** A newer question is being worked on. */
	working = $state(false);
	/** What each piece of evidence did. */
	get told() {
		return this.#slower.told;
	}
	get deeper() {
		return this.#slower.deeper;
	}
	/** The argument about one event, where one is asked for. */
	get argued() {
		return this.#slower.argued;
	}
	/** What would change the answer; the last to come. */
	get firm() {
		return this.#slower.firm;
	}
	#pause: ReturnType<typeof setTimeout> | undefined;
	#rests: ReturnType<typeof setTimeout> | undefined;
	#stale: ReturnType<typeof setTimeout> | undefined;
	#asked: WeighRequest | null = null;
	/** What was asked last, but for the event that is argued. */
	#key = '';
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
			this.#key = '';
		}
	);
	#look = new Latest<Told | Argued | Deeper | { firm: Firm | null }>(
		true,
		(answer) => {
			const came: Partial<Slower> =
				'contributions' in answer
					? { told: answer }
					: 'argued' in answer
						? { argued: answer }
						: 'firm' in answer
							? answer
							: { deeper: answer };
			this.#fresh = { ...this.#fresh, ...came };
			this.#slower = { ...this.#slower, ...came };
		},
		() => {
			this.#slower = NOTHING;
			this.#key = '';
		}
	);

	ask(request: WeighRequest) {
		const key = JSON.stringify({ ...request, argued: null });
		const isSame = key === this.#key;
		// Nothing that is weighed has changed: what is there, or on its way, stands.
		if (isSame && (!request.argued || request.argued === this.#asked?.argued)) return;
		if (!isSame) this.#fresh = NOTHING;
		this.#key = key;
		this.working = true;
		this.#asked = request;
		this.#weigh.ask(request);
		// What takes longer would hold the processor against the answer that a person waits for.
		clearTimeout(this.#pause);
		clearTimeout(this.#rests);
		clearTimeout(this.#stale);
		this.#look.drop();
	}

	#lookLater() {
		const request = this.#asked;
		if (!request || request.trying) return;
		this.#pause = setTimeout(() => this.#look.ask(request), PAUSE_MS);
		this.#stale = setTimeout(() => (this.#slower = this.#fresh), STALE_MS);
	}

	/** What may be asked next is made ready while nothing else is to be done. */
	expect(requests: () => WeighRequest[]) {
		clearTimeout(this.#rests);
		this.#rests = setTimeout(() => this.#weigh.prepare(requests()), RESTS_MS);
	}

	stop() {
		this.#key = '';
		clearTimeout(this.#pause);
		clearTimeout(this.#rests);
		clearTimeout(this.#stale);
		this.#weigh.stop();
		this.#look.stop();
	}
}
