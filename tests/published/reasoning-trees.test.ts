import { describe, expect, it } from 'vitest';
import { importance, minimalCutSets, parseTree, weigh, type TreeModel } from '$lib/reasoning';

/**
 * Fault trees whose numbers are published or were computed by visiting all states in exact rational arithmetic, apart
 * from this project. "seen": read in a public text; "from memory": the structure or input as remembered from it.
 */
const tree = (
	p: Record<string, number>,
	gates: Record<string, [string, ...string[]]>,
	more: object = {}
): TreeModel => {
	const parsed = parseTree({
		events: Object.entries(p).map(([id, q]) => ({ id, p: q })),
		gates: Object.entries(gates).map(([id, [type, ...inputs]]) => {
			const [name, a, b] = type.split(' ');
			if (name === 'atLeast') return { id, type: name, k: Number(a), inputs };
			if (name === 'cardinality') return { id, type: name, min: Number(a), max: Number(b), inputs };
			if (name === 'inhibit') return { id, type: name, condition: a, inputs };
			return { id, type, inputs };
		}),
		...more
	});
	if (!parsed.ok) throw new Error(parsed.problems.join('; '));
	return parsed.model;
};
const relative = (ours: number | null | undefined, printed: number, tolerance = 1e-10) =>
	expect(Math.abs((ours ?? NaN) / printed - 1), `${ours} instead of ${printed}`).toBeLessThan(tolerance);
/** Half a unit of the last of the 12 printed digits. */
const printed12 = (ours: number | null | undefined, printed: number) => relative(ours, printed, 6e-12);

function measures(model: TreeModel) {
	const result = importance(model);
	if (!result.ok) throw new Error(result.problem);
	return result;
}
const cutSets = (model: TreeModel) => {
	const result = minimalCutSets(model);
	if (!result.ok) throw new Error(result.problem);
	return Object.fromEntries(
		result.list.map(({ events, probability }) => [[...events].sort().join(' '), probability])
	);
};
const top = (model: TreeModel) => weigh(model).probabilityOfTop;
/** Each cut set: its events joined by a blank, its probability and that given the top. */
function checkCuts(model: TreeModel, cuts: [string, number, number][]) {
	const result = minimalCutSets(model);
	if (!result.ok) throw new Error(result.problem);
	expect(result.count).toBe(cuts.length);
	const ours = new Map(result.list.map((set) => [set.events.toSorted().join(' '), set]));
	for (const [events, probability, givenTop] of cuts) {
		relative(ours.get(events)?.probability, probability);
		relative(ours.get(events)?.givenTop, givenTop);
	}
}

type Row = [string, number, number, number, number, number, number, number, number, number, number];
/** Columns: event, p, P(top|1), P(top|0), Birnbaum, criticality, FV union, FV rare, RAW, RRW, P(event|top). */
function checkRows(model: TreeModel, rows: Row[]) {
	const { events, probabilityOfTop } = measures(model);
	const { events: weighed } = weigh(model);
	for (const [id, q, whenTrue, whenFalse, birnbaum, criticality, union, rare, raw, rrw, givenTop] of rows) {
		const ours = events[id];
		if (!ours) throw new Error(`no ${id}`);
		printed12(ours.whenTrue, whenTrue);
		printed12(ours.whenFalse, whenFalse);
		printed12(ours.birnbaum, birnbaum);
		printed12(ours.criticality, criticality);
		printed12(ours.fussellVeselyUnion, union);
		printed12(ours.fussellVeselyRare, rare);
		printed12(ours.raw, raw);
		if (rrw === Infinity) expect(ours.rrw).toBe(Infinity);
		else printed12(ours.rrw, rrw);
		printed12(ours.givenTop, givenTop);
		printed12(weighed[id]?.givenTop, givenTop);
		// Identities that hold on every coherent tree (definitions: NUREG-0492; Rausand & Høyland; from memory).
		relative(q * ours.whenTrue + (1 - q) * ours.whenFalse, probabilityOfTop);
		relative(1 - 1 / ours.rrw, ours.criticality, 1e-9);
		relative(q * ours.raw, ours.givenTop);
		expect(ours.criticality).toBeLessThanOrEqual((ours.fussellVeselyUnion ?? NaN) * (1 + 1e-12));
		expect(ours.fussellVeselyUnion).toBeLessThanOrEqual(ours.givenTop * (1 + 1e-12));
		expect(ours.givenTop).toBeGreaterThanOrEqual(q);
	}
}
function checkBounds(model: TreeModel, exact: number, rare: number, bound: number, twoTerm?: number) {
	const ours = measures(model);
	relative(ours.probabilityOfTop, exact);
	relative(top(model), exact);
	relative(ours.rareEventSum, rare);
	relative(ours.minCutUpperBound, bound);
	if (twoTerm !== undefined) relative(ours.twoTermLowerBound, twoTerm);
	expect(ours.twoTermLowerBound).toBeLessThanOrEqual(exact * (1 + 1e-12));
	expect(exact).toBeLessThanOrEqual((ours.minCutUpperBound ?? NaN) * (1 + 1e-12));
	expect(ours.minCutUpperBound).toBeLessThanOrEqual((ours.rareEventSum ?? NaN) * (1 + 1e-12));
}

