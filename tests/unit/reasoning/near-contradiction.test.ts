import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alikeFindings, doubleCounts, nearContradiction, weigh, type TreeModel } from '$lib/reasoning';
import { ALMOST_IMPOSSIBLE } from '$lib/reasoning/almost-impossible';
import { bruteForce } from './oracle';
import { randomTree } from './random-tree';
import { investigation } from './calibration/investigations';

const model: TreeModel = {
	events: [
		{ id: 'A', p: 0.01 },
		{ id: 'B', p: 0.01 },
		{ id: 'C', p: 0.01 }
	],
	gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B', 'C'] }],
	findings: []
};
const sign = (id: string, from: string, baseRate = 0.0005) => ({
	id,
	state: 'present' as const,
	baseRate,
	links: [{ from, p: 0.95 }]
});
const near = (findings: TreeModel['findings'], more: Partial<TreeModel> = {}) => {
	const found = nearContradiction({ ...model, ...more, findings });
	if (!found.ok) throw new Error(found.problem);
	return found.near;
};
/** P(these | top), by visiting every state. */
function probability(findings: TreeModel['findings']): number {
	const { pFindings, pGiven } = bruteForce({ ...model, top: 'TOP', findings }, 'TOP');
	return pFindings / pGiven;
}

describe('Evidence that the tree makes almost impossible', () => {
	it('one finding that no cause in the tree makes likely', () => {
		const odd = { id: 'odd', state: 'present' as const, baseRate: 0.0004 };
		const found = near([sign('a', 'A'), odd]);
		expect(found).toMatchObject({ clash: ['odd'], fewest: true });
		expect(found?.ratio).toBeCloseTo(0.0004, 12);
		expect(found?.message).toMatch(/1 in 2,500: a cause is missing from it, this finding is wrong, or/);
	});
	it('two that speak for causes of which one would be enough: joint over product', () => {
		const rare = { events: model.events.map((event) => ({ ...event, p: 2e-4 })) };
		const pair = [sign('a', 'A', 1e-5), sign('b', 'B', 1e-5)];
		const found = near([...pair, { id: 'idle', state: 'absent', baseRate: 0.3 }], rare);
		expect(found).toMatchObject({ clash: ['a', 'b'], fewest: true });
		const p = (findings: TreeModel['findings']) => {
			const { pFindings, pGiven } = bruteForce({ ...model, ...rare, top: 'TOP', findings }, 'TOP');
			return pFindings / pGiven;
		};
		expect(found?.ratio).toBeCloseTo(p(pair) / (p([pair[0]!]) * p([pair[1]!])), 12);
		expect(found?.ratio).toBeLessThan(ALMOST_IMPOSSIBLE);
		expect(found?.message).toMatch(/'a', 'b' hardly go together/);
	});
	it('not where a second cause is merely uncommon', () => {
		const pair = [sign('a', 'A', 0.02), sign('b', 'B', 0.02)];
		expect(probability(pair) / (probability([pair[0]!]) * probability([pair[1]!]))).toBeGreaterThan(0.01);
		expect(near(pair)).toBeNull();
		expect(near([])).toBeNull();
	});
	it('three absent signs that leave no cause, though any two may be absent', () => {
		const absent = (from: string) => ({
			id: `no ${from}`,
			state: 'absent' as const,
			links: [{ from, p: 0.9999 }]
		});
		const found = near([absent('A'), absent('B'), absent('C'), sign('idle', 'A', 0.5)]);
		expect(found?.clash.toSorted()).toEqual(['no A', 'no B', 'no C']);
		expect(found?.fewest).toBe(true);
	});
	it('a calculation is judged with a finding, never alone, whatever its unit', () => {
		const likelihoods = (scale: number) => [
			{
				id: 'place',
				scenarios: [
					{ event: 'A', density: scale },
					{ otherwise: true as const, density: 1e-6 * scale }
				]
			}
		];
		expect(near([], { likelihoods: likelihoods(1e-9) })).toBeNull();
		const clashing = (scale: number) =>
			near([sign('b', 'B', 1e-6)], {
				likelihoods: likelihoods(scale),
				events: model.events.map((e) => ({ ...e, p: 1e-4 }))
			});
		expect(clashing(1)?.clash).toEqual(['b', 'place']);
		expect(clashing(1e-9)?.ratio).toBeCloseTo(clashing(1)?.ratio ?? NaN, 12);
	});
	it('what is impossible outright is refused in words', () => {
		const ghost = { id: 'ghost', state: 'present' as const };
		expect(nearContradiction({ ...model, findings: [ghost] })).toMatchObject({ ok: false });
	});
	it('speaks up in few investigations of trees that are right', () => {
		const count = 400;
		let said = 0;
		for (let i = 0; i < count; i++) {
			const found = nearContradiction(investigation(1, i).model);
			if (found.ok && found.near) said++;
		}
		expect(said / count).toBeLessThan(0.02);
	}, 60_000);
});

