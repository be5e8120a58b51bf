import type { EventKind, Gate } from '$lib/investigation/schema/anomaly';

interface Shape {
	outline: string;
	inner?: string;
	text?: string;
}

const OR = 'M0 0C9 5 13 14 13 27 8 22-8 22-13 27-13 14-9 5 0 0Z';
const AND = 'M-13 27V12A13 12 0 0 1 13 12V27Z';

/**
 * Gate symbols about x = 0, output at y = 0, inputs at y = 27.
 * IEC 61025:2006 Annex A and NUREG-0492 chapter IV, from memory.
 */
export function gateShape({ type, k }: Pick<Gate, 'type' | 'k'>, inputs: number): Shape {
	switch (type) {
		case 'or':
			return { outline: OR };
		case 'and':
			return { outline: AND };
		case 'atLeast':
			return { outline: OR, text: `${k ?? 2}/${inputs}` };
		case 'xor':
			return { outline: OR, inner: 'M0 0 12.4 20M0 0-12.4 20M-11 23.5Q0 20.5 11 23.5' };
		case 'priorityAnd':
			return { outline: AND, inner: 'M0 0 13 27M0 0-13 27' };
		case 'inhibit':
			return { outline: 'M0 0 12 7V20L0 27-12 20V7Z' };
		case 'not':
			return { outline: 'M0 6 13 27H-13ZM0 0A3 3 0 1 1-.01 0Z' };
	}
}

/** Symbols beneath a leaf, about the origin, 18 across: circle, diamond, house, ellipse. */
export function leafShape(kind: EventKind): string {
	switch (kind) {
		case 'undeveloped':
			return 'M0-9 11 0 0 9-11 0Z';
		case 'house':
			return 'M-8 9V-2L0-9 8-2V9Z';
		case 'conditioning':
			return 'M-12 0A12 7 0 1 1 12 0 12 7 0 1 1-12 0Z';
		case 'basic':
		case 'intermediate':
			return 'M-9 0A9 9 0 1 1 9 0 9 9 0 1 1-9 0Z';
	}
}
