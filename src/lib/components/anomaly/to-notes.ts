import { tick } from 'svelte';
import type { AnomalyDesk } from './desk.svelte';

/**
 * Where the margin stands below the sheet and not beside it, what is chosen on the sheet leads there; the margin then
 * leads back.
 * @param part  selector of the part of the margin to begin at
 */
export async function toNotes(desk: AnomalyDesk, from: HTMLElement, part: string): Promise<void> {
	if (matchMedia('(min-width: 1181px)').matches) return;
	desk.cameFrom = from;
	await tick();
	const notes = document.querySelector<HTMLElement>(part);
	if (!notes) return;
	notes.tabIndex = -1;
	// Below the way back, which stays in sight.
	notes.style.scrollMarginTop = '72px';
	notes.focus({ preventScroll: true });
	notes.scrollIntoView({ block: 'start' });
}
