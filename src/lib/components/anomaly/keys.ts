/** What a key does while the drawing or the list has the focus. */
export type Verb =
	| 'up'
	| 'down'
	| 'left'
	| 'right'
	| 'fold'
	| 'argue'
	| 'fit'
	| 'find'
	| 'nearer'
	| 'further'
	| 'below'
	| 'beside'
	| 'rename'
	| 'gate'
	| 'share'
	| 'move'
	| 'copy'
	| 'remove';

const VERBS: Record<string, Verb> = {
	ArrowUp: 'up',
	ArrowDown: 'down',
	ArrowLeft: 'left',
	ArrowRight: 'right',
	f: 'fold',
	o: 'argue',
	'0': 'fit',
	'/': 'find',
	'+': 'nearer',
	'=': 'nearer',
	'-': 'further',
	b: 'below',
	n: 'beside',
	r: 'rename',
	F2: 'rename',
	g: 'gate',
	s: 'share',
	m: 'move',
	c: 'copy',
	Delete: 'remove'
};

export const KEYS: readonly { keys: string; does: string }[] = [
	{ keys: '↑ ↓ ← →', does: 'walk the tree' },
	{ keys: 'B', does: 'add below' },
	{ keys: 'N', does: 'add beside' },
	{ keys: 'G', does: 'change the gate' },
	{ keys: 'R or F2', does: 'rename' },
	{ keys: 'M', does: 'move' },
	{ keys: 'S', does: 'share with another branch' },
	{ keys: 'C', does: 'copy the branch' },
	{ keys: 'Delete', does: 'remove' },
	{ keys: 'F', does: 'fold or unfold' },
	{ keys: 'O', does: 'open the argument about it' },
	{ keys: '+ − 0', does: 'nearer, further, fit' },
	{ keys: '/', does: 'find; Esc goes back to the tree' },
	{ keys: 'Ctrl Z, Ctrl Y', does: 'undo, redo' }
];

/** The verb of a key press, or null where the key belongs to a field or the browser. */
export function keyed(event: KeyboardEvent): Verb | null {
	if (event.ctrlKey || event.metaKey || event.altKey) return null;
	if (event.target instanceof HTMLElement && event.target.closest('input, textarea, select')) return null;
	return VERBS[event.key.length === 1 ? event.key.toLowerCase() : event.key] ?? null;
}
