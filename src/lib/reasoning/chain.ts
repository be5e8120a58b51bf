/**
 * One state of everything uncertain in a tree, and moves between states, for sampling where no diagram fits. Links and
 * base rates are summed out: a sign's probability given the state has a closed form.
 */
import type { Random } from '$lib/probability/generator';
import { mustBeOne } from './compile';
import type { Piece } from './contradiction';
import { holdsWith } from './gate-state';
import type { Likelihood, Observation, Resolved, ResolvedGate } from './resolve';

/** Stands for the logarithm of zero, so that an impossible state can still be tempered. */
export const LOG_ZERO = -700;

/** What tempers a move: exponents of the evidence, and cost of each given that does not hold. */
export interface Temper {
	/** By factor. */
	evidence: Float64Array;
	violation: number;
}

export interface State {
	/** By slot: nodes, then table rows, then origins (true: genuine). */
	slots: Uint8Array;
	/** Logarithm of each factor of the evidence; a given that does not hold is -1. */
	factors: Float64Array;
}

/** Moves the state that it was last told to use. */
export class Chain {
	slots: Uint8Array;
	factors: Float64Array;
	private readonly rowSlots: number[][];
	private readonly originSlot: number;
	private readonly firstGiven: number;
	/** By slot: the gates that it feeds, and the factors that look at it. */
	private readonly parents: Int32Array[];
	private readonly users: Int32Array[];
	/** By factor: the attempt that has last looked at it. */
	private readonly stamps: Int32Array;
	private stamp = 0;
	private readonly gateInputs: Int32Array[];
	private readonly linkFrom: Int32Array[];
	private readonly linkKeep: Float64Array[];
	private readonly logOdds: Float64Array;
	/** Slots that may be flipped alone. */
	private readonly free: number[] = [];
	/** What the last attempt has changed. */
	private readonly toggled: number[] = [];
	private toggles = 0;
	private readonly changedFactors: Int32Array;
	private readonly oldFactors: Float64Array;
	/** By factor, the most that any state could make of it. */
	private readonly logMost: Float64Array;
	/** By origin: what its reports weigh when it is not genuine. */
	private readonly logNotGenuine: number[];

	constructor(
		private readonly tree: Resolved,
		private readonly random: Random,
		private readonly given: readonly { node: number; value: boolean }[],
		private readonly withEvidence: boolean
	) {
		const { ids, gates, origins, observations, likelihoods, groupOf, house, p } = tree;
		let next = ids.length;
		this.rowSlots = gates.map(({ rows }) => rows.map(() => next++));
		this.originSlot = next;
		this.slots = new Uint8Array(next + origins.length);
		this.logOdds = new Float64Array(this.slots.length);
		const free = (slot: number, probability: number) => {
			this.logOdds[slot] = Math.log(probability) - Math.log1p(-probability);
			if (probability > 0 && probability < 1) this.free.push(slot);
		};
		p.forEach((probability, event) => {
			if (groupOf[event] === -1 && house[event] === undefined) free(event, probability);
		});
		gates.forEach(({ rows }, g) =>
			rows.forEach((probability, i) => free(this.rowSlots[g]?.[i] ?? 0, probability))
		);
		if (withEvidence) origins.forEach(({ reliability }, o) => free(this.originSlot + o, reliability));
		const evidence = withEvidence ? observations.length + likelihoods.length + origins.length : 0;
		this.firstGiven = evidence;
		this.factors = new Float64Array(evidence + given.length);

		const parents = this.slots.reduce<number[][]>((lists) => (lists.push([]), lists), []);
		gates.forEach(({ inputs }, g) => {
			for (const slot of [...inputs.map((input) => input >> 1), ...(this.rowSlots[g] ?? [])])
				parents[slot]?.push(g);
		});
		const users = parents.map((): number[] => []);
		const uses = (slot: number, factor: number) => users[slot]?.push(factor);
		if (withEvidence) {
			observations.forEach(({ links, reports }, o) => {
				for (const { from } of links) uses(from >> 1, o);
				for (const { origin } of reports) if (origin >= 0) uses(this.originSlot + origin, o);
			});
			likelihoods.forEach(({ scenarios }, l) => {
				for (const { event } of scenarios)
					if (event !== undefined) uses(event >> 1, observations.length + origins.length + l);
			});
			origins.forEach((_, o) => uses(this.originSlot + o, observations.length + o));
		}
		given.forEach(({ node }, i) => uses(node, evidence + i));
		this.parents = parents.map((list) => Int32Array.from(new Set(list)));
		this.users = users.map((list) => Int32Array.from(new Set(list)));
		this.stamps = new Int32Array(this.factors.length);
		this.changedFactors = new Int32Array(this.factors.length);
		this.oldFactors = new Float64Array(this.factors.length);
		this.logNotGenuine = origins.map((_, o) => logOfReports(tree, o));
		this.gateInputs = gates.map(({ inputs }) => Int32Array.from(inputs));
		this.linkFrom = observations.map(({ links }) => Int32Array.from(links, ({ from }) => from));
		this.logMost = new Float64Array(this.factors.length);
		if (withEvidence) {
			observations.forEach(({ reports, links, baseRate }, o) => {
				const made = reports.filter(({ state }) => state !== 'notExamined');
				const none = links.reduce((product, { p }) => product * (1 - p), 1 - baseRate);
				if (made.length > 0 && made.every(({ origin }) => origin < 0))
					this.logMost[o] = logOf(made[0]?.state === 'present' ? 1 - none : 1 - baseRate);
			});
			likelihoods.forEach(({ scenarios }, l) => {
				const most = Math.max(...scenarios.map(({ density }) => density));
				this.logMost[observations.length + origins.length + l] = logOf(most);
			});
		}
		this.linkKeep = observations.map(({ links }) => Float64Array.from(links, ({ p }) => 1 - p));
	}

