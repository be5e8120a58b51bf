/**
 * The tree with names replaced by numbers and its common-cause groups taken apart, ready to be compiled. The model must
 * have passed `checkTree`.
 */
import { rootGates, sameObservation, tableRows } from './check';
import { overlapWarnings, partsOf, takeGroupsApart } from './common-cause';
import { readLiteral } from './literal';
import { withFirstDeciding } from './first-deciding';
import type { FindingState, GateType, Literal, TreeModel } from './model';

/** A node's index times two, plus one when negated. Events come first in the index, then gates. */
export type NodeLiteral = number;

export interface ResolvedGate {
	type: GateType;
	inputs: NodeLiteral[];
	min: number;
	max: number;
	/** `table`: probability of each row, in the order of `tableRows`. */
	rows: number[];
}

export interface Report {
	id: string;
	state: FindingState;
	/** Index of an origin that is not wholly reliable, or -1. */
	origin: number;
}

/** One sign, however many findings report it. */
export interface Observation {
	reports: Report[];
	baseRate: number;
	links: { from: NodeLiteral; p: number }[];
}

export interface Likelihood {
	id: string;
	/** In order; the last is 'none of these', whose `event` is undefined. */
	scenarios: { event: NodeLiteral | undefined; density: number; standardError: number }[];
}

export interface Resolved {
	ids: string[];
	eventCount: number;
	index: ReadonlyMap<string, number>;
	/** Nodes of the events as typed: a member of a common-cause group is a gate over its parts. */
	typedEvents: number[];
	/** Nodes of the gates as typed. */
	typedGates: number[];
	/** Nodes of the parts of common-cause groups: events. */
	parts: number[];
	/** Probability of each event; a house event's is 0 or 1. */
	p: number[];
	/** State of a house event, else undefined. */
	house: (boolean | undefined)[];
	gates: ResolvedGate[];
	/** Gate numbers, inputs before the gates that they feed. */
	order: number[];
	exclusive: number[][];
	/** Index of an event's exclusive group, or -1. */
	groupOf: number[];
	observations: Observation[];
	/** Gates made for a finding of which the first true link decides: the event as typed, null for none of them. */
	standsFor: ReadonlyMap<number, NodeLiteral | null>;
	origins: { id: string; reliability: number; saysAnyway: number }[];
	likelihoods: Likelihood[];
	/** Node of the top event, or undefined when there is none. */
	top: number | undefined;
	given: { node: number; value: boolean }[];
	warnings: string[];
}