const abc = { A: 0.1, B: 0.2, C: 0.3 };

describe('Gates (meanings as in the Open-PSA Model Exchange Format, seen; values computed by exact enumeration)', () => {
	it.each<[string, number]>([
		['or', 0.496],
		['and', 0.006],
		['atLeast 2', 0.098],
		['nor', 0.504],
		['nand', 0.994],
		['cardinality 1 2', 0.49],
		['odd', 0.404],
		['exactlyOne', 0.398]
	])('%s of A .1, B .2, C .3', (type, value) => {
		relative(top(tree(abc, { TOP: [type, 'A', 'B', 'C'] })), value);
	});
	it('or, and, 2-of-3: rare-event sum and min-cut bound', () => {
		checkBounds(tree(abc, { TOP: ['or', 'A', 'B', 'C'] }), 0.496, 0.6, 0.496);
		checkBounds(tree(abc, { TOP: ['and', 'A', 'B', 'C'] }), 0.006, 0.006, 0.006);
		checkBounds(tree(abc, { TOP: ['atLeast 2', 'A', 'B', 'C'] }), 0.098, 0.11, 0.106436, 0.092);
	});
	it('A implies B; exclusive OR of two; inhibit', () => {
		relative(top(tree({ A: 0.1, B: 0.2 }, { TOP: ['imply', 'A', 'B'] })), 0.92);
		relative(top(tree({ A: 0.1, B: 0.2 }, { TOP: ['xor', 'A', 'B'] })), 0.26);
		const inhibit = tree({ IN: 0.02, IF: 0.3 }, { TOP: ['inhibit IF', 'IN'] });
		relative(top(inhibit), 0.006);
		expect(Object.keys(cutSets(inhibit))).toEqual(['IF IN']);
	});
	it('3-of-5 and 2-of-4', () => {
		const five = { a: 0.05, b: 0.05, c: 0.05, d: 0.05, e: 0.05 };
		checkBounds(
			tree(five, { TOP: ['atLeast 3', 'a', 'b', 'c', 'd', 'e'] }),
			0.001158125,
			0.00125,
			0.00124929710932374
		);
		const four = { a: 0.01, b: 0.02, c: 0.03, d: 0.04 };
		checkBounds(
			tree(four, { TOP: ['atLeast 2', 'a', 'b', 'c', 'd'] }),
			0.00340072,
			0.0035,
			0.0034952432188578
		);
	});
	it('2-of-3: importance', () => {
		checkRows(tree(abc, { TOP: ['atLeast 2', 'A', 'B', 'C'] }), [
			[
				'A',
				0.1,
				0.44,
				0.06,
				0.38,
				0.387755102041,
				0.448979591837,
				0.454545454545,
				4.48979591837,
				1.63333333333,
				0.448979591837
			],
			[
				'B',
				0.2,
				0.37,
				0.03,
				0.34,
				0.69387755102,
				0.755102040816,
				0.727272727273,
				3.77551020408,
				3.26666666667,
				0.755102040816
			],
			[
				'C',
				0.3,
				0.28,
				0.02,
				0.26,
				0.795918367347,
				0.857142857143,
				0.818181818182,
				2.85714285714,
				4.9,
				0.857142857143
			]
		]);
	});
	it('2-of-3: cut sets, and each given the top', () => {
		checkCuts(tree(abc, { TOP: ['atLeast 2', 'A', 'B', 'C'] }), [
			['A B', 0.02, 0.20408163265306],
			['A C', 0.03, 0.30612244897959],
			['B C', 0.06, 0.61224489795918]
		]);
	});
	it('NOT: prime implicants with their consensus, and a negative importance', () => {
		const gates: Record<string, [string, ...string[]]> = {
			TOP: ['or', 'x', 'y'],
			x: ['and', 'A', 'B'],
			y: ['and', '!A', 'C']
		};
		const model = tree({ A: 0.3, B: 0.2, C: 0.1 }, gates);
		relative(top(model), 0.13);
		expect(Object.keys(cutSets(model)).sort()).toEqual(['!A C', 'A B', 'B C']);
		// Adding up prime implicants would say .15: no sum of cut sets is given for such a tree.
		expect(measures(model).rareEventSum).toBeNull();
		relative(measures(model).events['A']?.birnbaum, 0.1);
		relative(weigh(model).events['A']?.givenTop, 0.461538461538462);
		const other = tree({ A: 0.3, B: 0.1, C: 0.2 }, gates);
		relative(top(other), 0.17);
		relative(measures(other).events['A']?.birnbaum, -0.1);
	});
	it('priority AND is its static bound and says so', () => {
		// Exponential lives, rates 1e-3 and 2e-3 per hour, 100 h: the plain AND (closed form and quadrature).
		const p = { A: -Math.expm1(-0.1), B: -Math.expm1(-0.2) };
		const model = tree(p, { TOP: ['priorityAnd', 'A', 'B'] });
		relative(top(model), 0.01725004956777643);
		expect(weigh(model).warnings.join()).toMatch(/priority AND.*upper bound/);
		expect(top(model)).toBeGreaterThan(0.00848139404316338);
	});
	it('a repeated event: (A+B)(A+C) is not the product of its gates', () => {
		const model = tree(abc, { TOP: ['and', 'x', 'y'], x: ['or', 'A', 'B'], y: ['or', 'A', 'C'] });
		relative(top(model), 0.154);
		expect(Object.keys(cutSets(model)).sort()).toEqual(['A', 'B C']);
	});
});

