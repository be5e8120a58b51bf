import type { Investigation } from '$lib/investigation/case';

/** The found pieces that a photo can show, by number, with none of them first; withdrawn ones only where named. */
export const pieceOptions = (file: Investigation, named = ''): { value: string; label: string }[] => [
	{ value: '', label: 'none, or not kept yet' },
	...Object.entries(file.evidence)
		.filter(([id, e]) => e.kind === 'piece' && (!e.withdrawn || id === named))
		.sort(([, a], [, b]) => a.number - b.number)
		.map(([value, e]) => ({
			value,
			label: `E${e.number} ${e.title}${e.withdrawn ? ' (withdrawn)' : ''}`
		}))
];
