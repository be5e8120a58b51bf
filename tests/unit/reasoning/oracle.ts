/**
 * Brute force, written apart from the engine: every state of the events (and of the chance gates) is visited, and the
 * evidence weighs each by closed formulas, with no diagram, link variable or selector.
 */
import type { Literal, TreeGate, TreeModel } from '../../../src/lib/reasoning/model';

export interface Truth {
	prior: Record<string, number>;
	givenTop: Record<string, number>;
	givenAll: Record<string, number>;
	pTop: number;
	pGiven: number;
	/** P(findings and given). */
	pFindings: number;
	/** Integral of P(findings and given) times all densities. */
	pAll: number;
	/** The most probable states of the basic events (parts, of a group) with their joint probability, best first. */
	explanations: { state: Record<string, boolean>; p: number }[];
}

type State = Record<string, boolean>;

const holds = (state: State, literal: Literal): boolean => {
	if (typeof literal !== 'string') return !state[literal.not];
	return literal[0] === '!' ? !state[literal.slice(1)] : state[literal] === true;
};

export function bruteForce(model: TreeModel, top: string | undefined): Truth {
	const parts = partsOf(model);
	const basic = [
		...model.events.map(({ id }) => id).filter((id) => !parts.some(({ members }) => members.includes(id))),
		...parts.map(({ name }) => name)
	];
	const ids = [...model.events, ...(model.gates ?? [])].map(({ id }) => id).concat(parts.map((p) => p.name));
	const zero = () => Object.fromEntries(ids.map((id) => [id, 0]));
	const sums = { prior: zero(), givenTop: zero(), givenAll: zero() };
	const truth = { pTop: 0, pGiven: 0, pFindings: 0, pAll: 0 };
	const given = model.given ?? (top === undefined ? {} : { [top]: true });
	const byEvents = new Map<string, { state: State; p: number }>();
	for (const [state, p] of states(model)) {
		if (p === 0) continue;
		const add = (to: Record<string, number>, weight: number) => {
			for (const id of ids) if (state[id]) to[id] = (to[id] ?? 0) + weight;
		};
		add(sums.prior, p);
		if (top !== undefined && state[top]) {
			truth.pTop += p;
			add(sums.givenTop, p);
		}
		if (!Object.entries(given).every(([id, value]) => state[id] === value)) continue;
		truth.pGiven += p;
		const found = p * findingsLikelihood(model, state);
		truth.pFindings += found;
		const all = found * densities(model, state);
		truth.pAll += all;
		add(sums.givenAll, all);
		const events = Object.fromEntries(basic.map((id) => [id, state[id] === true]));
		const key = JSON.stringify(events);
		byEvents.set(key, { state: events, p: (byEvents.get(key)?.p ?? 0) + all });
	}
	const scaled = (sum: Record<string, number>, by: number) =>
		Object.fromEntries(ids.map((id) => [id, (sum[id] ?? 0) / by]));
	return {
		...truth,
		prior: sums.prior,
		givenTop: scaled(sums.givenTop, truth.pTop),
		givenAll: scaled(sums.givenAll, truth.pAll),
		explanations: [...byEvents.values()].sort((a, b) => b.p - a.p)
	};
}

function* states(model: TreeModel): Generator<[State, number]> {
	const groups = model.exclusive ?? [];
	const parts = partsOf(model);
	const grouped = new Set([...groups, ...parts.map(({ members }) => members)].flat());
	const p = (id: string) => {
		const event = model.events.find((e) => e.id === id);
		return event?.kind === 'house' ? Number(event.state ?? event.p) : (event?.p ?? 0);
	};
	/** Each a list of alternatives: which of its events are true, and how probable. */
	const choices: { of: string[]; options: [string[], number][] }[] = [
		...model.events
			.filter(({ id }) => !grouped.has(id))
			.map(({ id }) => ({
				of: [id],
				options: [
					[[id], p(id)],
					[[], 1 - p(id)]
				] as [string[], number][]
			})),
		...groups.map((group) => ({
			of: group,
			options: [
				...group.map((id) => [[id], p(id)] as [string[], number]),
				[[], Math.max(0, 1 - group.reduce((sum, id) => sum + p(id), 0))] as [string[], number]
			]
		})),
		...parts.map(({ name, p: q }) => ({
			of: [name],
			options: [
				[[name], q],
				[[], 1 - q]
			] as [string[], number][]
		}))
	];
	function* choose(i: number, state: State, weight: number): Generator<[State, number]> {
		const choice = choices[i];
		if (!choice) {
			for (const { name, members } of parts)
				for (const id of members) state[id] = state[name] || state[id] === true;
			yield* gates(model.gates ?? [], { ...state }, weight);
			return;
		}
		for (const [on, q] of choice.options) {
			if (q === 0) continue;
			const next = { ...state };
			for (const id of choice.of) next[id] = on.includes(id);
			yield* choose(i + 1, next, weight * q);
		}
	}
	yield* choose(0, {}, 1);
}