export function resolve(typed: TreeModel): Resolved {
	const { model, standsFor } = withFirstDeciding(takeGroupsApart(typed));
	const modelGates = model.gates ?? [];
	const ids = [...model.events, ...modelGates].map(({ id }) => id);
	const index = new Map<string, number>();
	for (const [i, id] of ids.entries()) index.set(id, i);
	const node = (id: string): number => {
		const at = index.get(id);
		if (at === undefined) throw new Error(`unknown event or gate '${id}': check the tree before weighing it`);
		return at;
	};
	const literal = (written: Literal): NodeLiteral => {
		const { id, negated } = readLiteral(written);
		return 2 * node(id) + Number(negated);
	};
	const eventCount = model.events.length;
	const house = model.events.map(({ kind, state, p }) => (kind === 'house' ? (state ?? p === 1) : undefined));
	const gates = modelGates.map(({ type, inputs, condition, k, min, max, table }): ResolvedGate => {
		const all = condition === undefined ? inputs : [...inputs, condition];
		return {
			type,
			inputs: all.map(literal),
			min: min ?? k ?? 0,
			max: max ?? all.length,
			rows: table ? tableRows(inputs.length).map((row) => table[row] ?? 0) : []
		};
	});
	const origins = (model.origins ?? []).map(({ id, reliability, saysAnyway }) => ({
		id,
		reliability,
		saysAnyway
	}));
	const originIndex = new Map(origins.map(({ id }, i) => [id, i]));
	const exclusive = (model.exclusive ?? [])
		.filter((group) => group.length > 1)
		.map((group) => group.map(node));
	const groupOf = new Array<number>(eventCount).fill(-1);
	exclusive.forEach((group, i) => group.forEach((event) => (groupOf[event] = i)));
	const topId = model.top ?? onlyOne(rootGates(typed));
	const top = topId === undefined ? undefined : node(topId);
	const given = model.given ?? (topId === undefined ? {} : { [topId]: true });
	return {
		ids,
		eventCount,
		index,
		typedEvents: typed.events.map(({ id }, i) => (model === typed ? i : node(id))),
		typedGates: (typed.gates ?? []).map(({ id }, i) => (model === typed ? eventCount + i : node(id))),
		parts: partsOf(typed).map(({ id }) => node(id)),
		p: model.events.map(({ p }, i) => (house[i] === undefined ? (p ?? 0) : Number(house[i]))),
		house,
		gates,
		order: inputsFirst(gates, eventCount),
		exclusive,
		groupOf,
		standsFor: new Map(
			[...standsFor].map(([id, cause]) => [node(id), cause === null ? null : literal(cause)])
		),
		observations: sameObservation(model).map((findings) => ({
			reports: findings.map(({ id, state = 'notExamined', origin }) => {
				const at = origin === undefined ? -1 : (originIndex.get(origin) ?? -1);
				// A wholly reliable origin changes nothing.
				return { id, state, origin: origins[at]?.reliability === 1 ? -1 : at };
			}),
			baseRate: findings.find(({ baseRate }) => baseRate !== undefined)?.baseRate ?? 0,
			links: [
				...new Map(
					findings.flatMap(({ links = [] }) => links.map(({ from, p }) => [literal(from), p] as const))
				)
			].map(([from, p]) => ({ from, p }))
		})),
		origins,
		likelihoods: (model.likelihoods ?? []).map(({ id, scenarios }) => ({
			id,
			scenarios: scenarios.map(({ event, density, standardError = 0 }) => ({
				event: event === undefined ? undefined : literal(event),
				density,
				standardError
			}))
		})),
		top,
		given: Object.entries(given).map(([id, value]) => ({ node: node(id), value })),
		warnings: [
			...modelGates
				.filter(({ type }) => type === 'priorityAnd')
				.map(
					({ id }) =>
						`gate '${id}' (priority AND) is weighed as a plain AND, its upper bound: a tree with probabilities only has no order in time`
				),
			...overlapWarnings(typed)
		]
	};
}

const onlyOne = <T>(list: readonly T[]): T | undefined => (list.length === 1 ? list[0] : undefined);

function inputsFirst(gates: readonly ResolvedGate[], eventCount: number): number[] {
	const order: number[] = [];
	const seen = new Uint8Array(gates.length);
	for (let start = 0; start < gates.length; start++) {
		const stack = [{ gate: start, next: 0 }];
		while (stack.length > 0) {
			const here = stack[stack.length - 1] as (typeof stack)[number];
			if (seen[here.gate] === 1 && here.next === 0) {
				stack.pop();
				continue;
			}
			seen[here.gate] = 1;
			const input = gates[here.gate]?.inputs[here.next++];
			if (input === undefined) {
				order.push(here.gate);
				stack.pop();
			} else if (input >> 1 >= eventCount) stack.push({ gate: (input >> 1) - eventCount, next: 0 });
		}
	}
	return order;
}

/** A finding's report contradicts another of the same observation or the same source outright: their ids. */
export function directClash({ reports }: Observation): [string, string] | undefined {
	for (const [i, a] of reports.entries())
		for (const b of reports.slice(i + 1))
			if (
				a.origin === b.origin &&
				a.state !== b.state &&
				a.state !== 'notExamined' &&
				b.state !== 'notExamined'
			)
				return [a.id, b.id];
	return undefined;
}
