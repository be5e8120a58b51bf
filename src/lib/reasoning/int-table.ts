/** A map from three whole numbers to one, in typed arrays: no object and no garbage per entry. */
import { hash } from './diagram';

const WIDTH = 4;
const LEAST = 1 << 10;

export class IntTable {
	size = 0;
	/** Open addressing: three keys and the value plus one, so that 0 means empty. */
	private slots: Int32Array;
	private mask = LEAST - 1;

	/** @param expected so many entries at least have room from the start */
	constructor(expected = 0) {
		while (this.mask < 2 * expected) this.mask = 2 * this.mask + 1;
		this.slots = new Int32Array(WIDTH * (this.mask + 1));
	}

	/** The value, from 0 on, or -1. */
	get(a: number, b: number, c: number): number {
		return (this.slots[this.slotOf(a, b, c) + 3] as number) - 1;
	}

	set(a: number, b: number, c: number, value: number) {
		let slot = this.slotOf(a, b, c);
		if (this.slots[slot + 3] === 0 && ++this.size * 2 > this.mask) {
			this.grow();
			slot = this.slotOf(a, b, c);
		}
		this.put(slot, a, b, c, value + 1);
	}

	/** Where the entry stands, or is to stand. */
	private slotOf(a: number, b: number, c: number): number {
		const { slots, mask } = this;
		let at = hash(a, b, c) & mask;
		for (;;) {
			const slot = WIDTH * at;
			if (slots[slot + 3] === 0 || (slots[slot] === a && slots[slot + 1] === b && slots[slot + 2] === c))
				return slot;
			at = (at + 1) & mask;
		}
	}

	private put(slot: number, a: number, b: number, c: number, stored: number) {
		const { slots } = this;
		slots[slot] = a;
		slots[slot + 1] = b;
		slots[slot + 2] = c;
		slots[slot + 3] = stored;
	}

	/** Fourfold, as each time all entries move. */
	private grow() {
		const before = this.slots;
		this.mask = 4 * this.mask + 3;
		this.slots = new Int32Array(4 * before.length);
		for (let i = 0; i < before.length; i += WIDTH) {
			const stored = before[i + 3] as number;
			if (stored === 0) continue;
			const a = before[i] as number;
			const b = before[i + 1] as number;
			const c = before[i + 2] as number;
			this.put(this.slotOf(a, b, c), a, b, c, stored);
		}
	}
}
