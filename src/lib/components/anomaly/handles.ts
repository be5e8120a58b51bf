import type { Verb } from './keys';

/** What the drawing lets the sheet ask of it. */
export interface StageHandle {
	fit: () => Promise<void>;
	/** As large as is readable, the top event in sight. */
	open: () => void;
	zoom: (by: number) => void;
	/** True where causes are listed beneath their branch. */
	listed: () => boolean;
	turn: () => void;
	/** @param above  height on the screen beneath which something else lies over the drawing */
	show: (event: string, above?: number) => void;
}

/** What the verbs let a key ask of them; where it can't be done here they say why. */
export interface VerbsHandle {
	/** False where the key is none of theirs. */
	begin: (verb: Verb) => boolean;
}

export const NONE: ReadonlySet<string> = new Set();

/** The set with this one in if it was out, and out if it was in. */
export function toggled(set: ReadonlySet<string>, item: string): ReadonlySet<string> {
	const next = new Set(set);
	if (!next.delete(item)) next.add(item);
	return next;
}
