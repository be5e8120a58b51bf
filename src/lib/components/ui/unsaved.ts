import { beforeNavigate } from '$app/navigation';

/**
 * Asks before another page is opened while something that was typed is not saved. Called as a component is made.
 * @param unsaved  whether anything would be lost on going there; null: the tab is closed or another site opened
 */
export function askBeforeLeaving(unsaved: (to: URL | null) => boolean): void {
	beforeNavigate((leaving) => {
		if (!unsaved(leaving.to?.url ?? null)) return;
		// On closing the tab the browser asks in its own words.
		if (leaving.willUnload || !confirm('What you typed here is not saved yet. Leave it?')) leaving.cancel();
	});
}
