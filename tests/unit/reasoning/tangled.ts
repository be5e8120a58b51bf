import type { FindingState, TreeModel } from '$lib/reasoning';

const causes = Array.from({ length: 24 }, (_, i) => `c${i}`);

/** Every sign could come of any of 24 causes: nothing is local, so no order of variables helps. */
export const tangled: TreeModel = {
	events: causes.map((id, i) => ({ id, p: 0.02 + 0.005 * i })),
	gates: [
		{ id: 'TOP', type: 'or', inputs: ['X', 'Y'] },
		{ id: 'X', type: 'or', inputs: causes.slice(0, 12) },
		{ id: 'Y', type: 'atLeast', k: 2, inputs: causes.slice(12) }
	],
	origins: [{ id: 'o', reliability: 0.8, saysAnyway: 0.3 }],
	findings: Array.from({ length: 10 }, (_, j) => ({
		id: `f${j}`,
		state: j % 4 === 3 ? ('absent' as const) : ('present' as const),
		baseRate: 0.05,
		links: [j, j + 7, (5 * j + 3) % 24, (11 * j + 13) % 24]
			.filter((c, i, all) => all.indexOf(c) === i)
			.map((c) => ({ from: `c${c}`, p: 0.3 + 0.05 * (j % 5) })),
		...(j % 3 === 0 ? { origin: 'o' } : {})
	})),
	likelihoods: [
		{
			id: 'where it lay',
			scenarios: [
				{ event: 'X', density: 0.4 },
				{ event: 'Y', density: 0.9 },
				{ otherwise: true, density: 0.2 }
			]
		}
	]
};

/** The same with its last findings not looked at yet. */
export const unlooked = (from: number): TreeModel => ({
	...tangled,
	findings: (tangled.findings ?? []).map((finding, j) => ({
		...finding,
		state: j < from ? finding.state : ('notExamined' satisfies FindingState)
	}))
});
