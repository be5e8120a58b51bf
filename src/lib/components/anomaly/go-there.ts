import { tick } from 'svelte';
import type { Where } from '$lib/investigation/views/closure';

/** Address that leads to what stands in the way, to its very field. */
export function addressOf(
	where: Where,
	desk: { address: string; investigation: string; id: string }
): string {
	if (where.view === 'changes') return `/investigations/${desk.investigation}/changes?raise=${desk.id}`;
	const { view, ...asked } = where;
	return `${desk.address}/${view}?${new URLSearchParams(asked).toString()}`;
}

const CONTROL = 'select, textarea, input:not([type="hidden"]), button:not(:disabled), a[href]';

/**
 * Brings the field into sight and gives it the keyboard: a verb is begun, a form that is closed is opened first.
 * @returns false where the page has no such field
 */
export async function goToField(page: ParentNode, name: string): Promise<boolean> {
	await tick();
	const find = () => page.querySelector<HTMLElement>(`[data-field="${CSS.escape(name)}"]`);
	if (!find() || name === 'state') {
		page.querySelector<HTMLButtonElement>('[data-field="state"] [data-opens]')?.click();
		await tick();
	}
	const field = find();
	if (!field) return false;
	if (field instanceof HTMLButtonElement) {
		if (field.getAttribute('aria-pressed') !== 'true') field.click();
		return true;
	}
	(field.querySelector<HTMLElement>(CONTROL) ?? field).focus({ preventScroll: true });
	field.scrollIntoView({ block: 'center' });
	return true;
}
