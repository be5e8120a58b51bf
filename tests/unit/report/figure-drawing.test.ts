import { describe, expect, it } from 'vitest';
import type { Figure, Layer, Point } from '$lib/calculations/figure';
import { figureCsv } from '$lib/report/figure-csv';
import { drawFigure } from '$lib/report/figure-drawing';
import { PRINTED, THEMED } from '$lib/report/palette';

const plot: Figure = {
	title: 'How far it would lie & how far it lay',
	x: { label: 'Height', unit: 'm', min: 0, max: 1000 },
	y: { label: 'Distance', unit: 'm', min: 0, max: 100 },
	layers: [
		{ kind: 'band', label: '90 of 100 falls', x: [0, 500, 1000], low: [0, 20, 40], high: [0, 60, 90] },
		{
			kind: 'line',
			label: 'median <fall>',
			points: [
				[0, 0],
				[1000, 60]
			],
			dashed: true
		},
		{ kind: 'rule', label: 'measured', axis: 'y', at: 25, halfWidth: 5 }
	]
};
const square: [number, number][] = [
	[0, 0],
	[100, 0],
	[100, 100],
	[0, 100]
];
const plan: Figure = {
	title: 'Where it would lie',
	x: { label: 'East', unit: 'm' },
	y: { label: 'North', unit: 'm' },
	equalScale: true,
	layers: [
		{ kind: 'region', label: 'as planned, 90 %', polygons: [square], hatch: 0, strong: true },
		{
			kind: 'region',
			label: 'drogue only, 90 %',
			polygons: [square.map(([x, y]) => [x + 300, y])],
			hatch: 1,
			strong: true
		},
		{ kind: 'point', label: 'found', x: 250, y: 80, radius: 30 }
	]
};
const chain: Figure = {
	title: 'Margins along the load path',
	x: { label: 'Margin of safety', unit: '1' },
	y: { label: '', unit: '1' },
	layers: [
		{
			kind: 'chain',
			label: 'load path',
			links: [
				{ label: 'Swivel', value: 2, low: 1.5, high: 2.5 },
				{ label: 'Bond', value: -0.1, low: -0.4, high: 0.3 },
				{ label: 'Tube', value: 3 }
			]
		},
		{ kind: 'rule', label: 'gives way', axis: 'x', at: 0 }
	]
};

/** Texts of the drawing in reading order. */
const texts = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((m) => m[1]!);
const numbersOf = (d: string) => [...d.matchAll(/-?[\d.]+/g)].map((m) => Number(m[0]));

const rows: Figure = {
	title: 'Where each stands & stood',
	x: { label: 'Probability', unit: '%', min: 0 },
	y: { label: '', unit: '1' },
	layers: [
		{ kind: 'rule', label: 'all together', axis: 'x', at: 30, halfWidth: 4 },
		{
			kind: 'rows',
			label: 'segments',
			rows: [
				{ label: 'Gully', note: 'best next', value: 20, before: 40 },
				{ label: 'Field', value: 30, low: 25, high: 36 }
			]
		}
	]
};

