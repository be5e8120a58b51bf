/**
 * The order of the variables, on which the size of a decision diagram hangs.
 *
 * Events and gates are numbered by a walk from the top that takes the deepest input of each gate first, so that what
 * is decided together lies together; a gate's own variable follows its last input. Then each is drawn, again and
 * again, to the middle of the gates, findings and likelihoods that it has to do with (Aloul, Markov & Sakallah 2003,
 * FORCE), and the order that leaves the fewest of them open at once is kept. The variables of a link, a base
 * rate, an origin or a calculated likelihood follow the last event or gate that they depend on, those of one sign
 * together: were all links of an event to come before all base rates, each sign would double the diagram. For the same
 * reason the link of an event with several signs waits for the other causes of its sign. An event that most signs have
 * to do with, such as the branch that nobody has thought of, would draw everything to itself: it comes first.
 */
import { largestFirst } from './largest-first';
import type { Observation, Resolved, ResolvedGate } from './resolve';

export interface Levels {
	count: number;
	/** By node (events, then gates); -1 for a house event and for a gate without a variable of its own. */
	node: Int32Array;
	/** By level: 1 for an event or gate. */
	isNode: Uint8Array;
	/** By gate and row of its table. */
	rows: number[][];
	/** By observation that enters the diagram, else undefined. */
	observations: ({ base: number; links: number[]; dropped: number[] } | undefined)[];
	/** By origin that some observation in the diagram needs, else undefined. */
	origins: ({ genuine: number; says: number } | undefined)[];
	/** By likelihood and scenario. */
	scenarios: number[][];
}

/** An absent sign without origin folds into the weights of its causes; all else that was examined enters. */
export function enters({ reports }: Observation): boolean {
	return reports.some(({ state, origin }) => state === 'present' || (state === 'absent' && origin >= 0));
}

/**
 * @param owns by gate: it gets a variable of its own.
 * @param upsideDown the other way round: better for a long chain of gates that is kept as functions
 */
export function orderLevels(tree: Resolved, owns: (gate: number) => boolean, upsideDown = false): Levels {
	const signs = signsOf(tree);
	const hubs = hubsOf(tree, signs);
	// Without evidence the walk does as well.
	const isLinked = tree.observations.some(enters) || tree.likelihoods.length > 0;
	const position = isLinked ? drawTogether(walk(tree), linksBetween(tree, hubs)) : walk(tree);
	const inOrder = new Int32Array(position.length);
	position.forEach((at, node) => (inOrder[at] = node));
	for (const hub of hubs) position[hub] = -1;
	const places: { at: number; of: number; rank: number; set: (level: number) => void }[] = [];
	/** @param of  index of the sign or likelihood whose variables stay together */
	const place = (at: number, rank: number, set: (level: number) => void, of = -1) =>
		places.push({ at, of, rank, set });
	const lastOf = (literals: readonly number[]) =>
		literals.reduce((last, literal) => Math.max(last, position[literal >> 1] ?? -1), -1);

	const levels: Levels = {
		count: 0,
		node: new Int32Array(tree.ids.length).fill(-1),
		isNode: new Uint8Array(0),
		rows: tree.gates.map(({ rows }) => rows.map(() => -1)),
		observations: tree.observations.map((observation) =>
			enters(observation)
				? { base: -1, links: observation.links.map(() => -1), dropped: observation.reports.map(() => -1) }
				: undefined
		),
		origins: tree.origins.map(() => undefined),
		scenarios: tree.likelihoods.map(({ scenarios }) => scenarios.map(() => -1))
	};
	for (const node of inOrder)
		if (node < tree.eventCount ? tree.house[node] === undefined : owns(node - tree.eventCount))
			place(position[node] as number, 0, (level) => (levels.node[node] = level));
	levels.rows.forEach((rows, gate) =>
		rows.forEach((_, i) => place(position[tree.eventCount + gate] ?? 0, -1, (level) => (rows[i] = level)))
	);
	const originAt = new Map<number, number>();
	tree.observations.forEach(({ links, reports }, o) => {
		const own = levels.observations[o];
		if (!own) return;
		const last = lastOf(links.map(({ from }) => from));
		links.forEach(({ from }, i) => {
			const waits = (signs.get(from >> 1) ?? 0) >= WAITING_SIGNS;
			place(waits ? last : lastOf([from]), 0, (level) => (own.links[i] = level), o);
		});
		place(last, 1, (level) => (own.base = level), o);
		reports.forEach(({ state, origin }, i) => {
			if (state === 'notExamined') return;
			// A plain present sign is dropped by its base rate: at 1 it says nothing.
			if (state === 'absent' || origin >= 0) place(last, 2, (level) => (own.dropped[i] = level), o);
			if (origin < 0) return;
			originAt.set(origin, Math.min(originAt.get(origin) ?? Infinity, last));
		});
	});
	for (const [origin, at] of originAt) {
		const own = { genuine: -1, says: -1 };
		levels.origins[origin] = own;
		place(at, 1, (level) => (own.genuine = level));
		place(at, 1, (level) => (own.says = level));
	}
	tree.likelihoods.forEach(({ scenarios }, l) => {
		const last = lastOf(scenarios.flatMap(({ event }) => (event === undefined ? [] : [event])));
		scenarios.forEach((_, i) =>
			place(last, 0, (level) => ((levels.scenarios[l] as number[])[i] = level), tree.observations.length + l)
		);
	});
	places.sort((a, b) => a.at - b.at || a.of - b.of || a.rank - b.rank);
	if (upsideDown) places.reverse();
	places.forEach(({ set }, level) => set(level));
	levels.count = places.length;
	levels.isNode = new Uint8Array(levels.count);
	for (const level of levels.node) if (level >= 0) levels.isNode[level] = 1;
	return levels;
}

