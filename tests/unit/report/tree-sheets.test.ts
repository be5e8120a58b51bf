import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { emptyInvestigation, type Investigation } from '$lib/investigation/case';
import { leaf } from '$lib/investigation/operations/tree-parts';
import { below, inputsOf } from '$lib/investigation/views/tree';
import { readXml } from '$lib/reasoning/open-psa/xml';
import { PRINTED } from '$lib/report/palette';
import { drawTree } from '$lib/report/tree-drawing';
import { layoutTree } from '$lib/report/tree-layout';
import { cutTree } from '$lib/report/tree-pieces';
import { type Paper, PAPERS, printed, treeFigures, treeSheets } from '$lib/report/tree-sheets';
import { Case } from '../investigation/anomaly-case';

/** A tree from the inputs of its gates; what is named nowhere else is a basic event. */
function treeOf(gates: Readonly<Record<string, readonly string[]>>, top = 'top'): Investigation {
	const file = emptyInvestigation();
	const ids = new Set([...Object.keys(gates), ...Object.values(gates).flat()]);
	const events = [...ids].map((id) => {
		const inputs = gates[id];
		const event = leaf('a1', `${id} lets go under load`, inputs ? 'intermediate' : 'basic');
		const gate = {
			type: 'or' as const,
			k: null,
			inputs: [...(inputs ?? [])],
			condition: null,
			complete: false
		};
		return [id, { ...event, gate: inputs ? gate : null }];
	});
	const c = new Case();
	c.state();
	const anomaly = { ...c.file.anomalies['a1']!, top, title: 'Line <parted> & fell' };
	return {
		...file,
		anomalies: { a1: anomaly },
		events: Object.fromEntries(events) as Investigation['events']
	};
}
/** Four levels of `wide` causes each. */
const large = (wide: number) => {
	const gates: Record<string, string[]> = {};
	const grow = (id: string, depth: number) => {
		if (depth === 0) return;
		gates[id] = Array.from({ length: wide }, (_, i) => `${id}-${i}`);
		gates[id].forEach((input) => grow(input, depth - 1));
	};
	grow('top', 3);
	return gates;
};
const A4: Paper = { size: 'A4', across: false };
const words = (svg: string): string[] => {
	const all: string[] = [];
	const walk = (at: ReturnType<typeof readXml>) => {
		if (at.name === 'text') all.push(at.text);
		at.children.forEach(walk);
	};
	walk(readXml(svg));
	return all;
};
const several = (file: Investigation, paper = A4) =>
	treeSheets(file, 'a1', {}, { area: printed(paper), several: true });

