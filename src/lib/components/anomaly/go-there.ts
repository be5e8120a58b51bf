import { tick } from 'svelte';
import type { Where } from '$lib/investigation/views/in-the-way';

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
	const closed = find() ? name : 'state';
	page.querySelector<HTMLButtonElement>(`[data-field="${CSS.escape(closed)}"] [data-opens]`)?.click();
	await tick();
	const field = find();
	if (!field) return false;
	if (field instanceof HTMLButtonElement) {
		if (field.getAttribute('aria-pressed') !== 'true') field.click();
		// A form that this opens says where it begins.
		await tick();
		page.querySelector<HTMLElement>(`[data-begins="${CSS.escape(name)}"] :is(${CONTROL})`)?.focus();
		return true;
	}
	(field.querySelector<HTMLElement>(CONTROL) ?? field).focus({ preventScroll: true });
	// Where a pointer led here no ring shows by itself.
	field.dataset['arrived'] = '';
	field.addEventListener('focusout', () => delete field.dataset['arrived'], { once: true });
	field.scrollIntoView({ block: 'nearest' });
	return true;
}

/**
 * Things in the way, each with a key of its own: one that is inserted above another must not put another link under a
 * hand, or under the keyboard. A number in the words may change; the line stays.
 */
export function inTheirLines<T extends { message: string }>(things: readonly T[]): (T & { key: string })[] {
	const times = new Map<string, number>();
	return things.map((thing) => {
		const what = thing.message.replace(/\d+/g, '');
		const time = (times.get(what) ?? 0) + 1;
		times.set(what, time);
		return { ...thing, key: `${what} ${time}` };
	});
}