describe('a plot', () => {
	const svg = drawFigure(plot, { palette: PRINTED, width: 700 });

	it('has axes with units, round ticks, and a label on every layer instead of a legend', () => {
		const words = texts(svg);
		for (const expected of ['Height, m', 'Distance, m', '90 of 100 falls', 'measured', '1000', '40', '0'])
			expect(words).toContain(expected);
		for (const tick of words.filter((w) => /^\d+$/.test(w))) expect(Number(tick) % 10).toBe(0);
	});

	it('puts values where the axes say', () => {
		const at = (text: string) =>
			new RegExp(`<text x="([\\d.]+)" y="([\\d.]+)"[^>]*>${text}</text>`).exec(svg)!;
		const zeroX = Number(
			[...svg.matchAll(/<text x="([\d.]+)" y="[\d.]+" text-anchor="middle"[^>]*>0<\/text>/g)][0]![1]
		);
		const fullX = Number(at('1000')[1]);
		const line = numbersOf(
			/<path d="(M[^"]*)" fill="none" stroke="[^"]*" stroke-width="2"[^>]*stroke-dasharray="2 4"/.exec(
				svg
			)![1]!
		);
		expect(line[0]).toBeCloseTo(zeroX, 0);
		expect(line[2]).toBeCloseTo(fullX, 0);
		const [, , ...ys] = [0, 0, line[1]!, line[3]!];
		// 60 of 100 up the frame: the same share of the distance between the ticks 0 and 100.
		const tickY = (text: string) =>
			Number(new RegExp(`y="([\\d.]+)" text-anchor="end"[^>]*>${text}</text>`).exec(svg)![1]) - 4;
		expect((ys[0] - ys[1]) / (tickY('0') - tickY('100'))).toBeCloseTo(0.6, 2);
	});

	it('escapes what people wrote, and stands alone when printed', () => {
		expect(svg).toContain('median &lt;fall&gt;');
		expect(svg).toContain('aria-label="How far it would lie &amp; how far it lay"');
		expect(svg).not.toContain('var(--');
		expect(svg.startsWith('<svg xmlns="http://www.w3.org/2000/svg"')).toBe(true);
		expect(drawFigure(plot, { palette: THEMED })).toContain('var(--ink)');
	});

	it('never prints NaN, whatever is missing', () => {
		const odd: Figure = {
			...plot,
			x: { label: '', unit: 'm' },
			y: { label: '', unit: 'm' },
			layers: [
				{ kind: 'band', label: 'none', x: [], low: [], high: [] },
				{ kind: 'line', label: 'one', points: [[5, 5]] },
				{ kind: 'region', label: 'empty', polygons: [], hatch: 7, strong: true },
				{ kind: 'rule', label: 'alone', axis: 'x', at: 5 }
			]
		};
		for (const figure of [odd, { ...odd, layers: [] }, { ...odd, equalScale: true }])
			expect(drawFigure(figure)).not.toMatch(/NaN|Infinity|undefined/);
	});
});

