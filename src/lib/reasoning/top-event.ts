/** The top event without evidence, built once for all that is asked about it: importance and minimal cut sets. */
import { cutSetFamily } from './cut-set-family';
import type { CutSetFamily } from './cut-sets';
import { DiagramLimit } from './diagram';
import type { TreeModel } from './model';
import { resolve, type Resolved } from './resolve';
import { TooManyCutSets } from './set-family';
import { compileStructure, type Structure } from './structure';
import { DEFAULT_MAX_NODES } from './weighing';

export interface Refusal {
	ok: false;
	problem: string;
}

export const TOO_LARGE: Refusal = { ok: false, problem: 'the tree is too large for an exact diagram' };
const NO_TOP: Refusal = { ok: false, problem: 'the tree has no top event' };
const MAX_SET_NODES = 2_000_000;

export interface TopEvent {
	tree: Resolved;
	structure: Structure;
	/** Cut sets of at most so many events, or undefined where they outgrow the limits. */
	family: (order?: number) => CutSetFamily | undefined;
	/** Probability of an element of a cut set; of exclusive events the stated one, as a set holds but one of them. */
	p: (element: number) => number;
}

/** @param ask must be done with the top event when it returns: the next diagram takes over its arrays */
export function askTop<T>(
	model: TreeModel,
	maxNodes = DEFAULT_MAX_NODES,
	ask: (top: TopEvent) => T
): T | Refusal {
	const tree = resolve(model);
	if (tree.top === undefined) return NO_TOP;
	let structure: Structure | undefined;
	try {
		structure = compileStructure(tree, { maxNodes, maxSteps: 8 * maxNodes });
		return ask(topEvent(tree, structure));
	} catch (error) {
		if (error instanceof DiagramLimit) return TOO_LARGE;
		throw error;
	} finally {
		structure?.diagram.release();
	}
}

function topEvent(tree: Resolved, structure: Structure): TopEvent {
	const families = new Map<number, CutSetFamily | undefined>();
	const stated = structure.weights.high.slice();
	structure.eventLevel.forEach((level, event) => {
		if (level >= 0) stated[level] = tree.p[event] as number;
	});
	return {
		tree,
		structure,
		family(order = Infinity) {
			if (!families.has(order)) families.set(order, familyOf(structure, order));
			return families.get(order);
		},
		p(element) {
			const isTrue = stated[element >> 1] as number;
			return element & 1 ? 1 - isTrue : isTrue;
		}
	};
}

function familyOf(structure: Structure, order: number): CutSetFamily | undefined {
	structure.diagram.renewSteps();
	try {
		return cutSetFamily(structure, order, MAX_SET_NODES);
	} catch (error) {
		if (error instanceof TooManyCutSets || error instanceof DiagramLimit) return undefined;
		throw error;
	}
}