	/** The most that the evidence could be in any state, seen or not. */
	mostUnder(exponents: Float64Array): number {
		return this.logMost.reduce((sum, log, f) => sum + log * (exponents[f] as number), 0);
	}

	/** Draws the events and rows from their starting weights. */
	drawPrior() {
		const { p, house, groupOf, exclusive } = this.tree;
		const { random } = this;
		p.forEach((probability, event) => {
			if (groupOf[event] === -1) this.slots[event] = Number(house[event] ?? random() < probability);
		});
		for (const group of exclusive) {
			let u = random();
			for (const event of group) {
				this.slots[event] = Number(u >= 0 && u < (p[event] as number));
				u -= p[event] as number;
			}
		}
		this.rowSlots.forEach((slots, g) =>
			slots.forEach((slot, i) => (this.slots[slot] = Number(random() < (this.tree.gates[g]?.rows[i] ?? 0))))
		);
	}

	/** After events and rows have been set: settles origins (drawn, where nothing else is said), gates and factors. */
	settle(isGenuine: (reliability: number) => boolean = (reliability) => this.random() < reliability) {
		this.tree.origins.forEach(
			({ reliability }, o) => (this.slots[this.originSlot + o] = Number(isGenuine(reliability)))
		);
		for (const gate of this.tree.order) this.slots[this.tree.eventCount + gate] = this.gateState(gate);
		for (let f = 0; f < this.factors.length; f++) this.factors[f] = this.factor(f);
	}

	setRow(gate: number, row: number, state: number) {
		this.slots[this.rowSlots[gate]?.[row] ?? -1] = state;
	}

	newState(): State {
		return { slots: this.slots.slice(), factors: this.factors.slice() };
	}

	use({ slots, factors }: State): this {
		this.slots = slots;
		this.factors = factors;
		return this;
	}

	/** By factor, the exponents under which these pieces of evidence count and no others. */
	exponents(kept: readonly Piece[]): Float64Array {
		const { observations, origins } = this.tree;
		const exponents = new Float64Array(this.factors.length);
		const known = new Set<number>();
		for (const { observation, likelihood } of kept) {
			exponents[likelihood < 0 ? observation : observations.length + origins.length + likelihood] = 1;
			known.add(observation);
		}
		// What an origin that is not genuine weighs for the pieces known, as a part of what it weighs for all.
		if (this.withEvidence)
			this.logNotGenuine.forEach((whole, origin) => {
				const log = logOfReports(this.tree, origin, (o) => known.has(o));
				exponents[observations.length + origin] = whole === 0 ? 0 : log / whole;
			});
		return exponents;
	}

	/** Logarithm of the evidence. */
	logUnder(exponents: Float64Array): number {
		let sum = 0;
		for (let f = 0; f < this.firstGiven; f++) sum += (exponents[f] as number) * (this.factors[f] as number);
		return sum;
	}