describe('labels of rules', () => {
	const withRules = (...rules: (readonly ['x' | 'y', string, number])[]): Figure => ({
		...plot,
		y: { label: 'Pressure', unit: 'MPa', min: 0 },
		layers: [
			{ kind: 'band', label: 'band', x: [0, 500, 1000], low: [0, 20, 40], high: [0, 60, 90] },
			...rules.map(([axis, label, at]) => ({ kind: 'rule' as const, axis, label, at }))
		]
	});
	const drawn = (figure: Figure) => {
		const svg = drawFigure(figure, { width: 700 });
		const rules = [...svg.matchAll(/<path d="M([\d.]+) ([\d.]+)([HV])[\d.]+"[^>]*stroke-dasharray="9 4"/g)];
		const at = (words: string) => {
			const m = new RegExp(`<text x="([\\d.]+)" y="([\\d.]+)"[^>]*>${words}</text>`).exec(svg);
			return m ? { x: Number(m[1]), top: Number(m[2]) - 12.5, bottom: Number(m[2]) + 3.5 } : undefined;
		};
		return {
			at,
			across: rules.filter((m) => m[3] === 'H').map((m) => Number(m[2])),
			up: rules.filter((m) => m[3] === 'V').map((m) => Number(m[1]))
		};
	};

	it('a curve’s stands on no other line: not on an edge of the band, not across a rule', () => {
		const xs = Array.from({ length: 41 }, (_, i) => 25 * i);
		const figure: Figure = {
			...plot,
			layers: [
				{ kind: 'band', label: '90 of 100', x: xs, low: xs.map((x) => x / 30), high: xs.map((x) => x / 11) },
				{ kind: 'line', label: 'median', points: xs.map((x): Point => [x, x / 20]) },
				{ kind: 'rule', label: 'as typed', axis: 'x', at: 860 },
				{ kind: 'line', label: 'fully open', points: [[0, 70], [1000, 70]], dashed: true } // prettier-ignore
			]
		};
		const drawn = drawFigure(figure, { palette: PRINTED, width: 700 });
		// The scales of both axes, from two ticks of each.
		const tick = (words: string, which: string) => {
			const found = [...drawn.matchAll(new RegExp(`<text x="([\\d.]+)" y="([\\d.]+)" text-anchor="${which}"[^>]*>${words}<`, 'g'))][0]!; // prettier-ignore
			return [Number(found[1]), Number(found[2])] as const;
		};
		const [x0, x1] = [tick('0', 'middle')[0], tick('1000', 'middle')[0]];
		const [y0, y1] = [tick('0', 'end')[1] - 4, tick('100', 'end')[1] - 4];
		const px = (x: number) => x0 + ((x1 - x0) * x) / 1000;
		const py = (y: number) => y0 + ((y1 - y0) * y) / 100;
		const boxes = ['90 of 100', 'median', 'as typed', 'fully open'].map((words) => {
			const found = new RegExp(`<text x="([\\d.]+)" y="([\\d.]+)"[^>]*>${words}<`).exec(drawn)!;
			const [x, y] = [Number(found[1]), Number(found[2])];
			return { words, x, y, right: x + 6 * words.length };
		});
		const curves = [30, 11, 20].map((by) => (x: number) => x / by);
		for (const { words, x, y, right } of boxes) {
			for (const value of [...curves, () => 70])
				for (const at of xs.filter((at) => px(at) > x && px(at) < right)) {
					const line = py(value(at));
					expect(line > y + 2 || line < y - 9, words).toBe(true);
				}
			expect(px(860) < x || px(860) > right, words).toBe(true);
		}
		// The band's own name stands within it.
		const { x, y } = boxes[0]!;
		const at = ((x - x0) / (x1 - x0)) * 1000;
		expect(y).toBeGreaterThan(py(at / 11));
		expect(y).toBeLessThan(py(at / 30));
	});
	it('two rules close together have theirs on the outer sides', () => {
		const { at, across } = drawn(withRules(['y', 'yields', 60], ['y', 'bursts', 65]));
		const [yields, bursts] = across as [number, number];
		expect(at('yields')!.top).toBeGreaterThan(yields);
		expect(at('bursts')!.bottom).toBeLessThan(bursts);
		expect(at('yields')!.top - yields).toBeLessThan(8);
		expect(bursts - at('bursts')!.bottom).toBeLessThan(8);
	});
	it('the lower of two has its label below it even where the upper one’s has no room above', () => {
		const { at, across } = drawn(withRules(['y', 'yields', 91], ['y', 'bursts', 101]));
		const [yields, bursts] = across as [number, number];
		expect(yields - bursts).toBeGreaterThan(26);
		expect(at('yields')!.top).toBeGreaterThan(yields);
		expect(at('bursts')!.top).toBeGreaterThan(bursts);
		expect(at('bursts')!.bottom).toBeLessThan(yields - 4);
	});
	it('a rule at the top has its label below it, and no other rule’s stands on it', () => {
		const { at, across, up } = drawn(withRules(['y', 'hot face melts', 1480], ['x', 'burn ends', 60]));
		expect(at('hot face melts')!.top).toBeGreaterThan(across[0]!);
		const ends = at('burn ends')!;
		expect(ends.top > across[0]! || ends.bottom < across[0]!).toBe(true);
		expect(Math.abs(ends.x - up[0]!)).toBeLessThan(10);
		// The label of the first gives way to the second rule.
		expect(at('hot face melts')!.x).toBeGreaterThan(up[0]!);
	});
	it('none is dropped while a place along the rule is free', () => {
		const { at } = drawn(
			withRules(
				['y', 'one', 70],
				['y', 'two', 70],
				['y', 'three', 70],
				['x', 'four', 990],
				['x', 'five', 990]
			)
		);
		for (const words of ['one', 'two', 'three', 'four', 'five']) expect(at(words), words).toBeDefined();
	});
});

