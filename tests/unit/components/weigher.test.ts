import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Answered, Asked } from '$lib/components/weighing/weigh.worker';
import type { WeighRequest } from '$lib/components/weighing/weigh-case';
import { Weigher } from '$lib/components/weighing/weigher.svelte';

/** Workers that answer when the test says so. */
class FakeWorker {
	static made: FakeWorker[] = [];
	asked: Asked[] = [];
	private take: (event: { data: Answered }) => void = () => {};
	constructor() {
		FakeWorker.made.push(this);
	}
	addEventListener(type: string, take: (event: { data: Answered }) => void) {
		if (type === 'message') this.take = take;
	}
	postMessage(asked: Asked) {
		this.asked.push(asked);
	}
	terminate() {}
	answer(answer: unknown, more = false) {
		this.take({ data: { id: this.asked.at(-1)!.id, answer: answer as Answered['answer'], more } });
	}
}

const request = (p: number, argued: string | null = null): WeighRequest => ({
	model: { events: [{ id: 'A', p }] },
	residual: null,
	byDefault: [],
	trying: false,
	argued
});
const asked = (deeper: boolean) =>
	FakeWorker.made.flatMap((worker) => worker.asked).filter((one) => one.deeper === deeper).length;
const firm = { robust: null };

describe('the slower answers', () => {
	let weigher: Weigher;
	const first = () => FakeWorker.made[0]!.answer({ ok: true });
	const slow = () => FakeWorker.made.findLast((worker) => worker.asked[0]?.deeper)!;
	beforeEach(() => {
		vi.useFakeTimers();
		vi.stubGlobal('Worker', FakeWorker);
		FakeWorker.made = [];
		weigher = new Weigher();
		weigher.ask(request(0.1));
		first();
		vi.advanceTimersByTime(200);
		slow().answer({ firm });
	});
	afterEach(() => {
		vi.useRealTimers();
		vi.unstubAllGlobals();
	});

	it('do not stand beside newer numbers for longer than a moment', () => {
		expect(weigher.firm).toBe(firm);
		weigher.ask(request(0.2));
		vi.advanceTimersByTime(5000);
		expect(weigher.firm, 'the numbers are still those of before').toBe(firm);
		first();
		expect(weigher.firm).toBe(firm);
		vi.advanceTimersByTime(2000);
		expect(weigher.firm).toBeNull();
		const next = { robust: null };
		slow().answer({ firm: next });
		expect(weigher.firm).toBe(next);
	});
	it('stand where nothing that is weighed has changed, and only a new argument is worked out', () => {
		weigher.ask(request(0.1));
		expect([asked(false), asked(true), weigher.working]).toEqual([1, 1, false]);
		weigher.ask(request(0.1, 'A'));
		first();
		vi.advanceTimersByTime(2000);
		expect(weigher.firm).toBe(firm);
		expect(asked(true)).toBe(2);
		weigher.ask(request(0.1));
		expect(asked(false)).toBe(2);
	});
});
