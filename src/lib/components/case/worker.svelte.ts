/** Who works at this browser. Asked once, kept in a cookie, shown as typed beside every change. */
class Worker {
	name = $state('');
	/** Set while the question stands on the screen. */
	asking = $state.raw<((answered: boolean) => void) | null>(null);

	/** True once a name is known; opens the question where it is not. */
	ask(): Promise<boolean> {
		if (this.name !== '') return Promise.resolve(true);
		return new Promise((resolve) => {
			this.asking = (answered) => {
				this.asking = null;
				resolve(answered);
			};
		});
	}

	/** Asks again, for another person at the same browser. */
	change() {
		this.asking ??= () => (this.asking = null);
	}

	answer(name: string) {
		this.name = name.trim();
		document.cookie = `who=${encodeURIComponent(this.name)}; path=/; max-age=31536000; samesite=strict`;
		this.asking?.(this.name !== '');
	}
}

export const worker = new Worker();
