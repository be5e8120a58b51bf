import { onMount } from 'svelte';
import { beforeNavigate } from '$app/navigation';

const ASK = 'What you typed here is not saved yet. Leave it?';

/**
 * Asks before another page is opened while something that was typed is not saved. Called as a component is made.
 * @param unsaved  whether anything would be lost on going there; null: the tab is closed or another site opened
 */
export function askBeforeLeaving(unsaved: (to: URL | null) => boolean): void {
	beforeNavigate((leaving) => {
		if (!unsaved(leaving.to?.url ?? null)) return;
		// On closing the tab the browser asks in its own words.
		if (leaving.willUnload || !confirm(ASK)) leaving.cancel();
	});
}

/** Forms on the page, and whether something was typed in them that is not saved. */
const forms = new Map<Element, () => boolean>();

/** For a form, as its component is made: what shows something else in its place asks first (`mayReplace`). */
export function askBeforeReplacing(form: () => Element, unsaved: () => boolean): void {
	onMount(() => {
		const own = form();
		forms.set(own, unsaved);
		return () => void forms.delete(own);
	});
}

/** Whether a part of the page may be replaced; asks where something typed in it would be lost. */
export function mayReplace(part: string): boolean {
	const place = document.getElementById(part);
	const loses = [...forms].some(([form, unsaved]) => place?.contains(form) && unsaved());
	return !loses || confirm(ASK);
}