	/** Whether nothing of the evidence rules the state out. */
	isAllowed(exponents: Float64Array): boolean {
		for (let f = 0; f < this.firstGiven; f++)
			if (exponents[f] === 1 && (this.factors[f] as number) <= LOG_ZERO) return false;
		return true;
	}

	/** Logarithm of the factor that one observation, or one calculated likelihood, puts on the state. */
	logOfPiece({ observation, likelihood }: Piece): number {
		const { observations, origins } = this.tree;
		if (likelihood >= 0) return this.factors[observations.length + origins.length + likelihood] as number;
		let log = this.factors[observation] as number;
		for (const origin of new Set(observations[observation]?.reports.map((report) => report.origin))) {
			if (origin < 0 || this.slots[this.originSlot + origin] === 1) continue;
			log +=
				(this.logNotGenuine[origin] as number) - logOfReports(this.tree, origin, (o) => o !== observation);
		}
		return log;
	}

	violations(): number {
		let count = 0;
		for (let f = this.firstGiven; f < this.factors.length; f++) count -= this.factors[f] as number;
		return count;
	}

	/** Metropolis: every free slot flipped once, exclusive events exchanged, and true events exchanged for false ones. */
	sweep(temper: Temper) {
		for (const slot of this.free) this.attempt(temper, this.flipCost(slot), slot);
		for (const group of this.tree.exclusive)
			for (let i = 0; i < group.length; i++) this.exchange(temper, group);
		const on = this.free.filter((slot) => this.slots[slot] === 1);
		for (let i = 0; i < on.length && on.length < this.free.length; i++) {
			const at = Math.floor(this.random() * on.length);
			const from = on[at] as number;
			let to = from;
			while (this.slots[to] === 1) to = this.free[Math.floor(this.random() * this.free.length)] as number;
			if (this.attempt(temper, this.flipCost(from) + this.flipCost(to), from, to)) on[at] = to;
		}
	}

	/** One of a group, or none of them, exchanged for another. */
	private exchange(temper: Temper, group: readonly number[]) {
		const { p } = this.tree;
		const rest = mustBeOne(this.tree, group)
			? 0
			: 1 - group.reduce((sum, event) => sum + (p[event] as number), 0);
		const weight = (choice: number) =>
			choice < group.length ? (p[group[choice] as number] as number) : rest;
		const now = group.findIndex((event) => this.slots[event] === 1);
		const from = now < 0 ? group.length : now;
		const to = Math.floor(this.random() * (group.length + 1));
		if (to === from || weight(to) === 0) return;
		const flips = [from, to]
			.filter((choice) => choice < group.length)
			.map((choice) => group[choice] as number);
		this.attempt(temper, Math.log(weight(to)) - Math.log(weight(from)), flips[0] as number, flips[1]);
	}

	private flipCost(slot: number): number {
		return this.slots[slot] === 1 ? -(this.logOdds[slot] as number) : (this.logOdds[slot] as number);
	}

	/** Flips one or two slots and all that hangs on them; takes it back unless Metropolis accepts. */
	private attempt({ evidence, violation }: Temper, logPrior: number, first: number, second = -1): boolean {
		const { slots, factors, parents, users, stamps, firstGiven } = this;
		const { eventCount } = this.tree;
		this.toggles = 0;
		this.toggle(first);
		if (second >= 0) this.toggle(second);
		// A change runs upward only as far as it changes gates; one reached twice is settled by the last look.
		for (let i = 0; i < this.toggles; i++) {
			const above = parents[this.toggled[i] as number] as Int32Array;
			for (let j = 0; j < above.length; j++) {
				const gate = above[j] as number;
				if (this.gateState(gate) !== slots[eventCount + gate]) this.toggle(eventCount + gate);
			}
		}
		const stamp = ++this.stamp;
		let change = logPrior;
		let changed = 0;
		for (let i = 0; i < this.toggles; i++) {
			const looking = users[this.toggled[i] as number] as Int32Array;
			for (let j = 0; j < looking.length; j++) {
				const f = looking[j] as number;
				if (stamps[f] === stamp) continue;
				stamps[f] = stamp;
				const before = factors[f] as number;
				const now = this.factor(f);
				if (now === before) continue;
				this.changedFactors[changed] = f;
				this.oldFactors[changed++] = before;
				factors[f] = now;
				change += (now - before) * (f < firstGiven ? (evidence[f] as number) : violation);
			}
		}
		if (change >= 0 || this.random() < Math.exp(change)) return true;
		for (let i = 0; i < this.toggles; i++) {
			const slot = this.toggled[i] as number;
			slots[slot] = 1 - (slots[slot] as number);
		}
		for (let i = 0; i < changed; i++)
			factors[this.changedFactors[i] as number] = this.oldFactors[i] as number;
		return false;
	}