describe('Pressure tank, NUREG-0492 chapters VIII and XI (structure and inputs from memory; values by exact enumeration)', () => {
	const gates: Record<string, [string, ...string[]]> = {
		TOP: ['or', 'T', 'K2', 'E'],
		E: ['and', 'S', 'F'],
		F: ['or', 'S1', 'K1', 'R']
	};
	const tank = tree({ T: 5e-6, K2: 3e-5, S: 1e-4, S1: 3e-5, K1: 3e-5, R: 1e-4 }, gates);
	it('top, bounds, cut sets and importance', () => {
		checkBounds(tank, 3.5015848750036e-5, 3.5016e-5, 3.5015849439933e-5, 3.501584875e-5);
		checkCuts(tank, [
			['T', 5e-6, 0.14279248336069],
			['K2', 3e-5, 0.85675490016416],
			['S S1', 3e-9, 8.5675490016416e-5],
			['K1 S', 3e-9, 8.5675490016416e-5],
			['R S', 1e-8, 0.00028558496672139]
		]);
		checkRows(tank, [
			[
				'T',
				5e-6,
				1,
				3.001599883e-5,
				0.999969984001,
				0.142788197302,
				0.142792483361,
				0.142791866575,
				28558.4966721,
				1.16657283165,
				0.142792483361
			],
			[
				'K2',
				3e-5,
				1,
				5.01599923001e-6,
				0.999994984001,
				0.856750602682,
				0.856754900164,
				0.856751199452,
				28558.4966721,
				6.98083216212,
				0.856754900164
			],
			[
				'S',
				1e-4,
				0.000194987350355,
				3.499985e-5,
				0.000159987500355,
				0.000456900249649,
				0.000456916241649,
				0.000456933973041,
				5.56854559624,
				1.0004571091,
				0.000556854559624
			],
			[
				'S1',
				3e-5,
				0.000134996350015,
				3.5012849245e-5,
				9.998350077e-5,
				8.56613542203e-5,
				8.56754900164e-5,
				8.56751199452e-5,
				3.85529281265,
				1.00008566869,
				0.00011565878438
			],
			[
				'K1',
				3e-5,
				0.000134996350015,
				3.5012849245e-5,
				9.998350077e-5,
				8.56613542203e-5,
				8.56754900164e-5,
				8.56751199452e-5,
				3.85529281265,
				1.00008566869,
				0.00011565878438
			],
			[
				'R',
				1e-4,
				0.000134996350015,
				3.50058497e-5,
				9.9990500315e-5,
				0.000285557837049,
				0.000285584966721,
				0.000285583733151,
				3.85529281265,
				1.0002856394,
				0.000385529281265
			]
		]);
	});
	it('agrees to seven digits with the open collection FFORT (tree "pt", K1 5e-6; value seen in a public text)', () => {
		const pt = tree({ T: 5e-6, K2: 3e-5, S: 1e-4, S1: 3e-5, K1: 5e-6, R: 1e-4 }, gates);
		relative(top(pt), 3.5013348120867e-5, 5e-8);
		checkBounds(pt, 3.50133491625163e-5, 3.50135e-5, 3.50133495274655e-5);
	});
	it('with large probabilities (inputs ours)', () => {
		const large = tree({ T: 0.01, K2: 0.02, S: 0.1, S1: 0.05, K1: 0.05, R: 0.2 }, gates);
		checkBounds(large, 0.05677156, 0.06, 0.0586881901, 0.05665);
		checkCuts(large, [
			['T', 0.01, 0.17614453434079],
			['K2', 0.02, 0.35228906868157],
			['S S1', 0.005, 0.088072267170393],
			['K1 S', 0.005, 0.088072267170393],
			['R S', 0.02, 0.35228906868157]
		]);
		checkRows(large, [
			[
				'T',
				0.01,
				1,
				0.047244,
				0.952756,
				0.16782276196,
				0.176144534341,
				0.166666666667,
				17.6144534341,
				1.20166709,
				0.176144534341
			],
			[
				'S',
				0.1,
				0.2995156,
				0.0298,
				0.2697156,
				0.475089287664,
				0.489681805467,
				0.5,
				5.27580358898,
				1.90508590604,
				0.527580358898
			],
			[
				'K2',
				0.02,
				1,
				0.037522,
				0.962478,
				0.339070478247,
				0.352289068682,
				0.333333333333,
				17.6144534341,
				1.5130206279,
				0.352289068682
			],
			...['S1', 'K1'].map((id): Row => [
				id,
				0.05,
				0.12682,
				0.0530848,
				0.0737352,
				0.0649402623426,
				0.0880722671704,
				0.0833333333333,
				2.23386498451,
				1.06945038881,
				0.111693249225
			]),
			[
				'R',
				0.2,
				0.12682,
				0.03925945,
				0.08756055,
				0.308466246127,
				0.352289068682,
				0.333333333333,
				2.23386498451,
				1.44606101206,
				0.446772996902
			]
		]);
	});
});

