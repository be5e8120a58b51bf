import type { TreeEvent } from '$lib/investigation/schema/anomaly';
import { below, inputsOf } from '$lib/investigation/views/tree';
import { layoutTree, type TreeLayout } from './tree-layout';

type Events = Readonly<Record<string, TreeEvent>>;

/** A subtree that is drawn by itself; in the trade's way it is joined to the rest by transfer symbols. */
export interface Piece {
	root: string;
	/** Events as they are drawn here: a gate with more inputs than fit has a part of them. */
	events: Events;
	/** Events that stand here as a transfer to where they are drawn. */
	away: ReadonlySet<string>;
	layout: TreeLayout;
	/** Inputs of the root that are drawn here, of how many; null: all of them. */
	part: { from: number; to: number; of: number } | null;
}

/**
 * A tree cut into pieces that are no larger than a sheet: branches under the root are drawn from the smallest up while
 * they fit, and what does not fit is cut out to a piece of its own. The same tree gives the same pieces.
 * @param room    largest width and height of a piece
 * @param others  by event: how many others share a cause with it
 */
export function cutTree(
	events: Events,
	top: string,
	room: { width: number; height: number },
	others: ReadonlyMap<string, number> = new Map()
): Piece[] {
	const pieces: Piece[] = [];
	/** Where each event is drawn with what stands beneath it: on a piece before, or cut out to one that follows. */
	const settled = new Set<string>([top]);
	const roots = [top];
	for (const root of roots) {
		const inputs = inputsOf(events[root]);
		for (let from = 0; from === 0 || from < inputs.length;) {
			const away = new Set([...settled].filter((id) => id !== root));
			const piece = widest(events, root, from, away, room, others);
			pieces.push(piece);
			for (const { event } of piece.layout.places) {
				if (!settled.has(event) && piece.away.has(event)) roots.push(event);
				settled.add(event);
			}
			from = piece.part?.to ?? Infinity;
		}
	}
	return pieces;
}

/** The piece from one input of the root on, with as many inputs as fit, and as much beneath them as fits then. */
function widest(
	events: Events,
	root: string,
	from: number,
	settled: ReadonlySet<string>,
	room: { width: number; height: number },
	others: ReadonlyMap<string, number>
): Piece {
	const inputs = inputsOf(events[root]);
	const gates = (ids: readonly string[]) =>
		ids.filter((id) => (events[id]?.gate ?? null) !== null && id !== root && !settled.has(id));
	const fits = ({ width, height }: TreeLayout) => width <= room.width && height <= room.height;
	/** Side by side where there is room, else listed beneath the root; null where neither fits. */
	const drawn = (to: number, closed: ReadonlySet<string>): Piece | null => {
		const part = from === 0 && to === inputs.length ? null : { from, to, of: inputs.length };
		const own = part ? { ...events, [root]: withInputs(events[root]!, inputs.slice(from, to)) } : events;
		const away = new Set([...settled, ...closed]);
		const spread = layoutTree(own, root, { away, others, maxWidth: room.width });
		const layout = fits(spread) ? spread : layoutTree(own, root, { away, others, hangFrom: 0 });
		return fits(layout) || to <= from + 1 ? { root, events: own, away, layout, part } : null;
	};
	let to = inputs.length;
	let piece = drawn(to, new Set(gates(inputs)));
	for (; !piece && to > from; to--) piece = drawn(to - 1, new Set(gates(inputs.slice(from, to - 1))));
	if (!piece) throw new Error('a single input always makes a piece');
	to = piece.part?.to ?? inputs.length;

	// A branch is opened whole or cut out whole, the smallest first: many small ones leave few references.
	const closed = new Set(gates(inputs.slice(from, to)));
	const size = new Map([...closed].map((id) => [id, below(events, id).length]));
	for (const next of [...closed].sort((a, b) => size.get(a)! - size.get(b)!)) {
		const larger = drawn(to, new Set([...closed].filter((id) => id !== next)));
		if (!larger || !fits(larger.layout)) break;
		piece = larger;
		closed.delete(next);
	}
	return piece;
}

function withInputs(event: TreeEvent, inputs: readonly string[]): TreeEvent {
	return event.gate === null
		? event
		: { ...event, gate: { ...event.gate, inputs: [...inputs], condition: null } };
}