/** Takes over an order that was found later. @param levelOf by level as it was: the level now */
export function reorder(levels: Levels, levelOf: Int32Array) {
	const now = (level: number) => (level < 0 ? level : (levelOf[level] as number));
	levels.node = levels.node.map(now);
	levels.isNode = new Uint8Array(levels.count);
	for (const level of levels.node) if (level >= 0) levels.isNode[level] = 1;
	levels.rows = levels.rows.map((rows) => rows.map(now));
	levels.observations = levels.observations.map(
		(own) => own && { base: now(own.base), links: own.links.map(now), dropped: own.dropped.map(now) }
	);
	levels.origins = levels.origins.map((own) => own && { genuine: now(own.genuine), says: now(own.says) });
	levels.scenarios = levels.scenarios.map((scenarios) => scenarios.map(now));
}

/** Position of every node in the walk, deepest inputs first, each gate after its last input. */
function walk({ ids, eventCount, gates, order, top }: Resolved): number[] {
	const depth = new Int32Array(ids.length);
	for (const gate of order) {
		let most = 0;
		for (const input of (gates[gate] as ResolvedGate).inputs)
			most = Math.max(most, depth[input >> 1] as number);
		depth[eventCount + gate] = most + 1;
	}
	const position = new Array<number>(ids.length).fill(-1);
	let next = 0;
	const deepestFirst = (nodes: readonly number[]) => largestFirst(nodes, (node) => depth[node] as number);
	const opened = (node: number) => ({
		node,
		inputs: deepestFirst((gates[node - eventCount] as ResolvedGate).inputs.map((input) => input >> 1)),
		next: 0
	});
	const visit = (start: number) => {
		const stack: ReturnType<typeof opened>[] = [];
		const enter = (node: number) => {
			if ((position[node] as number) >= 0) return;
			if (node < eventCount) position[node] = next++;
			else stack.push(opened(node));
		};
		enter(start);
		for (let here = stack[stack.length - 1]; here; here = stack[stack.length - 1]) {
			const input = here.inputs[here.next++];
			if (input !== undefined) enter(input);
			else {
				position[here.node] = next++;
				stack.pop();
			}
		}
	};
	if (top !== undefined) visit(top);
	// Then whatever the top does not reach, deepest gates first.
	const rest: number[] = [];
	for (let node = 0; node < position.length; node++) if ((position[node] as number) < 0) rest.push(node);
	rest.sort((a, b) => (depth[b] as number) - (depth[a] as number));
	for (const node of rest) visit(node);
	return position;
}

