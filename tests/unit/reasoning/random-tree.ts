import fc from 'fast-check';
import type { Literal, TreeModel } from '../../../src/lib/reasoning/model';

/** Small whole numbers from a stream that fast-check can shrink. */
type Draw = (max: number) => number;

/**
 * A random tree of at most 16 variables in all, counting events, chance rows, links, base rates, origins and
 * likelihoods: shared events, all gates, negations, findings, origins, same observations, likelihoods, exclusion,
 * common-cause groups (their parts counted).
 */
export const randomTree: fc.Arbitrary<TreeModel> = fc
	.array(fc.nat(999), { minLength: 150, maxLength: 150 })
	.map((numbers) => {
		let at = 0;
		const draw: Draw = (max) => (numbers[at++ % numbers.length] as number) % (max + 1);
		return build(draw);
	});

function build(draw: Draw): TreeModel {
	let room = 16;
	const p = () => [0, 1, 0.5, 0.001][draw(40)] ?? (1 + draw(998)) / 1000;
	const eventCount = 2 + draw(5);
	const events: TreeModel['events'] = [];
	for (let i = 0; i < eventCount; i++) {
		const house = draw(14) === 0;
		events.push(house ? { id: `e${i}`, kind: 'house', state: draw(1) === 1 } : { id: `e${i}`, p: p() });
		if (!house) room--;
	}
	const nodes = events.map(({ id }) => id);
	const literal = (): Literal => {
		const id = nodes[draw(nodes.length - 1)] as string;
		return [`!${id}`, { not: id }][draw(9)] ?? id;
	};
	const distinct = (count: number): Literal[] => {
		const seen = new Set<string>();
		return Array.from({ length: count }, literal).filter((input) => {
			const name = typeof input === 'string' ? input : `!${input.not}`;
			return !seen.has(name) && seen.add(name);
		});
	};
	const gates: NonNullable<TreeModel['gates']> = [];
	const gateCount = 1 + draw(5);
	for (let i = 0; i < gateCount; i++) {
		const id = `g${i}`;
		let inputs = distinct(1 + draw(3));
		const n = inputs.length;
		const kinds = [
			'or',
			'and',
			'or',
			'and',
			'atLeast',
			'cardinality',
			'exactlyOne',
			'odd',
			'inhibit',
			'priorityAnd',
			'nor',
			'nand'
		] as const;
		const one = ['not', 'or', 'and'] as const;
		const two = ['xor', 'imply', 'iff', 'table'] as const;
		const type =
			n === 1
				? (one[draw(4)] ?? 'or')
				: n === 2 && draw(2) === 0
					? (two[draw(3)] ?? 'xor')
					: (kinds[draw(11)] ?? 'or');
		if (type === 'table' && room >= 4) {
			room -= 4;
			gates.push({ id, type, inputs, table: { TT: p(), TF: p(), FT: p(), FF: p() } });
		} else if (type === 'table') gates.push({ id, type: 'xor', inputs });
		else if (type === 'atLeast') gates.push({ id, type, inputs, k: 1 + draw(n - 1) });
		else if (type === 'cardinality') {
			const min = draw(n);
			gates.push({ id, type, inputs, min, max: min + draw(n - min) });
		} else if (type === 'inhibit') {
			const condition = literal();
			inputs = inputs.slice(0, 2);
			gates.push({ id, type, inputs, condition });
		} else gates.push({ id, type, inputs });
		nodes.push(id);
	}
	let free = events.filter(({ kind }) => kind !== 'house');
	const commonCause: NonNullable<TreeModel['commonCause']> = [];
	if (draw(6) === 0 && free.length >= 2) {
		const members = free.slice(0, 2 + draw(Math.min(2, free.length - 2)));
		const n = members.length;
		const model = (['beta', 'multiLetter', 'alpha'] as const)[draw(2)] ?? 'beta';
		const parts = model === 'beta' ? n + 1 : 2 ** n - 1;
		if (room >= parts - n) {
			room -= parts - n;
			free = free.slice(n);
			for (const member of members) member.p = members[0]?.p ?? 0;
			const raw = Array.from({ length: { beta: 1, multiLetter: n - 1, alpha: n }[model] }, p);
			const sum = raw.reduce((a, b) => a + b, 0);
			const factors = model !== 'alpha' ? raw : sum > 0 ? raw.map((x) => x / sum) : raw.map(() => 1 / n);
			const staggered = model === 'alpha' && draw(1) === 0 ? { staggered: true } : {};
			commonCause.push({ id: 'c', members: members.map(({ id }) => id), model, factors, ...staggered });
		}
	}
	const exclusive: string[][] = [];
	if (draw(3) === 0 && free.length >= 2) {
		const group = free.slice(0, 2 + draw(free.length - 2));
		const total = group.reduce((sum, { p = 0 }) => sum + p, 0);
		const shrink = draw(2) === 0 && total > 0 ? total : Math.max(1, total);
		for (const event of group) event.p = (event.p ?? 0) / shrink;
		exclusive.push(group.map(({ id }) => id));
	}
	const origins: NonNullable<TreeModel['origins']> = [];
	if (draw(1) === 0 && room >= 4) {
		const count = 1 + draw(1);
		for (let i = 0; i < count; i++)
			origins.push({ id: `o${i}`, reliability: draw(5) === 0 ? 1 : p(), saysAnyway: p() });
		room -= 2 * count;
	}
	const findings: NonNullable<TreeModel['findings']> = [];
	const findingCount = draw(4);
	for (let i = 0; i < findingCount && room >= 2; i++) {
		const links = distinct(Math.min(draw(2), room - 1)).map((from) => ({ from, p: p() }));
		room -= 1 + links.length;
		const state = (['present', 'absent', 'notExamined', 'present'] as const)[draw(3)] ?? 'present';
		const origin = origins[draw(2)]?.id;
		const same = i > 0 && draw(3) === 0 ? findings[draw(i - 1)] : undefined;
		findings.push({
			id: `f${i}`,
			state,
			...(same ? { sameAs: same.id } : { links, baseRate: p() }),
			...(origin === undefined ? {} : { origin })
		});
	}
	const likelihoods: NonNullable<TreeModel['likelihoods']> = [];
	for (let i = draw(3) - 1; i > 0 && room >= 2; i--) {
		const listed = distinct(Math.min(1 + draw(1), room - 1));
		room -= listed.length + 1;
		likelihoods.push({
			id: `l${i}`,
			scenarios: [
				...listed.map((event) => ({ event, density: draw(6) === 0 ? 0 : draw(400) / 37 })),
				{ otherwise: true as const, density: 0.01 + draw(100) / 50 }
			]
		});
	}
	const top = gates[gates.length - 1 - (draw(4) === 0 ? draw(gates.length - 1) : 0)]?.id ?? 'g0';
	const given = [{}, { [nodes[draw(nodes.length - 1)] as string]: draw(1) === 0, [top]: true }][draw(5)];
	return {
		top,
		events,
		gates,
		exclusive,
		commonCause,
		origins,
		findings,
		likelihoods,
		...(given ? { given } : {})
	};
}