describe('a fault tree on sheets of paper', () => {
	it('a small tree stays on one, no larger than on the screen', () => {
		const { sheets, readable, points } = several(treeOf({ top: ['a', 'b'] }));
		expect(sheets).toHaveLength(1);
		expect(readable).toBe(true);
		expect(points).toBeCloseTo((13 * 0.2646) / 0.3528, 6);
		expect(words(sheets[0]!)).toContain('sheet 1 of 1');
		expect(words(sheets[0]!).join()).not.toMatch(/Transfers/);
	});
	it('stands in the middle of its sheet', () => {
		const { width } = printed(A4);
		const [, x, scale] = /translate\(([\d.]+) [\d.]+\) scale\(([\d.]+)\)/.exec(
			several(treeOf({ top: ['a', 'b'] })).sheets[0]!
		)!;
		const { events } = treeOf({ top: ['a', 'b'] });
		const drawn = layoutTree(events, 'top').width * Number(scale);
		expect(Number(x) + drawn / 2).toBeCloseTo(width / 2, 1);
	});
	it('on one sheet a large tree is said to be too small to read', () => {
		const { sheets, readable, points } = treeSheets(
			treeOf(large(5)),
			'a1',
			{},
			{ area: printed(A4), several: false }
		);
		expect(sheets).toHaveLength(1);
		expect(readable).toBe(false);
		expect(points).toBeLessThan(6);
	});
	it('on several it is cut at gates; what is cut out has a number, and a line says where it is', () => {
		const { sheets, readable, points, cut } = several(treeOf(large(5)));
		expect(cut).toBe(true);
		expect(sheets.length).toBeGreaterThan(1);
		expect([readable, points > 7.99]).toEqual([true, true]);
		const first = words(sheets[0]!).at(-1);
		expect(first).toMatch(/^Transfers: 1 (here|on sheet \d+), 2 /);
		const all = sheets.map((svg) => words(svg).join('|')).join('|');
		expect(all).toMatch(/belongs to sheet 1/);
	});
	it('more causes under one gate than fit go on, and it says which', () => {
		const many = Array.from({ length: 60 }, (_, i) => `cause${i}`);
		const { sheets } = several(treeOf({ top: many }));
		expect(sheets.length).toBeGreaterThan(1);
		const parts = sheets
			.flatMap(words)
			.flatMap((text) => [...text.matchAll(/causes (\d+) to (\d+) of 60; the others on sheet/g)])
			.map(([, from, to]) => [Number(from), Number(to)] as const);
		expect(parts.length).toBeGreaterThan(1);
		expect(parts.map(([from]) => from)).toEqual([1, ...parts.slice(0, -1).map(([, to]) => to + 1)]);
		expect(parts.at(-1)?.[1]).toBe(60);
	});
	it('the same tree gives the same sheets, and larger paper takes fewer', () => {
		const file = treeOf(large(4));
		expect(several(file)).toEqual(several(file));
		const counts = (['A4', 'A3'] as const).map(
			(size) => several(file, { size, across: false }).sheets.length
		);
		expect(counts[1]).toBeLessThan(counts[0]!);
	});
	it('every sheet is as large as its paper less the edges', () => {
		for (const size of Object.keys(PAPERS) as Paper['size'][])
			for (const across of [false, true]) {
				const { width, height } = printed({ size, across });
				expect(width > height).toBe(across);
				const svg = readXml(several(treeOf(large(3)), { size, across }).sheets[0]!);
				expect(Number.parseFloat(svg.attributes.get('width')!)).toBeCloseTo(width, 1);
			}
	});
	it('the report draws a small tree as ever, and a large one on sheets', () => {
		const small = treeOf({ top: ['a', 'b'] });
		expect(treeFigures(small, 'a1', {}, PRINTED)).toEqual([drawTree(small, 'a1', {})]);
		const figures = treeFigures(treeOf(large(5)), 'a1', {}, PRINTED);
		expect(figures.length).toBeGreaterThan(2);
		expect(words(figures[0]!)).toContain(`sheet 1 of ${figures.length}`);
	});
	it('random trees with shared events: each event is drawn once, each piece fits, each transfer leads somewhere', () => {
		const shape = fc.array(fc.array(fc.nat(400), { minLength: 1, maxLength: 9 }), {
			minLength: 1,
			maxLength: 40
		});
		fc.assert(
			fc.property(shape, (rows) => {
				// Gate i takes gates after it, or basic events.
				const gates = Object.fromEntries(
					rows.map((row, i) => [
						i === 0 ? 'top' : `g${i}`,
						[
							...new Set(
								row.map((n) => (n % 3 > 0 && i + 1 + (n % 7) < rows.length ? `g${i + 1 + (n % 7)}` : `e${n}`))
							)
						]
					])
				);
				const { events } = treeOf(gates);
				const room = { width: 1030, height: 1400 };
				const pieces = cutTree(events, 'top', room);
				const reached = below(events, 'top');
				const homes = pieces.flatMap(({ layout }) => layout.places.filter((place) => place.home));
				const continued = new Set(pieces.filter(({ part }) => part && part.from > 0).map(({ root }) => root));
				for (const id of reached) {
					const own = homes.filter((place) => place.event === id).length;
					if (continued.has(id)) expect(own).toBeGreaterThan(1);
					else expect(own).toBe(1);
				}
				for (const { layout } of pieces) {
					expect(layout.width).toBeLessThanOrEqual(room.width);
					expect(layout.height).toBeLessThanOrEqual(room.height);
				}
				// Every line from a gate to a cause is drawn once.
				const edges = pieces.flatMap(({ layout }) => layout.edges).length;
				expect(edges).toBe(reached.reduce((sum, id) => sum + inputsOf(events[id]).length, 0));
			}),
			{ numRuns: 100 }
		);
	});
});
