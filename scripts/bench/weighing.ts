/** Weighing: large trees, a case while a slider is dragged, and a case that no diagram holds. */
import { importanceAndCutSets, weigh, type TreeModel, type Weighing } from '$lib/reasoning';
import { cutSetFamily } from '$lib/reasoning/cut-set-family';
import { countSets } from '$lib/reasoning/cut-sets';
import { resolve, type Resolved } from '$lib/reasoning/resolve';
import { compileStructure } from '$lib/reasoning/structure';
import { Sweep } from '$lib/reasoning/sweep';
import { caseModel, randomTree } from './tree-models';
import type { Check, Workload } from './workload';

/** The top, every conditional and Birnbaum importance, cut sets up to four events. */
function analyse(model: TreeModel): Check {
	const { importance: measures, cutSets } = importanceAndCutSets(model, {
		cutSetOrder: 0,
		order: 4,
		list: 0
	});
	if (!measures.ok || !cutSets.ok) return { refused: true };
	const values = Object.values(measures.events);
	return {
		probabilityOfTop: measures.probabilityOfTop,
		sumOfConditionals: values.reduce((sum, { givenTop }) => sum + givenTop, 0),
		sumOfBirnbaum: values.reduce((sum, { birnbaum }) => sum + birnbaum, 0),
		cutSets: cutSets.count
	};
}

const MAX_NODES = 1_000_000;

/** The same from a tree whose names are numbers already and with results that are numbers, as a program in C has it. */
function analyseNumbered(tree: Resolved): Check {
	const structure = compileStructure(tree, { maxNodes: MAX_NODES, maxSteps: 8 * MAX_NODES });
	const top = new Sweep(structure.topProgram);
	const probabilityOfTop = top.up(structure.weights);
	top.down();
	const { high, low } = top.cofactors();
	let [sumOfConditionals, sumOfBirnbaum] = [0, 0];
	for (const [level, p] of structure.weights.high.entries()) {
		sumOfConditionals += (p * (high[level] as number)) / probabilityOfTop;
		sumOfBirnbaum += (high[level] as number) - (low[level] as number);
	}
	const cutSets = countSets(cutSetFamily(structure, 4, MAX_NODES));
	structure.diagram.release();
	return { probabilityOfTop, sumOfConditionals, sumOfBirnbaum, cutSets };
}

const sumOf = ({ events }: Weighing) =>
	Object.values(events).reduce((sum, { givenAll }) => sum + (givenAll ?? 0), 0);

/** Weighs again and again with one starting weight moved, as while a slider is dragged. */
function dragged(model: TreeModel): () => Check {
	let last = weigh(model);
	let step = 0;
	return () => {
		const p = 0.01 + 0.001 * (step++ % 50);
		const moved = { ...model, events: model.events.map((event, i) => (i === 30 ? { ...event, p } : event)) };
		last = weigh(moved, { reuse: last.compiled });
		return { method: last.method, leftOut: last.contributions.length, nodes: last.nodes };
	};
}

const local = caseModel();
const hard = caseModel(true);
const widelyShared = randomTree(1000, true);
const again = dragged(local);

const workloads: Workload[] = [
	...[1000, 5000].flatMap((size) => {
		const model = randomTree(size);
		const numbered = resolve(model);
		return [
			{ name: 'tree', size, run: () => analyse(model), runs: 21, warmUpMs: 2000 },
			{ name: 'tree-numbered', size, run: () => analyseNumbered(numbered), runs: 21, warmUpMs: 2000 }
		];
	}),
	{
		name: 'tree-hard',
		size: 1000,
		run: () => {
			const weighing = weigh(widelyShared);
			return { method: weighing.method, probabilityOfTop: weighing.probabilityOfTop ?? NaN };
		}
	},
	{ name: 'case', size: 80, run: again, runs: 50, warmUpMs: 1000 },
	{
		name: 'case-build',
		size: 80,
		run: () => {
			const weighing = weigh(local);
			return {
				method: weighing.method,
				logEvidence: weighing.logEvidence ?? NaN,
				logDensity: weighing.logDensity ?? NaN,
				sumOfPosteriors: sumOf(weighing)
			};
		}
	},
	{
		name: 'case-hard',
		size: 80,
		run: () => {
			const weighing = weigh(hard);
			return {
				method: weighing.method,
				logEvidence: weighing.logEvidence ?? NaN,
				standardError: weighing.logStandardError ?? NaN,
				effectiveSampleSize: weighing.effectiveSampleSize ?? NaN,
				sumOfPosteriors: sumOf(weighing)
			};
		}
	}
];
export default workloads;
