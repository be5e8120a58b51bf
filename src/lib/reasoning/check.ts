/** What a schema can't see: names that must exist, counts that must fit, and a graph without a loop. */
import { checkGroups } from './common-cause';
import { readLiteral } from './literal';
import type { Literal, TreeFinding, TreeGate, TreeModel } from './model';

/** Inputs of a gate that a table may have: 2^8 rows are more than anyone types. */
const MAX_TABLE_INPUTS = 8;

/** All faults of the tree in words; empty when it can be weighed. */
export function checkTree(model: TreeModel): string[] {
	const problems: string[] = [];
	const say = (problem: string) => void problems.push(problem);
	const nodes = new Set<string>();
	for (const { id } of [...model.events, ...(model.gates ?? [])]) {
		if (nodes.has(id)) say(`the id '${id}' is used twice among events and gates`);
		nodes.add(id);
	}
	const known = (literal: Literal, where: string) => {
		const { id } = readLiteral(literal);
		if (!nodes.has(id)) say(`${where} names '${id}', which is neither an event nor a gate`);
	};
	if (nodes.size === 0) say('the tree has no events');
	checkEvents(model, say);
	for (const gate of model.gates ?? []) checkGate(gate, known, say);
	const loop = findLoop(model);
	if (loop) say(`the tree runs in a circle: ${loop.join(' → ')}`);
	checkTop(model, nodes, say);
	checkExclusive(model, say);
	checkGroups(model, say);
	checkFindings(model, known, say);
	checkLikelihoods(model, known, say);
	for (const id of Object.keys(model.given ?? {}))
		if (!nodes.has(id))
			say(
				model.findings?.some((finding) => finding.id === id)
					? `given names the finding '${id}'; set its state instead`
					: `given names '${id}', which is neither an event nor a gate`
			);
	return problems;
}

type Say = (problem: string) => void;
type Known = (literal: Literal, where: string) => void;

function checkEvents(model: TreeModel, say: Say) {
	for (const { id, kind, p, state } of model.events) {
		if (kind === 'house') {
			if (state === undefined && p !== 0 && p !== 1)
				say(`house event '${id}' needs "state": true or false, as it is switched, not weighed`);
			if (state !== undefined && p !== undefined && p !== Number(state))
				say(`house event '${id}' has state ${state} and p ${p}; leave p out`);
			continue;
		}
		if (p === undefined) say(`event '${id}' has no probability: give "p"`);
		if (state !== undefined) say(`event '${id}' has a state, but only a house event is switched`);
	}
}

/** The gate directly under test has its inputs known, enough of them, and only the fields of its type. */
function checkGate(gate: TreeGate, known: Known, say: Say) {
	const { id, type, inputs } = gate;
	const n = inputs.length;
	const where = `gate '${id}'`;
	if (n === 0) say(`${where} has no inputs`);
	for (const input of inputs) known(input, where);
	const seen = new Set<string>();
	for (const input of inputs) {
		const written = JSON.stringify(readLiteral(input));
		if (seen.has(written)) say(`${where} has the input '${readLiteral(input).id}' twice`);
		seen.add(written);
	}
	const whole = (x: number | undefined): x is number => x !== undefined && Number.isInteger(x);
	if (type === 'atLeast' && n > 0 && !(whole(gate.k) && gate.k >= 1 && gate.k <= n))
		say(`${where} needs a whole k from 1 to its ${n} inputs, not ${gate.k}`);
	if (
		type === 'cardinality' &&
		!(whole(gate.min) && whole(gate.max) && gate.min >= 0 && gate.min <= gate.max)
	)
		say(`${where} needs whole numbers min and max, min not above max`);
	if (type === 'cardinality' && (gate.max ?? 0) > n) say(`${where} has max ${gate.max}, but ${n} inputs`);
	if (type === 'xor' && n !== 2)
		say(
			`${where} is an exclusive OR of ${n} inputs; it takes two. Say "exactlyOne" (one of them) or "odd" (an odd number)`
		);
	if ((type === 'imply' || type === 'iff') && n !== 2) say(`${where} (${type}) takes two inputs, not ${n}`);
	if (type === 'not' && n > 1) say(`${where} (not) takes one input, not ${n}; for 'none of them' say "nor"`);
	if (type === 'inhibit') {
		if (gate.condition === undefined) say(`${where} (inhibit) needs a "condition"`);
		else known(gate.condition, where);
	}
	if (type === 'table') checkTable(gate, say);
	const belongs = {
		k: 'atLeast',
		min: 'cardinality',
		max: 'cardinality',
		condition: 'inhibit',
		table: 'table'
	};
	for (const [field, owner] of Object.entries(belongs))
		if (type !== owner && gate[field as keyof typeof belongs] !== undefined)
			say(`${where} (${type}) has '${field}', which belongs to ${owner}`);
}