/** Every set of members that something can make true together and alone, by the textbook's sums over Q_k. */
function partsOf(model: TreeModel): { name: string; members: string[]; p: number }[] {
	return (model.commonCause ?? []).flatMap(({ members, model: kind, factors: f, staggered }) => {
		const n = members.length;
		const q = model.events.find(({ id }) => id === members[0])?.p ?? NaN;
		const factorial = (k: number): number => (k < 2 ? 1 : k * factorial(k - 1));
		const choose = (k: number) => factorial(n - 1) / factorial(k - 1) / factorial(n - k);
		const sized = (k: number): number => {
			if (kind === 'beta') return k === 1 ? (1 - (f[0] ?? NaN)) * q : (f[0] ?? NaN) * q;
			if (kind === 'multiLetter')
				return (f.slice(0, k - 1).reduce((a, b) => a * b, 1) * (1 - (f[k - 1] ?? 0)) * q) / choose(k);
			const mean = f.reduce((sum, alpha, i) => sum + (i + 1) * alpha, 0);
			return staggered ? ((f[k - 1] ?? NaN) * q) / choose(k) : (k * (f[k - 1] ?? NaN) * q) / choose(k) / mean;
		};
		return Array.from({ length: 2 ** n - 1 }, (_, bits) => members.filter((_, i) => ((bits + 1) >> i) & 1))
			.filter(({ length }) => kind !== 'beta' || length === 1 || length === n)
			.map((set) => ({
				name: set.length === 1 ? `${set[0]} alone` : `${set.join(' and ')} together`,
				members: set,
				p: sized(set.length)
			}));
	});
}

/** Settles the gates whose inputs are known, again and again; a table branches into both outcomes. */
function* gates(open: readonly TreeGate[], state: State, weight: number): Generator<[State, number]> {
	const known = (literal: Literal) =>
		state[typeof literal === 'string' ? literal.replace('!', '') : literal.not] !== undefined;
	const next = open.find(
		({ inputs, condition }) => inputs.every(known) && (condition === undefined || known(condition))
	);
	if (!next) {
		yield [state, weight];
		return;
	}
	const rest = open.filter((gate) => gate !== next);
	const inputs = next.inputs.map((input) => holds(state, input));
	if (next.type === 'table') {
		const p = next.table?.[inputs.map((x) => (x ? 'T' : 'F')).join('')] ?? NaN;
		yield* gates(rest, { ...state, [next.id]: true }, weight * p);
		yield* gates(rest, { ...state, [next.id]: false }, weight * (1 - p));
		return;
	}
	const n = inputs.filter(Boolean).length;
	const value = {
		or: n > 0,
		nor: n === 0,
		not: n === 0,
		and: n === inputs.length,
		priorityAnd: n === inputs.length,
		nand: n < inputs.length,
		inhibit: n === inputs.length && (next.condition === undefined || holds(state, next.condition)),
		atLeast: n >= (next.k ?? NaN),
		cardinality: n >= (next.min ?? NaN) && n <= (next.max ?? NaN),
		xor: n === 1,
		exactlyOne: n === 1,
		odd: n % 2 === 1,
		iff: inputs[0] === inputs[1],
		imply: !inputs[0] || inputs[1] === true
	}[next.type];
	yield* gates(rest, { ...state, [next.id]: value }, weight);
}

function findingsLikelihood(model: TreeModel, state: State): number {
	const findings = model.findings ?? [];
	// Findings that are the same observation, by repeated joining.
	const group = new Map(findings.map(({ id }) => [id, id]));
	for (let again = true; again;) {
		again = false;
		for (const { id, sameAs } of findings)
			if (sameAs !== undefined && group.get(id) !== group.get(sameAs)) {
				const [from, to] = [group.get(id), group.get(sameAs) as string];
				for (const [key, value] of group) if (value === from) group.set(key, to);
				again = true;
			}
	}
	const signs = [...new Set(group.values())].map((name) => {
		const same = findings.filter(({ id }) => group.get(id) === name);
		const links = new Map<string, number>();
		for (const { from, p } of same.flatMap((f) => f.links ?? []))
			links.set(typeof from === 'string' ? from : `!${from.not}`, p);
		let none = 1 - (same.find((f) => f.baseRate !== undefined)?.baseRate ?? 0);
		for (const [from, p] of links) if (holds(state, from)) none *= 1 - p;
		return { reports: same.filter((f) => (f.state ?? 'notExamined') !== 'notExamined'), present: 1 - none };
	});
	// Every origin: genuine, or not genuine and saying present or absent.
	const origins = model.origins ?? [];
	const sum = (i: number, mood: Record<string, 'genuine' | 'present' | 'absent'>): number => {
		const origin = origins[i];
		if (origin) {
			const { id, reliability: r, saysAnyway: b } = origin;
			return (
				r * sum(i + 1, { ...mood, [id]: 'genuine' }) +
				(1 - r) * b * sum(i + 1, { ...mood, [id]: 'present' }) +
				(1 - r) * (1 - b) * sum(i + 1, { ...mood, [id]: 'absent' })
			);
		}
		return signs.reduce((product, { reports, present }) => {
			let can = { present: true, absent: true };
			for (const { state: said, origin: from } of reports) {
				const how = from === undefined ? 'genuine' : (mood[from] ?? 'genuine');
				if (how === 'genuine')
					can = { present: can.present && said === 'present', absent: can.absent && said === 'absent' };
				else if (how !== said) return 0;
			}
			return product * ((can.present ? present : 0) + (can.absent ? 1 - present : 0));
		}, 1);
	};
	return sum(0, {});
}

function densities(model: TreeModel, state: State): number {
	return (model.likelihoods ?? []).reduce((product, { scenarios }) => {
		const first = scenarios.find(({ event }) => event === undefined || holds(state, event));
		return product * (first?.density ?? NaN);
	}, 1);
}
