import { beforeEach, describe, expect, it } from 'vitest';
import { GATE_TYPES } from '$lib/investigation/schema/anomaly';
import { eventsOf } from '$lib/investigation/views/tree';
import { wrap } from '$lib/report/text-width';
import { othersOf } from '$lib/investigation/views/common-cause';
import { drawTree } from '$lib/report/tree-drawing';
import { layoutTree, type Place } from '$lib/report/tree-layout';
import { gateShape, leafShape } from '$lib/report/tree-symbols';
import { Case } from '../investigation/anomaly-case';

let c: Case;
let top: string;
beforeEach(() => {
	c = new Case();
	top = c.state();
});
const events = () => Object.fromEntries(eventsOf(c.file, 'a1'));

/** Sixty events, five branches, up to four deep, two of them shared. */
function sixty() {
	const ids = ['b0', 'b1', 'b2', 'b3', 'b4'];
	for (const id of ids) c.add(id, top, `branch ${id} gives way`);
	for (let i = 0; i < 54; i++) {
		c.add(
			`e${i}`,
			ids[(i * 7 + 3) % Math.max(5, Math.floor(ids.length / 3))]!,
			`part number ${i} of the joint parts`
		);
		ids.push(`e${i}`);
	}
	expect(c.attempt('event.share', { event: 'e40', under: 'b0' })).toBe(true);
	expect(c.attempt('event.share', { event: 'e41', under: 'b1' })).toBe(true);
}

const overlap = (a: Place, b: Place) =>
	a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

describe('what lights up', () => {
	it('has a double frame and says so; the rest has neither', () => {
		c.add('b0', top);
		c.add('b1', top);
		const svg = drawTree(c.file, 'a1', {}, { lit: new Set(['b1']) });
		expect(svg.match(/lit up<\/title><rect x="-3.5"/g)).toHaveLength(1);
		expect(drawTree(c.file, 'a1', {})).not.toContain('lit up');
	});
});

describe('placing a fault tree', () => {
	it.each([1, 2, 3, 9])(
		'sixty events, listed from depth %i on: no box lies on another or outside',
		(hangFrom) => {
			sixty();
			const { places, width, height } = layoutTree(events(), top, { hangFrom });
			expect(places).toHaveLength(63);
			for (const [i, a] of places.entries()) {
				expect(a.x >= 0 && a.y >= 0 && a.x + a.width <= width && a.y + a.height <= height).toBe(true);
				for (const b of places.slice(i + 1)) expect(overlap(a, b), `${a.key} on ${b.key}`).toBe(false);
			}
		}
	);
	it('where sixty events would be too wide side by side their causes are listed downward', () => {
		sixty();
		const listed = layoutTree(events(), top, { maxWidth: 1300 });
		expect(listed.hangFrom).toBe(1);
		expect(listed.width).toBeLessThan(layoutTree(events(), top).width / 3);
	});
	it('a small tree is spread out', () => {
		for (const id of ['a', 'b']) c.add(id, top);
		const { places, hangFrom } = layoutTree(events(), top, { maxWidth: 1000 });
		expect(hangFrom).toBe(1);
		const causes = places.filter(({ parent }) => parent === top);
		expect(new Set(causes.map(({ y }) => y)).size).toBe(1);
		const middle = causes.reduce((sum, { x, width }) => sum + x + width / 2, 0) / causes.length;
		expect(places[0]!.x + places[0]!.width / 2).toBeCloseTo(middle, 6);
	});
	it('adding an event leaves every other box in its row and its order', () => {
		sixty();
		const before = layoutTree(events(), top, { hangFrom: 1 });
		c.add('late', 'b2', 'one more part gives way');
		const after = layoutTree(events(), top, { hangFrom: 1 });
		const column = (places: Place[], branch: string) =>
			places.filter(({ event }) => event === branch).map(({ x }) => x)[0]!;
		for (const branch of ['b0', 'b1', 'b2'])
			expect(column(after.places, branch)).toBe(column(before.places, branch));
		const moved = after.places.filter((place) => {
			const was = before.places.find(({ key }) => key === place.key);
			return was && (was.x !== place.x || was.y !== place.y);
		});
		expect(moved).toEqual([]);
	});
	it('a shared event has one home and is a lettered transfer elsewhere', () => {
		sixty();
		const { places } = layoutTree(events(), top, { hangFrom: 1 });
		const shared = places.filter(({ event }) => event === 'e40');
		expect(shared.map(({ home }) => home)).toEqual([true, false]);
		expect(new Set(shared.map(({ transfer }) => transfer)).size).toBe(1);
		expect(places.filter(({ transfer }) => transfer !== null).map(({ event }) => event)).toEqual(
			expect.arrayContaining(['e40', 'e41'])
		);
	});
	it('what is folded is hidden and counted', () => {
		for (const id of ['a', 'b']) c.add(id, top);
		for (const id of ['a1x', 'a2x']) c.add(id, 'a');
		const { places } = layoutTree(events(), top, { folded: new Set(['a']) });
		expect(places.find(({ event }) => event === 'a')).toMatchObject({ folded: 2 });
		expect(places.some(({ event }) => event === 'a1x')).toBe(false);
	});
});

