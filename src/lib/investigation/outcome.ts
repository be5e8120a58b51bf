/** Something that a person gave can't be taken: where it stands and what to do about it. */
export interface Problem {
	/** Path of the field as the form names it, such as 'position.distance'; '' for the whole. */
	field: string;
	message: string;
}

/** An expected refusal is a value; only a programmer's mistake throws. */
export type Outcome<T> = { ok: true; value: T } | { ok: false; problems: Problem[] };

export const done = <T>(value: T): Outcome<T> => ({ ok: true, value });
export const refused = (message: string, field = ''): { ok: false; problems: Problem[] } => ({
	ok: false,
	problems: [{ field, message }]
});