describe('Textbook trees (from memory; values by exact enumeration)', () => {
	it('NUREG-0492 chapter VII: (A+(B+C))(C+AB) reduces to C + AB', () => {
		const model = tree(abc, {
			TOP: ['and', 'x', 'y'],
			x: ['or', 'A', 'z'],
			z: ['or', 'B', 'C'],
			y: ['or', 'C', 'w'],
			w: ['and', 'A', 'B']
		});
		checkBounds(model, 0.314, 0.32, 0.314, 0.314);
		checkCuts(model, [
			['C', 0.3, 0.95541401273885],
			['A B', 0.02, 0.063694267515924]
		]);
		checkRows(model, [
			[
				'A',
				0.1,
				0.44,
				0.3,
				0.14,
				0.0445859872611,
				0.0636942675159,
				0.0625,
				1.40127388535,
				1.04666666667,
				0.140127388535
			],
			[
				'B',
				0.2,
				0.37,
				0.3,
				0.07,
				0.0445859872611,
				0.0636942675159,
				0.0625,
				1.17834394904,
				1.04666666667,
				0.235668789809
			],
			['C', 0.3, 1, 0.02, 0.98, 0.936305732484, 0.955414012739, 0.9375, 3.1847133758, 15.7, 0.955414012739]
		]);
	});
	it('Rausand & Høyland chapter 5: 2-of-3 of units .02, .04, .06; parallel and series', () => {
		const units = { u1: 0.02, u2: 0.04, u3: 0.06 };
		const model = tree(units, { TOP: ['atLeast 2', 'u1', 'u2', 'u3'] });
		checkBounds(model, 0.004304, 0.0044, 0.004394242304, 0.004256);
		checkCuts(model, [
			['u1 u2', 0.0008, 0.18587360594796],
			['u1 u3', 0.0012, 0.27881040892193],
			['u2 u3', 0.0024, 0.55762081784387]
		]);
		checkRows(model, [
			[
				'u1',
				0.02,
				0.0976,
				0.0024,
				0.0952,
				0.442379182156,
				0.453531598513,
				0.454545454545,
				22.6765799257,
				1.79333333333,
				0.453531598513
			],
			[
				'u2',
				0.04,
				0.0788,
				0.0012,
				0.0776,
				0.721189591078,
				0.732342007435,
				0.727272727273,
				18.3085501859,
				3.58666666667,
				0.732342007435
			],
			[
				'u3',
				0.06,
				0.0592,
				0.0008,
				0.0584,
				0.814126394052,
				0.825278810409,
				0.818181818182,
				13.7546468401,
				5.38,
				0.825278810409
			]
		]);
		const parallel = measures(tree({ u1: 0.02, u2: 0.04 }, { TOP: ['and', 'u1', 'u2'] }));
		relative(parallel.probabilityOfTop, 0.0008);
		const series = measures(tree({ u1: 0.02, u2: 0.04 }, { TOP: ['or', 'u1', 'u2'] }));
		relative(series.probabilityOfTop, 0.0592);
		for (const [id, birnbaum, raw, inSeries, criticality, rrw] of [
			['u1', 0.04, 50, 0.96, 0.324324324324324, 1.48],
			['u2', 0.02, 25, 0.98, 0.662162162162162, 2.96]
		] as const) {
			relative(parallel.events[id]?.birnbaum, birnbaum);
			relative(parallel.events[id]?.criticality, 1);
			relative(parallel.events[id]?.raw, raw);
			expect(parallel.events[id]?.rrw).toBe(Infinity);
			relative(series.events[id]?.birnbaum, inSeries);
			relative(series.events[id]?.criticality, criticality);
			relative(series.events[id]?.raw, 16.8918918918919);
			relative(series.events[id]?.rrw, rrw);
		}
	});
	it('five-component bridge', () => {
		const bridge = (q: number) =>
			tree(
				{ c1: q, c2: q, c3: q, c4: q, c5: q },
				{
					TOP: ['or', 'a', 'b', 'c', 'd'],
					a: ['and', 'c1', 'c2'],
					b: ['and', 'c4', 'c5'],
					c: ['and', 'c1', 'c3', 'c5'],
					d: ['and', 'c2', 'c3', 'c4']
				}
			);
		checkBounds(bridge(0.1), 0.02152, 0.022, 0.0218592199, 0.02149);
		checkCuts(bridge(0.1), [
			['c1 c2', 0.01, 0.46468401486989],
			['c4 c5', 0.01, 0.46468401486989],
			['c1 c3 c5', 0.001, 0.046468401486989],
			['c2 c3 c4', 0.001, 0.046468401486989]
		]);
		checkBounds(bridge(0.01), 0.0002019502, 0.000202, 0.0002019895990202);
		checkRows(bridge(0.1), [
			...['c1', 'c2', 'c4', 'c5'].map((id): Row => [
				id,
				0.1,
				0.1171,
				0.0109,
				0.1062,
				0.493494423792,
				0.506505576208,
				0.5,
				5.44144981413,
				1.97431192661,
				0.544144981413
			]),
			[
				'c3',
				0.1,
				0.0361,
				0.0199,
				0.0162,
				0.0752788104089,
				0.0924721189591,
				0.0909090909091,
				1.67750929368,
				1.08140703518,
				0.167750929368
			]
		]);
	});
});