/** From so many signs on the links of an event or gate wait for the other causes of each sign. */
const WAITING_SIGNS = 3;
/** Fewer signs than this draw nothing apart. */
const HUB_SIGNS = 8;

/** By event or gate: how many signs in the diagram are linked to it. */
function signsOf({ observations }: Resolved): ReadonlyMap<number, number> {
	const count = new Map<number, number>();
	for (const { links } of observations.filter(enters))
		for (const node of new Set(links.map(({ from }) => from >> 1)))
			count.set(node, (count.get(node) ?? 0) + 1);
	return count;
}

/** Events that more than half of the signs in the diagram are linked to. */
function hubsOf(
	{ eventCount, observations }: Resolved,
	signs: ReadonlyMap<number, number>
): ReadonlySet<number> {
	const most = observations.filter(enters).length / 2;
	return new Set(
		[...signs].filter(([node, n]) => node < eventCount && n >= HUB_SIGNS && n > most).map(([node]) => node)
	);
}

/** Nodes that belong together: a gate and its inputs, the causes of a sign in the diagram, the scenarios of a likelihood. */
function linksBetween(
	{ eventCount, gates, observations, likelihoods, exclusive }: Resolved,
	hubs: ReadonlySet<number>
): number[][] {
	return [
		...gates.map(({ inputs }, gate) => [eventCount + gate, ...inputs.map((input) => input >> 1)]),
		...observations
			.filter(enters)
			.map(({ links }) => links.map(({ from }) => from >> 1).filter((node) => !hubs.has(node))),
		...likelihoods.map(({ scenarios }) =>
			scenarios.flatMap(({ event }) => (event === undefined ? [] : [event >> 1]))
		),
		...exclusive
	].filter((together) => together.length > 1);
}

const ROUNDS = 30;
/** Rounds without gain after which it ends. */
const PATIENCE = 4;

function drawTogether(first: number[], groups: readonly number[][]): number[] {
	let best = first;
	let least = openness(first, groups);
	let position = first;
	for (let round = 0, idle = 0; round < ROUNDS && idle < PATIENCE; round++, idle++) {
		const pull = new Float64Array(first.length);
		const pulls = new Int32Array(first.length);
		for (const group of groups) {
			const middle = group.reduce((sum, node) => sum + (position[node] as number), 0) / group.length;
			for (const node of group) {
				pull[node] = (pull[node] as number) + middle;
				pulls[node] = (pulls[node] as number) + 1;
			}
		}
		const wanted = position.map((at, node) => (pulls[node] ? (pull[node] as number) / pulls[node] : at));
		const now = position;
		const sorted = position.map((_, node) => node);
		sorted.sort(
			(a, b) => (wanted[a] as number) - (wanted[b] as number) || (now[a] as number) - (now[b] as number)
		);
		position = new Array<number>(first.length);
		for (const [at, node] of sorted.entries()) position[node] = at;
		const open = openness(position, groups);
		if (open < least) {
			least = open;
			best = position;
			idle = -1;
		}
	}
	return best;
}

/** A guess at the diagram's size: at each place, two to the number of groups that have begun and not ended there. */
function openness(position: readonly number[], groups: readonly number[][]): number {
	const change = new Int32Array(position.length + 1);
	for (const group of groups) {
		let low = Infinity;
		let high = 0;
		for (const node of group) {
			low = Math.min(low, position[node] as number);
			high = Math.max(high, position[node] as number);
		}
		change[low] = (change[low] as number) + 1;
		change[high] = (change[high] as number) - 1;
	}
	let open = 0;
	let size = 0;
	for (const step of change) size += 2 ** Math.min((open += step), 60);
	return size;
}