function checkTable({ id, inputs, table = {} }: TreeGate, say: Say) {
	const n = inputs.length;
	if (n > MAX_TABLE_INPUTS) return say(`gate '${id}' (table) has ${n} inputs; at most ${MAX_TABLE_INPUTS}`);
	const rows = tableRows(n);
	for (const row of rows) if (!(row in table)) say(`gate '${id}' (table) has no row "${row}"`);
	for (const key of Object.keys(table))
		if (!rows.includes(key))
			say(`gate '${id}' (table) has the row "${key}"; a row is ${n} letters T or F, one for each input`);
}

/** Row names of a table over n inputs: 'TT', 'TF', 'FT', 'FF'. */
export function tableRows(n: number): string[] {
	return n === 0 ? [''] : tableRows(n - 1).flatMap((row) => [`${row}T`, `${row}F`]);
}

/** Nodes that feed no gate and may therefore be the top: gates only. */
export function rootGates(model: TreeModel): string[] {
	const fed = new Set(
		(model.gates ?? []).flatMap((gate) => inputsOf(gate).map((input) => readLiteral(input).id))
	);
	return (model.gates ?? []).map((gate) => gate.id).filter((id) => !fed.has(id));
}

function inputsOf(gate: TreeGate): Literal[] {
	return gate.condition === undefined ? gate.inputs : [...gate.inputs, gate.condition];
}

function checkTop(model: TreeModel, nodes: ReadonlySet<string>, say: Say) {
	if (model.top !== undefined) {
		if (!nodes.has(model.top)) say(`the top '${model.top}' is neither an event nor a gate`);
		return;
	}
	const roots = rootGates(model);
	if (roots.length > 1 && model.given === undefined)
		say(
			`several gates feed nothing (${roots.join(', ')}): name the "top", or say with "given" what is known to be true`
		);
}

function checkExclusive(model: TreeModel, say: Say) {
	const weight = new Map(model.events.filter((e) => e.kind !== 'house').map(({ id, p }) => [id, p ?? 0]));
	const listed = new Set<string>();
	for (const group of model.exclusive ?? []) {
		let sum = 0;
		for (const id of group) {
			const p = weight.get(id);
			if (p === undefined) say(`exclusive names '${id}', which is not an event with a probability`);
			if (listed.has(id))
				say(`'${id}' is listed as exclusive twice; put all that exclude one another in one list`);
			listed.add(id);
			sum += p ?? 0;
		}
		if (sum > 1 + 1e-9)
			say(
				`${group.join(', ')} exclude one another, but their probabilities add up to ${Number(sum.toPrecision(12))}: more than 1`
			);
	}
}

function checkFindings(model: TreeModel, known: Known, say: Say) {
	const findings = new Map<string, TreeFinding>();
	for (const finding of model.findings ?? []) {
		if (findings.has(finding.id)) say(`the finding '${finding.id}' is there twice`);
		findings.set(finding.id, finding);
	}
	const origins = new Set<string>();
	for (const { id } of model.origins ?? []) {
		if (origins.has(id)) say(`the origin '${id}' is there twice`);
		origins.add(id);
	}
	for (const { id, links = [], origin, sameAs } of findings.values()) {
		const where = `finding '${id}'`;
		const from = new Set<string>();
		for (const link of links) {
			known(link.from, where);
			const written = JSON.stringify(readLiteral(link.from));
			if (from.has(written)) say(`${where} has two links from '${readLiteral(link.from).id}'`);
			from.add(written);
		}
		if (origin !== undefined && !origins.has(origin)) say(`${where} has the unknown origin '${origin}'`);
		if (sameAs !== undefined && !findings.has(sameAs))
			say(`${where} is the same observation as '${sameAs}', which is not a finding`);
		if (sameAs === id) say(`${where} is listed as the same observation as itself`);
	}
	for (const group of sameObservation(model)) checkSame(group, say);
}

