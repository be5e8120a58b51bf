/** The benchmark's random trees and its case with findings, origins and calculated likelihoods. */
import type { TreeModel } from '$lib/reasoning';
import { u } from './inputs';

/** A tree over n events, some of them shared; the hard one shares half of the time, from anywhere in the tree. */
export function randomTree(n: number, hard = false): TreeModel {
	let i = 0;
	const draw = () => u(n, ++i);
	const events = Array.from({ length: n }, (_, e) => ({ id: `e${e}`, p: 10 ** (-3 + 2 * draw()) }));
	const gates: NonNullable<TreeModel['gates']> = [];
	const build = (lo: number, hi: number): string => {
		const m = hi - lo;
		let inputs = Array.from({ length: m }, (_, j) => `e${lo + j}`);
		if (m > 4) {
			const parts = 2 + Math.floor(3 * draw());
			const cut = (k: number) => lo + Math.floor((m * k) / parts);
			inputs = Array.from({ length: parts }, (_, k) => build(cut(k), cut(k + 1)));
		}
		if (draw() < (hard ? 0.5 : 0.15)) {
			const at = hard ? Math.floor(draw() * n) : lo - 6 + Math.floor(draw() * (m + 12));
			const shared = `e${Math.max(0, Math.min(n - 1, at))}`;
			if (!inputs.includes(shared)) inputs.push(shared);
		}
		const kind = draw();
		const id = `g${gates.length}`;
		if (m === n || kind < 0.5) gates.push({ id, type: 'or', inputs });
		else if (kind < 0.8 || inputs.length < 3) gates.push({ id, type: 'and', inputs });
		else gates.push({ id, type: 'atLeast', k: 2, inputs });
		return id;
	};
	return { top: build(0, n), events, gates };
}

/** 60 events, 80 findings with local links (or, when hard, from anywhere and all present), 8 calculated likelihoods. */
export function caseModel(hard = false): TreeModel {
	const tree = randomTree(60);
	const origins = Array.from({ length: 10 }, (_, o) => ({ id: `o${o}`, reliability: 0.9, saysAnyway: 0.5 }));
	const findings = Array.from({ length: 80 }, (_, j) => {
		const first = hard ? 0 : Math.floor(53 * u(60, j));
		const nearest = Array.from({ length: hard ? 60 : 8 }, (_, m) => m)
			.sort((a, b) => u(61 + a, j) - u(61 + b, j))
			.slice(0, 4);
		const state = u(72, j);
		return {
			id: `f${j}`,
			state:
				hard || state < 0.4
					? ('present' as const)
					: state < 0.8
						? ('absent' as const)
						: ('notExamined' as const),
			baseRate: 0.01 + 0.1 * u(71, j),
			links: nearest.map((m) => ({ from: `e${first + m}`, p: 0.2 + 0.7 * u(70, j) })),
			...(j % 8 === 0 ? { origin: `o${j / 8}` } : {})
		};
	});
	const branches = (tree.gates?.find(({ id }) => id === tree.top)?.inputs ?? []) as string[];
	const branch = (k: number) => branches[k % branches.length] as string;
	const likelihoods = Array.from({ length: 8 }, (_, k) => ({
		id: `l${k}`,
		scenarios: [
			{ event: branch(k), density: 1 + u(80, k) },
			{ event: branch(k + 1), density: 0.5 + u(81, k) },
			{ otherwise: true as const, density: 0.3 }
		]
	}));
	return { ...tree, origins, findings, likelihoods };
}
