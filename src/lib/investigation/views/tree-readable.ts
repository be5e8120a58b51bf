import { checkTree, type TreeModel } from '$lib/reasoning';
import { rootGates } from '$lib/reasoning/check';
import { takeGroupsApart } from '$lib/reasoning/common-cause';
import { readLiteral } from '$lib/reasoning/literal';
import type { TreeGate } from '$lib/reasoning/model';
import { plainGates } from '$lib/reasoning/plain-gates';
import { done, type Outcome, refused } from '../outcome';
import { ASSUMED_WEIGHT } from './tree';

const MOST_EVENTS = 1000;

/** What of a file's tree becomes records, and what has no place in a case. */
export interface Readable {
	/** Beneath its top, said with the gates that are drawn here. */
	tree: TreeModel;
	top: string;
	/** Events that the file gives no probability. */
	unweighed: ReadonlySet<string>;
	leftOut: string[];
}

/** The part of a tree from a file that is read in, or why none is. */
export function readable(model: TreeModel): Outcome<Readable> {
	const unweighed = new Set(
		model.events.filter(({ kind, p }) => kind !== 'house' && p === undefined).map((event) => event.id)
	);
	const events = model.events.map((event) =>
		unweighed.has(event.id) ? { ...event, p: ASSUMED_WEIGHT } : event
	);
	const whole = { ...model, events };
	const problems = checkTree(whole);
	const roots = rootGates(whole);
	const top = model.top ?? (roots.length === 1 ? roots[0] : undefined);
	if (top === undefined && roots.length > 1)
		return refused(`Say which is the top event: ${roots.join(', ')}.`, 'top');
	if (problems.length > 0 || top === undefined)
		return refused(problems.join('; ') || 'the tree has no gate', 'tree');
	const plain = plainGates(withWholeGroups(whole, top));
	const reached = reach(plain, top);
	if (reached.size > MOST_EVENTS)
		return refused(`At most ${MOST_EVENTS} events can be read in at once; here are ${reached.size}.`, 'tree');
	const own = (node: { id: string }) => reached.has(node.id);
	const findings = (plain.findings ?? []).map((finding) => ({
		...finding,
		links: (finding.links ?? []).filter(({ from }) => reached.has(readLiteral(from).id))
	}));
	const exclusive = (plain.exclusive ?? []).map((group) => group.filter((event) => reached.has(event)));
	const known = Object.entries(model.given ?? {}).filter(([node, state]) => !(node === top && state));
	const loose = [...events, ...(model.gates ?? [])]
		.filter((node) => !own(node))
		.map((node) => `'${node.label ?? node.id}'`);
	const calculations = model.likelihoods?.length ?? 0;
	return done({
		tree: {
			...plain,
			events: plain.events.filter(own),
			gates: (plain.gates ?? []).filter(own),
			exclusive: exclusive.filter((group) => group.length > 1),
			findings
		},
		top,
		unweighed,
		leftOut: [
			...(loose.length > 0 ? [`what hangs nowhere under the top: ${listed(loose)}`] : []),
			...(calculations > 0
				? [`${calculations} ${calculations === 1 ? 'calculation' : 'calculations'}: run again here`]
				: []),
			...(known.length > 0 ? [`what is given beside the top: ${listed(known.map(([node]) => node))}`] : [])
		]
	});
}

const listed = (names: readonly string[]) =>
	names.slice(0, 5).join(', ') + (names.length > 5 ? ` and ${names.length - 5} more` : '');

/** Ids of what stands directly under a gate, its condition last. */
export const under = ({ inputs, condition }: TreeGate) =>
	[...inputs, ...(condition === undefined ? [] : [condition])].map((input) => readLiteral(input).id);

/** Common-cause groups are kept where a case can hold them: basic events, all under this top; others are taken apart. */
function withWholeGroups(model: TreeModel, top: string): TreeModel {
	// A gate that is always true, said with fewer gates, needs not all of its inputs.
	const reached = reach(plainGates(model), top);
	const basic = new Set(
		model.events
			.filter(({ kind = 'basic' }) => kind === 'basic' || kind === 'undeveloped')
			.map((event) => event.id)
	);
	const groups = model.commonCause ?? [];
	const kept = groups.filter(({ members }) => members.every((id) => reached.has(id) && basic.has(id)));
	const apart = takeGroupsApart({ ...model, commonCause: groups.filter((group) => !kept.includes(group)) });
	return { ...apart, commonCause: kept };
}

function reach({ gates = [] }: TreeModel, top: string): Set<string> {
	const byId = new Map(gates.map((gate) => [gate.id, gate]));
	const reached = new Set([top]);
	for (const node of reached) {
		const gate = byId.get(node);
		if (gate) under(gate).forEach((input) => reached.add(input));
	}
	return reached;
}
