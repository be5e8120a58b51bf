/**
 * The text of a field that is kept as it is left. While what was typed is not kept it stays: what comes back for
 * another field, or what somebody else put in its place meanwhile, does not overwrite it.
 */
export class OwnText {
	readonly #stored: () => string;
	/** What was typed and is not kept; null where the field shows what is. */
	#own = $state<string | null>(null);
	/** What the field showed before. */
	#before = $state('');

	constructor(stored: () => string) {
		this.#stored = stored;
	}

	get shown(): string {
		return this.#own ?? this.#stored();
	}
	set shown(typed: string) {
		if (this.#own === null) this.#before = this.#stored();
		this.#own = typed;
	}

	/** What was typed, where another stands in its place since. */
	get overtaken(): string | null {
		return this.#own !== null && this.#stored() !== this.#before && this.#stored() !== this.#own
			? this.#own
			: null;
	}

	/** @param kept  whether it was kept, told at once or later; nothing: it is not for this field to know */
	async keep(typed: string, kept: unknown) {
		this.#own = typed;
		this.#before = this.#stored();
		if ((await kept) !== false) this.#own = null;
	}
}