describe('Evidence that is almost impossible, from a sample', () => {
	const SMALL = { maxNodes: 1, particles: 400 };
	const scaled = (p: number) => ({ events: model.events.map((event) => ({ ...event, p })) });
	const absent = (from: string) => ({
		id: `no ${from}`,
		state: 'absent' as const,
		links: [{ from, p: 0.9999 }]
	});
	const told = (tree: TreeModel) => {
		const [exact, ours] = [nearContradiction(tree), nearContradiction(tree, SMALL)];
		if (!exact.ok || !ours.ok) throw new Error('refused');
		return { exact: exact.near, ours: ours.near };
	};
	const trees: Record<string, TreeModel> = {
		'one finding': { ...model, findings: [sign('a', 'A'), sign('odd', 'B', 0), absent('B')] },
		'a finding that nothing makes likely': {
			...model,
			findings: [sign('a', 'A'), { id: 'odd', state: 'present', baseRate: 0.0004 }]
		},
		// Both together is so rare that no sample of what is given shows it, and yet makes most of the ratio.
		'a pair': {
			...model,
			...scaled(2e-4),
			findings: [sign('a', 'A', 1e-5), sign('b', 'B', 1e-5), { id: 'idle', state: 'absent', baseRate: 0.3 }]
		},
		'a pair of one origin': {
			...model,
			...scaled(2e-4),
			origins: [{ id: 'o', reliability: 0.9999, saysAnyway: 0.01 }],
			findings: ['A', 'B'].map((from) => ({ ...sign(from, from, 1e-5), origin: 'o' }))
		},
		'a finding and a calculation': {
			...model,
			...scaled(1e-4),
			findings: [sign('b', 'B', 1e-6)],
			likelihoods: [
				{
					id: 'place',
					scenarios: [
						{ event: 'A', density: 1e-9 },
						{ otherwise: true, density: 1e-15 }
					]
				}
			]
		},
		'three of four': {
			...model,
			findings: [absent('A'), absent('B'), absent('C'), sign('idle', 'A', 0.5)]
		}
	};
	it.each(Object.entries(trees))('%s: the same as exactly, within its error', (_, tree) => {
		const { exact, ours } = told(tree);
		expect(ours).toMatchObject({ clash: exact!.clash, fewest: exact!.fewest });
		expect(Math.abs(ours!.ratio - exact!.ratio)).toBeLessThan(4 * ours!.error!);
		expect(ours!.error).toBeGreaterThan(0);
		expect(ours!.error).toBeLessThan(0.3 * exact!.ratio);
	});
	it('on random trees as exactly, or it is not told', () => {
		let [near, none, refused] = [0, 0, 0];
		fc.assert(
			fc.property(randomTree, (random) => {
				// Findings that are rarer than a tree like this has them.
				const findings = (random.findings ?? []).map(({ baseRate = 0.5, ...finding }) => ({
					...finding,
					...(finding.sameAs === undefined ? { baseRate: 0.01 * baseRate } : {})
				}));
				const tree = { ...random, findings };
				const [exact, ours] = [
					nearContradiction(tree),
					nearContradiction(tree, { maxNodes: 1, particles: 160 })
				];
				if (!exact.ok || !ours.ok) return void (exact.ok && refused++);
				// What lies on the limit may fall to either side.
				if (Math.abs(Math.log((exact.near?.ratio ?? 1) / ALMOST_IMPOSSIBLE)) < 0.1) return;
				expect(ours.near?.clash).toEqual(exact.near?.clash);
				if (!exact.near) return void none++;
				near++;
				expect(Math.abs((ours.near?.ratio ?? NaN) - exact.near.ratio)).toBeLessThan(
					5 * (ours.near?.error ?? 0)
				);
			}),
			{ numRuns: 30, seed: 11, endOnFailure: true }
		);
		expect(near).toBeGreaterThan(1);
		expect(none).toBeGreaterThan(10);
		expect(refused).toBeLessThan(5);
	});
	it('not where a second cause is merely uncommon', () => {
		const pair = { ...model, findings: [sign('a', 'A', 0.02), sign('b', 'B', 0.02)] };
		for (const tree of [pair, model]) expect(told(tree)).toEqual({ exact: null, ours: null });
	});
	it('gives the same digits on every run, and refuses in words what no state allows', () => {
		const tree = trees['a pair']!;
		expect(nearContradiction(tree, SMALL)).toEqual(nearContradiction(tree, SMALL));
		const ghost = { ...model, findings: [{ id: 'ghost', state: 'present' as const }] };
		expect(nearContradiction(ghost, SMALL)).toMatchObject({ ok: false });
	});
});