describe('Large and small numbers (hand-worked: closed forms)', () => {
	const numbered = (n: number, p: number) =>
		Object.fromEntries(Array.from({ length: n }, (_, i) => [`e${i}`, p]));
	const pairs = (n: number, p: number, outer: string, inner: string) =>
		tree(numbered(2 * n, p), {
			TOP: [outer, ...Array.from({ length: n }, (_, i) => `g${i}`)],
			...Object.fromEntries(
				Array.from({ length: n }, (_, i) => [
					`g${i}`,
					[inner, `e${2 * i}`, `e${2 * i + 1}`] as [string, string, string]
				])
			)
		});
	const count = (model: TreeModel) => {
		const sets = minimalCutSets(model, { list: 0 });
		return sets.ok ? sets.count : NaN;
	};
	it.each([
		[200, 0.01, 'or', 'and', 200, 0.0198023069567793, 0.02, 0.0198023069567793],
		[5, 0.05, 'and', 'or', 32, 8.81095693359375e-6, 1e-5, null],
		[10, 0.05, 'and', 'or', 1024, 7.76329620856438e-11, 1e-10, null],
		[16, 0.05, 'and', 'or', 65536, 6.66920168424826e-17, 1e-16, null],
		[5, 0.3, 'and', 'or', 32, 0.0345025251, 0.07776, 0.0749011032085029],
		[10, 0.3, 'and', 'or', 1024, 0.00119042423827613, 0.0060466176, 0.00602839134260764]
	])('%i pairs of p = %f: %s of %s', (n, p, outer, inner, sets, exact, rare, bound) => {
		const model = pairs(n, p, outer, inner);
		relative(top(model), exact);
		expect(count(model)).toBe(sets);
		const ours = measures(model);
		relative(ours.rareEventSum, rare);
		if (bound !== null) relative(ours.minCutUpperBound, bound);
	});
	it.each([
		[2, 10, 0.05, 45, 0.0861383558993164, 0.1125],
		[3, 10, 0.1, 120, 0.0701908264, 0.12],
		[5, 30, 0.1, 142506, 0.175494879033895, 1.42506]
	])('%i-of-%i', (k, n, p, sets, exact, rare) => {
		const model = tree(numbered(n, p), { TOP: [`atLeast ${k}`, ...Object.keys(numbered(n, p))] });
		relative(top(model), exact);
		expect(count(model)).toBe(sets);
		relative(measures(model).rareEventSum, rare);
	});
	it.each([
		[2, 10, 0.1, 9, 0.080252776, 0.09],
		[3, 10, 0.1, 8, 0.00729154, 0.008],
		[2, 50, 0.05, 49, 0.110575701930929, 0.1225]
	])('consecutive %i-of-%i', (k, n, p, sets, exact, rare) => {
		const runs = Array.from({ length: n - k + 1 }, (_, i) =>
			Array.from({ length: k }, (_, j) => `e${i + j}`)
		);
		const model = tree(numbered(n, p), {
			TOP: ['or', ...runs.map((_, i) => `g${i}`)],
			...Object.fromEntries(runs.map((run, i) => [`g${i}`, ['and', ...run] as [string, ...string[]]]))
		});
		relative(top(model), exact);
		expect(count(model)).toBe(sets);
		relative(measures(model).rareEventSum, rare);
	});
});
