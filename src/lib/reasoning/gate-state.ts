import type { ResolvedGate } from './resolve';

/** A gate's state from the number n of its inputs that hold. */
export function holdsWith(
	type: ResolvedGate['type'],
	n: number,
	count: number,
	min: number,
	max: number,
	first: () => boolean
): boolean {
	switch (type) {
		case 'or':
			return n > 0;
		case 'and':
		case 'inhibit':
		case 'priorityAnd':
			return n === count;
		case 'nor':
		case 'not':
			return n === 0;
		case 'nand':
			return n < count;
		case 'atLeast':
		case 'cardinality':
			return n >= min && n <= max;
		case 'exactlyOne':
			return n === 1;
		case 'xor':
		case 'odd':
			return n % 2 === 1;
		case 'iff':
			return n !== 1;
		case 'imply':
			return n !== 1 || !first();
		case 'table':
			return false;
	}
}
