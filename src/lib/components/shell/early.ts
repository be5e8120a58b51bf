/** What app.html notes from the first byte on, until the page's script has taken over. */
interface Early {
	note: (event: Event) => void;
	choices: [HTMLSelectElement, string][];
}

/** What was chosen in a list before the page's script had taken over is chosen again, so that it counts. */
export function repeatEarlyChoices(): void {
	const { early } = window as Window & { early?: Early };
	if (!early) return;
	removeEventListener('change', early.note, true);
	for (const [select, value] of early.choices.splice(0)) {
		if (!select.isConnected) continue;
		select.value = value;
		select.dispatchEvent(new Event('change', { bubbles: true }));
	}
}
