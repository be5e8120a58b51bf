import type { NodeSingular } from 'cytoscape';
import type { Place } from '$lib/report/tree-layout';

/** Dragging an event of the drawing onto another one: its picture goes with the pointer, what it is over is marked. */
export function dragging(
	picture: () => SVGGElement | undefined,
	places: () => readonly Place[],
	ondrop: (event: string, from: string, under: string) => void
) {
	const groupOf = (node: NodeSingular) =>
		picture()?.querySelector<SVGGElement>(`[data-place="${CSS.escape(node.id())}"]`);

	/** The place whose box a carried event is over. */
	function underneath(node: NodeSingular) {
		const { x, y } = node.position();
		return places().find(
			(p) => p.key !== node.id() && x >= p.x && x <= p.x + p.width && y >= p.y && y <= p.y + p.height
		);
	}

	function carry(node: NodeSingular) {
		const { x, y } = node.position();
		const group = groupOf(node);
		group?.setAttribute(
			'transform',
			`translate(${x - Number(node.data('width')) / 2} ${y - Number(node.data('height')) / 2})`
		);
		group?.setAttribute('opacity', '0.75');
		const under = underneath(node);
		for (const other of picture()?.querySelectorAll<SVGGElement>('[data-place]') ?? [])
			other.classList.toggle('over', other.dataset['place'] === under?.key);
	}

	/** Let go: on another event it is put there, anywhere else it goes back to its place. */
	function release(node: NodeSingular) {
		const under = underneath(node);
		picture()?.querySelector('.over')?.classList.remove('over');
		const place = places().find((p) => p.key === node.id());
		const group = groupOf(node);
		if (place) {
			node.position({ x: place.x + place.width / 2, y: place.y + place.height / 2 });
			group?.setAttribute('transform', `translate(${place.x} ${place.y})`);
		}
		group?.removeAttribute('opacity');
		const from = node.data('parentEvent') as string | null;
		const event = node.data('event') as string;
		if (under && from !== null && under.event !== event && under.event !== from)
			ondrop(event, from, under.event);
	}
	return { carry, release };
}