describe('drawing a fault tree', () => {
	it('text is escaped and the numbers stand in it', () => {
		c.add('x', top, '<script>"glue" & more</script>');
		const svg = drawTree(c.file, 'a1', { x: { prior: 0.05, givenTop: 0.4, givenAll: 0.63 } });
		expect(svg).not.toContain('<script');
		expect(svg).toContain('&lt;script&gt;&quot;glue&quot;');
		expect(svg).toContain('>63\u202f%<');
		expect(svg).not.toContain('var(--');
		expect(svg).not.toContain('NaN');
	});
	it('every gate and kind has a symbol of its own', () => {
		const shapes = GATE_TYPES.map((type) => JSON.stringify(gateShape({ type, k: 2 }, 3)));
		expect(new Set(shapes).size).toBe(GATE_TYPES.length);
		expect(gateShape({ type: 'atLeast', k: 2 }, 3).text).toBe('2/3');
		expect(new Set((['basic', 'undeveloped', 'house', 'conditioning'] as const).map(leafShape)).size).toBe(4);
	});
	it('an unweighed tree is drawn without numbers, a ruled-out branch with its mark', () => {
		c.add('x', top, 'glue let go');
		c.do('disposition.set', { event: 'x', state: 'unlikely', reason: 'sound' });
		const svg = drawTree(c.file, 'a1', {});
		expect(svg).toContain('>–<');
		expect(svg).toContain('glue let go, unlikely');
	});
	it('what was decided stands in a word beside its sign, an open branch’s as well', () => {
		c.add('x', top, 'glue let go');
		c.add('y', top, 'pin sheared');
		c.do('disposition.set', { event: 'x', state: 'unlikely', reason: 'sound' });
		const svg = drawTree(c.file, 'a1', {});
		expect([...svg.matchAll(/class="word"[^>]*>([^<]*)</g)].map(([, word]) => word)).toEqual([
			'unlikely',
			'open',
			'open'
		]);
	});
	it('an event with a shared cause says with how many others it fails, in a row of its own', () => {
		for (const id of ['x', 'y', 'z']) c.add(id, top, 'ram');
		c.add('lone', top, 'ram');
		const basis = { basis: 'guess', basisNote: '' };
		const group = { title: 'one battery', events: ['x', 'y', 'z'], model: 'beta', factors: [0.1] };
		c.do('commonCause.add', { record: { anomaly: 'a1', ...group, ...basis } });
		const others = othersOf(c.file, 'a1');
		const svg = drawTree(c.file, 'a1', {});
		expect(svg.match(/>fails with 2 others</g)).toHaveLength(3);
		const { places } = layoutTree(events(), top, { others });
		const height = (id: string) => places.find(({ event }) => event === id)!.height;
		expect(height('x')).toBeGreaterThan(height('lone'));
	});
});

describe('breaking a title into lines', () => {
	it('keeps every word where there is room, and says where there is none', () => {
		expect(wrap('Opening load above the joint', 150, 13, 20, 3).join(' ')).toBe(
			'Opening load above the joint'
		);
		const long = wrap('word '.repeat(60).trim(), 150, 13, 20, 3);
		expect(long).toHaveLength(3);
		expect(long.at(-1)).toMatch(/…$/);
	});
	it('cuts a word longer than a line', () => {
		expect(wrap('Auslösehöhenbestimmungsverfahren', 100, 13, 0, 5).length).toBeGreaterThan(1);
	});
});
