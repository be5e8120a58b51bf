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