describe('a plan', () => {
	const svg = drawFigure(plan, { palette: PRINTED, width: 700, id: 'p' });

	it('is as long in both directions, north up, with a scale bar', () => {
		const ring = numbersOf(/<path d="(M[^"]*Z)"/.exec(svg)![1]!);
		const [x0, y0, x1, , , y2] = ring as [number, number, number, number, number, number];
		expect(x1 - x0).toBeCloseTo(y0 - y2, 0);
		expect(y0).toBeGreaterThan(y2);
		expect(texts(svg)).toEqual(expect.arrayContaining(['N', '100 m']));
		// The bar is as long as the same distance on the ground.
		const bar = /<path d="M32 [\d.]+h([\d.]+)/.exec(svg)!;
		expect(Number(bar[1])).toBeCloseTo(x1 - x0, 0);
	});

	it('tells regions apart by hatching, under ids of its own, and names each on itself', () => {
		const patterns = [...svg.matchAll(/<pattern id="(p-hatch-\d)"[^>]*><path d="([^"]*)"/g)];
		expect(new Set(patterns.map((m) => m[1])).size).toBe(2);
		expect(new Set(patterns.map((m) => m[2])).size).toBe(2);
		expect(texts(svg)).toEqual(expect.arrayContaining(['as planned, 90 %', 'drogue only, 90 %', 'found']));
	});

	it('letters more than two regions at their edges, and says beneath in words what they are', () => {
		const box = (x: number, y: number): Point[] => square.map(([e, n]) => [e * 2 + x, n * 2 + y]);
		const names = ['As planned, 90 %', 'Drogue only, 90 %', 'Main at apogee, 90 %'];
		const crowded: Figure = {
			...plan,
			layers: names.map((label, i) => ({
				kind: 'region',
				label,
				polygons: [box(120 * i, 80 * i)],
				hatch: i,
				strong: true
			}))
		};
		const drawn = drawFigure(crowded, { palette: PRINTED, width: 700, id: 'k' });
		const at = (words: string) => /<text x="([\d.]+)" y="([\d.]+)"/.exec(drawn.slice(drawn.lastIndexOf('<text', drawn.indexOf(`>${words}<`))))!.slice(1).map(Number) as [number, number]; // prettier-ignore
		const planHeight = Number(/viewBox="0 0 700 ([\d.]+)"/.exec(drawFigure(plan, { width: 700 }))![1]);
		const rings = [...drawn.matchAll(/<path d="(M[^"]*Z)"/g)].map((m) => numbersOf(m[1]!));
		for (const [i, letter] of ['A', 'B', 'C'].entries()) {
			// In the drawing: beside its own region's outline and across no outline.
			const [x, y] = at(letter);
			expect(y).toBeLessThan(planHeight);
			const edges = rings.map((ring) => ({
				left: Math.min(...ring.filter((_, k) => k % 2 === 0)),
				right: Math.max(...ring.filter((_, k) => k % 2 === 0)),
				top: Math.min(...ring.filter((_, k) => k % 2 === 1)),
				bottom: Math.max(...ring.filter((_, k) => k % 2 === 1))
			}));
			const near = (e: (typeof edges)[number]) =>
				x > e.left - 30 && x < e.right + 20 && y > e.top - 12 && y < e.bottom + 30;
			expect(near(edges[i]!)).toBe(true);
			for (const { left, right, top, bottom } of edges) {
				const crosses = (value: number, from: number, to: number) => value > from && value < to;
				const upright = [left, right].some((v) => crosses(v, x, x + 9)) && y - 5 > top && y - 5 < bottom;
				const level = [top, bottom].some((v) => crosses(v, y - 10, y)) && x > left && x < right;
				expect(upright || level, letter).toBe(false);
			}
			// Beneath it: the letter and the words, with the same hatching.
			expect(drawn).toContain(`<tspan font-weight="700">${letter}</tspan>  ${names[i]}</text>`);
			expect(drawn.match(new RegExp(`url\\(#k-hatch-${i}\\)`, 'g'))).toHaveLength(2);
		}
	});

	it('has a scale bar with one unit for all that stands on it', () => {
		const wide: Figure = {
			...plan,
			layers: [{ kind: 'line', label: '', points: [[0, 0], [3000, 100]] }] // prettier-ignore
		};
		const drawn = texts(drawFigure(wide, { palette: PRINTED, width: 700 }));
		expect(drawn).toEqual(expect.arrayContaining(['0', '0.5', '1 km']) as string[]);
		expect(texts(drawFigure(plan, { width: 700 }))).toEqual(
			expect.arrayContaining(['50', '100 m']) as string[]
		);
	});

	it('does not set the name of a region inside another one', () => {
		const region = (label: string, polygon: Point[], hatch: number): Layer => ({
			kind: 'region',
			label,
			polygons: [polygon],
			hatch,
			strong: true
		});
		const box = (x: number, y: number, w: number, h: number): Point[] => [
			[x, y],
			[x + w, y],
			[x + w, y + h],
			[x, y + h]
		];
		// The lowest and the easternmost end of the small one lie in the wide one.
		const drawn = drawFigure(
			{
				...plan,
				layers: [region('wide', box(0, 0, 400, 200), 0), region('small', box(100, 100, 60, 250), 1)]
			},
			{ palette: PRINTED, width: 700, id: 'q' }
		);
		const rings = [...drawn.matchAll(/<path d="(M[^"]*Z)"/g)].map((m) => numbersOf(m[1]!));
		const top = Math.min(...rings[0]!.filter((_, i) => i % 2 === 1));
		const y = Number(/<text x="[\d.]+" y="([\d.]+)"[^>]*>small</.exec(drawn)![1]);
		expect(y).toBeLessThan(top);
	});
});

