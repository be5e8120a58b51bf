/**
 * Minimal cut sets of the top event, without evidence, as a zero-suppressed diagram.
 *
 * Prime implicants of f = (x, f1, f0) are those of f1·f0; x with those of f1 that are not among them; and 'not x' with
 * those of f0 that are not among them (Coudert & Madre 1992). In a coherent tree f1·f0 = f0 and nothing is negated, so
 * they are the minimal cut sets (Rauzy 1993).
 */
import type { CutSetFamily } from './cut-sets';
import { FALSE, TRUE } from './diagram';
import { IntTable } from './int-table';
import { layOut, SINKS, type Program } from './program';
import { SetFamily, TooManyCutSets } from './set-family';
import type { Structure } from './structure';

/** A limit so long is none. */
const LONGEST = 10_000;
/** For each entry, one bit for each number of events that a set may still hold. */
const MOST_BITS = 30;

/**
 * The family of minimal cut sets (prime implicants where there is negation), impossible ones (two exclusive events)
 * left out.
 * @param order largest number of elements in a set
 * @throws {TooManyCutSets} when the family outgrows the limit
 */
export function cutSetFamily(structure: Structure, order: number, maxNodes: number): CutSetFamily {
	const { diagram, top, both, topProgram, coherent, exclusiveLevels } = structure;
	const sets = new SetFamily(maxNodes);
	const inOnePass = coherent && (order <= MOST_BITS || order >= LONGEST);
	const root = inOnePass
		? minimalSets(sets, top === both ? topProgram : layOut(diagram, top), order)
		: primeImplicants(sets, structure, order, maxNodes);
	return { sets, root: withoutPairs(sets, root, exclusiveLevels) };
}

/**
 * In a coherent tree one pass down says which families are needed, by entry and by the number of events that there is
 * still room for; one pass up puts them together.
 */
function minimalSets(sets: SetFamily, program: Program, order: number): number {
	const { root, size, levels, high, low } = program;
	// Without a limit there is always the same room, so that one family an entry is enough.
	const taken = order < LONGEST ? 1 : 0;
	const most = taken ? order : 0;
	const least = taken ? leastFailures(program) : new Int32Array(size);
	const needed = new Int32Array(size + SINKS);
	needed[root] = 1 << most;
	for (let entry = size - 1; entry > 1; entry--) {
		const fewest = least[entry] as number;
		const rooms = fewest > most ? 0 : (needed[entry] as number) & (-1 << fewest);
		needed[entry] = rooms;
		if (rooms === 0) continue;
		const fewer = rooms >> taken;
		needed[high[entry] as number] = (needed[high[entry] as number] as number) | fewer;
		needed[low[entry] as number] = (needed[low[entry] as number] as number) | rooms | fewer;
	}
	const width = most + 1;
	const family = new Int32Array((size + SINKS) * width).fill(1, width, 2 * width);
	for (let entry = 2; entry < size; entry++) {
		const withIt = (high[entry] as number) * width - taken;
		const without = (low[entry] as number) * width;
		for (let room = 0, rooms = needed[entry] as number; rooms !== 0; room++, rooms >>= 1) {
			if ((rooms & 1) === 0) continue;
			const less = family[without + room - taken] as number;
			const positive = sets.difference(family[withIt + room] as number, less);
			family[entry * width + room] = sets.node(
				2 * (levels[entry] as number),
				positive,
				family[without + room] as number
			);
		}
	}
	return family[root * width + most] as number;
}

/** By entry of a coherent tree's top: the fewest events that make it true. */
function leastFailures({ size, high, low }: Program): Int32Array {
	const least = new Int32Array(size + SINKS).fill(LONGEST);
	least[1] = 0;
	for (let entry = 2; entry < size; entry++) {
		const withIt = 1 + (least[high[entry] as number] as number);
		const without = least[low[entry] as number] as number;
		least[entry] = withIt < without ? withIt : without;
	}
	return least;
}

/** Where there is negation, or a limit of very many events. */
function primeImplicants(
	sets: SetFamily,
	{ diagram, top }: Structure,
	order: number,
	maxNodes: number
): number {
	const known = new IntTable();
	const limited = order < LONGEST;
	const simple = (edge: number, room: number) =>
		edge === FALSE ? 0 : edge === TRUE ? 1 : known.get(edge, room, 0);
	/** Functions begun along the sets without their variable; a list, as there may be thousands. */
	const open: number[] = [];
	const primes = (start: number, room: number): number => {
		if (room < 0) return 0;
		const begun = open.length;
		let edge = start;
		let result = simple(edge, room);
		while (result < 0) {
			open.push(edge);
			const level = diagram.level(edge);
			edge = diagram.and(diagram.high(edge, level), diagram.low(edge, level));
			result = simple(edge, room);
		}
		while (open.length > begun) {
			const at = open.pop() as number;
			const level = diagram.level(at);
			const high = diagram.high(at, level);
			const low = diagram.low(at, level);
			const left = limited ? room - 1 : room;
			const less = primes(diagram.and(high, low), left);
			const positive = sets.difference(primes(high, left), less);
			const negative = sets.difference(primes(low, left), less);
			result = sets.node(2 * level, positive, sets.node(2 * level + 1, negative, result));
			if (known.size >= maxNodes) throw new TooManyCutSets();
			known.set(at, room, 0, result);
		}
		return result;
	};
	return primes(top, limited ? order : 0);
}

/** Leaves out the sets that hold two exclusive events. */
function withoutPairs(sets: SetFamily, root: number, groups: readonly (readonly number[])[]): number {
	let family = root;
	for (const group of groups) {
		const members = new Set(group.map((level) => 2 * level));
		const known = new Map<number, number>();
		/** Sets of the family with at most one member more (`room` 1) or none (`room` 0). */
		const keep = (at: number, room: number): number => {
			if (at < 2) return at;
			const key = at * 2 + room;
			const before = known.get(key);
			if (before !== undefined) return before;
			const element = sets.elements[at] as number;
			const member = members.has(element);
			const withIt = member && room === 0 ? 0 : keep(sets.withIt[at] as number, member ? 0 : room);
			const result = sets.node(element, withIt, keep(sets.without[at] as number, room));
			known.set(key, result);
			return result;
		};
		family = keep(family, 1);
	}
	return family;
}