describe('What would have been counted twice', () => {
	const findings = [
		sign('soot', 'A', 0.05),
		{ id: 'soot, said again', state: 'present' as const, sameAs: 'soot' },
		{ ...sign('seen', 'B', 0.1), origin: 'witness' },
		{ ...sign('heard', 'B', 0.1), origin: 'witness' },
		{ ...sign('felt', 'C', 0.1), origin: 'sensor' }
	];
	const origins = [
		{ id: 'witness', reliability: 0.7, saysAnyway: 0.4 },
		{ id: 'sensor', reliability: 0.7, saysAnyway: 0.4 }
	];
	const counted = doubleCounts({ ...model, findings, origins });
	it('names the groups of which more than one was made', () => {
		expect(counted.map(({ findings: ids, because, origin }) => [ids, because, origin])).toEqual([
			[['soot', 'soot, said again'], 'sameObservation', undefined],
			[['seen', 'heard'], 'origin', 'witness']
		]);
	});
	it('one observation told twice says as much as once; apart it would say twice as much', () => {
		const a = counted[0]?.causes.find(({ id }) => id === 'A');
		const once = weigh({ ...model, findings: findings.slice(0, 1) }).events['A']?.givenAll ?? NaN;
		const start = weigh(model).events['A']?.givenAll ?? NaN;
		const odds = (p: number) => p / (1 - p);
		expect(a?.together).toBeCloseTo(10 * Math.log10(odds(once) / odds(start)), 10);
		expect(a?.apart).toBeCloseTo(2 * (a?.together ?? NaN), 10);
	});
	it('one witness is believed or not once', () => {
		const b = counted[1]?.causes[0];
		expect(b?.id).toBe('B');
		expect(b?.apart).toBeGreaterThan((b?.together ?? NaN) + 0.5);
		// By hand on the joint: both reports from one mood of the witness.
		const all = bruteForce({ ...model, top: 'TOP', origins, findings: findings.slice(2, 4) }, 'TOP');
		const start = bruteForce({ ...model, top: 'TOP' }, 'TOP').givenTop['B'] ?? NaN;
		const now = all.givenAll['B'] ?? NaN;
		expect(b?.together).toBeCloseTo(10 * Math.log10(now / (1 - now) / (start / (1 - start))), 9);
	});
	it('nothing is dependent where nothing was declared', () => {
		expect(doubleCounts({ ...model, findings: [sign('a', 'A')] })).toEqual([]);
	});
	it('findings that look alike and were declared neither', () => {
		const labelled = (id: string, label: string, from: string, more: object = {}) => ({
			...sign(id, from, 0.1),
			label,
			...more
		});
		const two = (id: string, label: string) =>
			labelled(id, label, 'A', { links: ['B', 'C'].map((from) => ({ from, p: 0.4 })) });
		const list = [
			labelled('f1', 'Soot inside the forward section', 'A'),
			labelled('f2', 'There is soot inside the forward section', 'A', { baseRate: 0.2 }),
			labelled('f3', 'The igniter leads are whole', 'A'),
			two('f6', 'Both doors open'),
			two('f7', 'The cord is cut'),
			labelled('f4', 'Soot inside the forward section', 'B', { state: 'absent' }),
			labelled('f5', 'Crack', 'C', { state: 'notExamined' })
		];
		expect(alikeFindings({ ...model, findings: list })).toEqual([
			{ findings: ['f1', 'f2'], because: 'words' },
			{ findings: ['f6', 'f7'], because: 'links' }
		]);
		const declared = list.map((f) => (f.id === 'f2' ? { ...f, links: [], sameAs: 'f1' } : f));
		expect(alikeFindings({ ...model, findings: declared }).map(({ because }) => because)).toEqual(['links']);
	});
});