it('rows show where each stands, the interval, and by a ring where it stood before', () => {
	const svg = drawFigure(rows, { width: 700 });
	expect(texts(svg)).toEqual(expect.arrayContaining(['Gully', 'best next', 'Field', 'all together']));
	expect(svg.match(/<circle[^>]*r="5" fill="#[^"]+"\/>|<circle[^>]*r="5" fill="[^"]+"\/>/g)).toHaveLength(2);
	expect(svg.match(/<circle[^>]*stroke-width="1.6"\/>/g)).toHaveLength(1);
	expect(figureCsv(rows)).toContain('segments,"Gully, before",40,');
	expect(figureCsv(rows)).toContain('segments,"Field, high",36,');
});
it('a chain names its links in order and marks the weakest one', () => {
	const words = texts(drawFigure(chain, { width: 700 }));
	expect(words.filter((w) => ['Swivel', 'Bond', 'Tube'].includes(w))).toEqual(['Swivel', 'Bond', 'Tube']);
	expect(words.filter((w) => w === 'weakest link')).toHaveLength(1);
	expect(words).toEqual(expect.arrayContaining(['gives way', 'Margin of safety']));
});

it('a link has a note beneath its name, and on a narrow page both stay within it', () => {
	const narrow = drawFigure(
		{
			...chain,
			layers: [
				{
					kind: 'chain',
					label: 'load path',
					links: [{ label: 'Bulkhead of the recovery bay, glued', note: 'fails in 32 of 100', value: 1 }]
				}
			]
		},
		{ width: 340 }
	);
	expect(texts(narrow)).toContain('fails in 32 of 100');
	const name = texts(narrow).find((w) => w.startsWith('Bulkhead'))!;
	expect(name).toMatch(/…$/);
	expect(name.length).toBeLessThan(24);
});

describe('the numbers behind it', () => {
	it('one row per point, with units in the head', () => {
		const rows = figureCsv(plot).trimEnd().split('\n');
		expect(rows[0]).toBe('layer,part,Height (m),Distance (m)');
		expect(rows).toContain('90 of 100 falls,high,500,60');
		expect(rows).toContain('median <fall>,,1000,60');
		expect(rows).toContain('measured,low,,20');
		expect(rows).toHaveLength(1 + 6 + 2 + 3);
	});
	it('quotes what would break a row', () => {
		expect(figureCsv(plan)).toContain('"as planned, 90 %",ring 1,100,0');
		expect(figureCsv({ ...plan, layers: [{ kind: 'point', label: 'a "b"', x: 1, y: 2 }] })).toContain(
			'"a ""b""",,1,2'
		);
	});
	it('gives a chain link by link', () => {
		expect(figureCsv(chain)).toContain('load path,"Bond, low",-0.4,');
	});
});