/** Findings grouped by observation: those joined by `sameAs`, directly or through others, are one. */
export function sameObservation(model: TreeModel): TreeFinding[][] {
	const findings = model.findings ?? [];
	const parent = new Map(findings.map(({ id }) => [id, id]));
	const root = (id: string): string => {
		let at = id;
		for (let up = parent.get(at); up !== undefined && up !== at; up = parent.get(at)) at = up;
		return at;
	};
	for (const { id, sameAs } of findings)
		if (sameAs !== undefined && parent.has(sameAs)) parent.set(root(id), root(sameAs));
	const groups = new Map<string, TreeFinding[]>();
	for (const finding of findings) {
		const key = root(finding.id);
		const group = groups.get(key);
		if (group) group.push(finding);
		else groups.set(key, [finding]);
	}
	return [...groups.values()];
}

/** Findings that are one observation may each name some of its links, but not give one link two numbers. */
function checkSame(group: readonly TreeFinding[], say: Say) {
	if (group.length < 2) return;
	const first = group.find((finding) => finding.first);
	if (first) say(`finding '${first.id}' ("first") can't be the same observation as another`);
	const names = group.map(({ id }) => `'${id}'`).join(' and ');
	const rates = new Set(group.flatMap(({ baseRate }) => (baseRate === undefined ? [] : [baseRate])));
	if (rates.size > 1)
		say(`${names} are the same observation with different base rates: ${[...rates].join(', ')}`);
	const links = new Map<string, number>();
	for (const { from, p } of group.flatMap((finding) => finding.links ?? [])) {
		const { id, negated } = readLiteral(from);
		const key = `${negated ? 'not ' : ''}${id}`;
		const other = links.get(key);
		if (other !== undefined && other !== p)
			say(`${names} are the same observation, but their links from '${key}' differ: ${other} and ${p}`);
		links.set(key, p);
	}
}

function checkLikelihoods(model: TreeModel, known: Known, say: Say) {
	const ids = new Set<string>();
	for (const { id, scenarios } of model.likelihoods ?? []) {
		const where = `likelihood '${id}'`;
		if (ids.has(id)) say(`the ${where} is there twice`);
		ids.add(id);
		for (const [i, { event, otherwise }] of scenarios.entries()) {
			const last = i === scenarios.length - 1;
			if (event !== undefined) known(event, where);
			if (event !== undefined && otherwise)
				say(`${where}, line ${i + 1}: name an event or say otherwise, not both`);
			if (event === undefined && !otherwise)
				say(`${where}, line ${i + 1} names no event; the last says "otherwise": true`);
			if (otherwise && !last)
				say(`${where}: 'otherwise' must be the last line, as the first true one decides`);
			if (last && event !== undefined)
				say(`${where} needs a last line {"otherwise": true, "density": …} for 'none of these'`);
		}
		if (scenarios.length === 0) say(`${where} has no scenarios`);
		else if (scenarios.every(({ density }) => density === 0))
			say(`${where} has only densities of 0: none of its scenarios could have given what was observed`);
	}
}

/** The ids along a loop, first repeated at the end, or undefined. */
function findLoop(model: TreeModel): string[] | undefined {
	const gates = new Map(
		(model.gates ?? []).map((gate) => [gate.id, inputsOf(gate).map((i) => readLiteral(i).id)])
	);
	const done = new Set<string>();
	for (const start of gates.keys()) {
		// An explicit stack, as a chain of gates may be deeper than the machine's own.
		const path = [{ id: start, next: 0 }];
		const onPath = new Set(done.has(start) ? [] : [start]);
		while (path.length > 0 && !done.has(start)) {
			const here = path[path.length - 1] as (typeof path)[number];
			const child = gates.get(here.id)?.[here.next++];
			if (child === undefined) {
				done.add(here.id);
				onPath.delete(here.id);
				path.pop();
			} else if (onPath.has(child)) {
				const ids = path.map(({ id }) => id);
				return [...ids.slice(ids.indexOf(child)), child];
			} else if (gates.has(child) && !done.has(child)) {
				onPath.add(child);
				path.push({ id: child, next: 0 });
			}
		}
	}
	return undefined;
}