	private toggle(slot: number) {
		this.slots[slot] = 1 - (this.slots[slot] as number);
		this.toggled[this.toggles++] = slot;
	}

	holds(literal: number): boolean {
		return this.slots[literal >> 1] !== (literal & 1);
	}

	private gateState(gate: number): 0 | 1 {
		const { type, inputs, min, max } = this.tree.gates[gate] as ResolvedGate;
		if (type === 'table') {
			// Rows in the order TT, TF, FT, FF.
			const row = inputs.reduce((at, input) => 2 * at + Number(!this.holds(input)), 0);
			return this.slots[this.rowSlots[gate]?.[row] ?? -1] === 1 ? 1 : 0;
		}
		const literals = this.gateInputs[gate] as Int32Array;
		let n = 0;
		for (let i = 0; i < literals.length; i++) if (this.holds(literals[i] as number)) n++;
		return holdsWith(type, n, inputs.length, min, max, () => this.holds(inputs[0] as number)) ? 1 : 0;
	}

	private factor(f: number): number {
		const { observations, origins, likelihoods } = this.tree;
		if (f >= this.firstGiven) {
			const { node, value } = this.given[f - this.firstGiven] as { node: number; value: boolean };
			return this.slots[node] === Number(value) ? 0 : -1;
		}
		if (f < observations.length) return this.observationFactor(f);
		const origin = f - observations.length;
		if (origin < origins.length)
			return this.slots[this.originSlot + origin] === 1 ? 0 : (this.logNotGenuine[origin] as number);
		const { scenarios } = likelihoods[origin - origins.length] as Likelihood;
		const first = scenarios.find(({ event }) => event === undefined || this.holds(event));
		return logOf(first?.density ?? 0);
	}

	/** What the reports of an observation say of its sign, those left aside that are not genuine; 'both' can't be. */
	said(o: number): boolean | 'both' | undefined {
		let said: boolean | undefined;
		for (const { state, origin } of this.tree.observations[o]?.reports ?? []) {
			if (state === 'notExamined' || !this.isGenuine(origin)) continue;
			const present = state === 'present';
			if (said !== undefined && said !== present) return 'both';
			said = present;
		}
		return said;
	}

	/** No origin, -1, is always genuine. */
	isGenuine(origin: number): boolean {
		return origin < 0 || this.slots[this.originSlot + origin] === 1;
	}

	/** Probability that neither a cause nor anything else makes the sign. */
	noSign(o: number): number {
		let none = 1 - (this.tree.observations[o] as Observation).baseRate;
		const from = this.linkFrom[o] as Int32Array;
		const keep = this.linkKeep[o] as Float64Array;
		for (let i = 0; i < from.length; i++) if (this.holds(from[i] as number)) none *= keep[i] as number;
		return none;
	}

	private observationFactor(o: number): number {
		const said = this.said(o);
		if (said === undefined) return 0;
		return said === 'both' ? LOG_ZERO : logOf(said ? 1 - this.noSign(o) : this.noSign(o));
	}
}

/** What the reports of one origin say, of those observations that count. */
export function saidBy(
	{ observations }: Resolved,
	origin: number,
	counts: (observation: number) => boolean = () => true
): ReadonlySet<string> {
	const said = new Set<string>();
	for (const [o, { reports }] of observations.entries())
		if (counts(o))
			for (const report of reports)
				if (report.origin === origin && report.state !== 'notExamined') said.add(report.state);
	return said;
}

/** All that comes from an origin that is not genuine must be what it says anyway. */
function logOfReports(tree: Resolved, origin: number, counts?: (observation: number) => boolean): number {
	const said = saidBy(tree, origin, counts);
	if (said.size !== 1) return said.size === 0 ? 0 : LOG_ZERO;
	const { saysAnyway } = tree.origins[origin] as Resolved['origins'][number];
	return logOf(said.has('present') ? saysAnyway : 1 - saysAnyway);
}

const logOf = (p: number) => Math.max(LOG_ZERO, Math.log(p));
