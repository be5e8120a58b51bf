import { describe, expect, it } from 'vitest';
import { leaf } from '$lib/investigation/operations/tree-parts';
import type { TreeEvent } from '$lib/investigation/schema/anomaly';
import {
	beyond,
	fitting,
	foldsToFit,
	opening,
	READABLE_ZOOM,
	staying,
	tooSmall
} from '$lib/components/anomaly/stage-view';
import { layoutTree } from '$lib/report/tree-layout';

/** A tree from the inputs of its OR gates. */
function treeOf(gates: Readonly<Record<string, readonly string[]>>): Record<string, TreeEvent> {
	const ids = new Set([...Object.keys(gates), ...Object.values(gates).flat()]);
	return Object.fromEntries(
		[...ids].map((id) => {
			const inputs = gates[id];
			const event = leaf('a1', `${id} gives way`, inputs ? 'intermediate' : 'basic');
			const gate = inputs && { type: 'or' as const, k: null, inputs: [...inputs], condition: null };
			return [id, { ...event, gate: gate ? { ...gate, complete: false } : null }];
		})
	);
}
const children = (id: string, n: number) => Array.from({ length: n }, (_, i) => `${id}${i}`);
/** Top, `wide` branches, and under each `deep` gates of three. */
function large(wide: number, deep: number) {
	const gates: Record<string, string[]> = { t: children('t', wide) };
	for (const branch of gates['t']!) {
		gates[branch] = children(branch, deep);
		for (const gate of gates[branch]) gates[gate] = children(gate, 3);
	}
	return treeOf(gates);
}
const frame = { width: 825, height: 570 };

describe('how a fault tree lies in its frame', () => {
	it('opens no smaller than can be read, the chosen event in sight, however large it is', () => {
		const layout = layoutTree(large(6, 3), 't', { hangFrom: 1 });
		for (const at of ['t', 't0', 't3', 't5', 't522']) {
			const { x, y, zoom } = opening(layout, frame, at);
			expect(zoom).toBeGreaterThanOrEqual(READABLE_ZOOM);
			// Titles have 13 units.
			expect(13 * zoom).toBeGreaterThanOrEqual(11);
			const place = layout.places.find(({ event }) => event === at)!;
			expect(place.x * zoom + x).toBeGreaterThanOrEqual(0);
			expect((place.x + place.width) * zoom + x).toBeLessThanOrEqual(frame.width);
			expect(place.y * zoom + y).toBeGreaterThanOrEqual(0);
			expect((place.y + place.height) * zoom + y).toBeLessThanOrEqual(frame.height);
			// No empty room beside it while more of it lies outside.
			expect(x).toBeLessThanOrEqual(0);
			expect(layout.width * zoom + x).toBeGreaterThanOrEqual(frame.width - 1e-6);
		}
	});
	it('a small one stands whole in the middle, as large as it is made', () => {
		const layout = layoutTree(treeOf({ t: ['a', 'b'] }), 't');
		const { x, y, zoom } = opening(layout, frame, 't');
		expect([zoom, y]).toEqual([1, 0]);
		expect(x).toBeCloseTo((frame.width - layout.width) / 2, 6);
	});
	it('says what lies beyond each edge, and nothing where all of it is to be seen', () => {
		const layout = layoutTree(large(6, 3), 't', { hangFrom: 1 });
		const { left, right, up, down } = beyond(layout.places, opening(layout, frame, 't'), frame);
		expect(left > 0 && right > 0 && down > 0).toBe(true);
		expect(up).toBe(0);
		const none = { left: 0, right: 0, up: 0, down: 0 };
		expect(beyond(layout.places, fitting(layout, frame), frame)).toEqual(none);
		// Left and right of a drawing of three boxes pushed aside by one box and its gap.
		const three = layoutTree(treeOf({ t: ['a', 'b', 'c'] }), 't');
		expect(beyond(three.places, { x: -196, y: 0, zoom: 1 }, frame)).toEqual({ ...none, left: 1 });
		// One cut in half counts, and one whose lower edge is.
		expect(beyond(three.places, { x: -100, y: 0, zoom: 1 }, frame)).toEqual({ ...none, left: 1 });
		const low = { ...frame, height: three.places[1]!.y + 20 };
		expect(beyond(three.places, { x: 0, y: 0, zoom: 1 }, low)).toEqual({ ...none, down: 3 });
	});
	it('fitted whole, type below 6 px is said, and folding the deeper branches is enough to read it', () => {
		const events = large(8, 6);
		const whole = fitting(layoutTree(events, 't', { hangFrom: 1 }), frame);
		expect(tooSmall(whole.zoom)).toBeLessThan(6);
		expect(tooSmall(0.5)).toBeNull();
		const folded = foldsToFit(events, 't', frame);
		expect(folded.has('t')).toBe(false);
		const best = Math.max(
			...[0, 1, 2].map((hangFrom) => fitting(layoutTree(events, 't', { folded, hangFrom }), frame).zoom)
		);
		expect(tooSmall(best)).toBeNull();
		expect(folded.size).toBeGreaterThan(0);
	});
});

describe('what was drawn stays where it was when an event is added', () => {
	const moved = (before: Record<string, TreeEvent>, after: Record<string, TreeEvent>, chosen: string) => {
		const [was, is] = [layoutTree(before, 't').places, layoutTree(after, 't').places];
		const { dx, dy } = staying(was, is, chosen);
		return is
			.filter(({ key, x, y }) => {
				const old = was.find((place) => place.key === key);
				return old && (Math.abs(x + dx - old.x) > 0.5 || Math.abs(y + dy - old.y) > 0.5);
			})
			.map(({ event }) => event);
	};
	it('its siblings and all beneath them; only their parent goes to the new middle', () => {
		const gates = { a: ['a1', 'a2'], b: ['b1', 'b2'] };
		const before = treeOf({ t: ['a', 'b', 'c'], ...gates });
		const after = treeOf({ t: ['a', 'b', 'c', 'd'], ...gates });
		expect(moved(before, after, 't')).toEqual(['t']);
		expect(moved(before, after, 'c')).toEqual(['t']);
	});
	it('an event that nothing stands beside keeps its place when it gets its first cause', () => {
		expect(moved(treeOf({ t: ['a'] }), treeOf({ t: ['a'], a: ['b'] }), 'a')).toEqual([]);
	});
	it('before anything is drawn nothing is moved', () => {
		expect(staying([], layoutTree(treeOf({ t: ['a'] }), 't').places, 't')).toEqual({ dx: 0, dy: 0 });
	});
});
