import { describe, expect, it } from 'vitest';
import { checkTree, robustness, weigh, type TreeModel } from '$lib/reasoning';

const links = [
	{ from: 'A', p: 0.8 },
	{ from: { not: 'B' }, p: 0.3 },
	{ from: 'G', p: 0.05 }
];
const tree = (more: Partial<TreeModel>): TreeModel => ({
	top: 'TOP',
	events: [
		{ id: 'A', p: 0.2 },
		{ id: 'B', p: 0.3 },
		{ id: 'C', p: 0.1 }
	],
	gates: [
		{ id: 'TOP', type: 'or', inputs: ['A', 'G'] },
		{ id: 'G', type: 'or', inputs: ['B', 'C'] }
	],
	...more
});
const finding = (state: 'present' | 'absent') =>
	tree({ findings: [{ id: 'F', first: true, state, baseRate: 0.6, links }] });
/** The same said as a calculated likelihood: there too the first true scenario decides. */
const likelihood = (of: (p: number) => number) =>
	tree({
		likelihoods: [
			{
				id: 'F',
				scenarios: [
					...links.map(({ from, p }) => ({ event: from, density: of(p) })),
					{ otherwise: true, density: of(0.6) }
				]
			}
		]
	});

describe('a finding of which the first true link decides', () => {
	it.each([
		['present', (p: number) => p],
		['absent', (p: number) => 1 - p]
	] as const)('%s weighs as the table of its numbers does', (state, of) => {
		const [one, other] = [weigh(finding(state)), weigh(likelihood(of))];
		expect(Object.keys(one.gates)).toEqual(['TOP', 'G']);
		for (const id of ['A', 'B', 'C', 'G']) {
			const [a, b] = [one, other].map(({ events, gates }) => (events[id] ?? gates[id])!.givenAll!);
			expect(a).toBeCloseTo(b!, 12);
		}
		expect(one.logEvidence).toBeCloseTo(other.logDensity!, 12);
	});

	it('its numbers are moved under the names that were typed, and it is nobody else’s observation', () => {
		const robust = robustness(finding('present'));
		if (!robust.ok) throw new Error(robust.problem);
		const its = robust.assumptions.filter(({ id }) => id === 'F');
		expect(its.map(({ kind, from, value }) => [kind, from, value]).sort()).toEqual([
			['baseRate', undefined, 0.6],
			['link', '!B', 0.3],
			['link', 'A', 0.8],
			['link', 'G', 0.05]
		]);
		const same = tree({
			findings: [
				{ id: 'F', first: true },
				{ id: 'F2', sameAs: 'F' }
			]
		});
		expect(checkTree(same).join()).toContain('same observation');
	});
});
