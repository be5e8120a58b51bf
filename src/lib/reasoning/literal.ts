import type { Literal } from './model';

/** `"A"`, `"!A"` or `{"not":"A"}` taken apart. */
export function readLiteral(literal: Literal): { id: string; negated: boolean } {
	if (typeof literal !== 'string') return { id: literal.not, negated: true };
	return literal.startsWith('!') ? { id: literal.slice(1), negated: true } : { id: literal, negated: false };
}

/** The opposite of an input. */
export function negationOf(literal: Literal): Literal {
	const { id, negated } = readLiteral(literal);
	return negated ? id : { not: id };
}

/** A resolved literal as it is written. */
export const nameOf = ({ ids }: { ids: readonly string[] }, literal: number) =>
	`${literal & 1 ? '!' : ''}${ids[literal >> 1]}`;
