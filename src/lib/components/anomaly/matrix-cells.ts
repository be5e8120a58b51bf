import type { Attachment } from 'svelte/attachments';

/**
 * Lets the cells of a body of rows be pressed. One of them is reached with Tab, the others from it with the arrow keys;
 * Enter or Space presses. Listened to once, as thousands of cells would each cost a listener.
 */
export function pressedCells(
	press: (finding: string, event: string, cell: HTMLElement) => void
): Attachment<HTMLElement> {
	return (body) => {
		const cellAt = (target: EventTarget | null) =>
			(target as Element | null)?.closest<HTMLTableCellElement>('td[data-event]') ?? null;
		function open(cell: HTMLTableCellElement) {
			const finding = cell.closest<HTMLElement>('tr')?.dataset['finding'];
			const event = cell.dataset['event'];
			if (finding !== undefined && event !== undefined) press(finding, event, cell);
		}
		function beside({ cellIndex, parentElement: row }: HTMLTableCellElement, key: string) {
			const cells = (one: Element | null | undefined) =>
				(one as HTMLTableRowElement | null | undefined)?.cells;
			if (key === 'ArrowLeft') return cells(row)?.[cellIndex - 1];
			if (key === 'ArrowRight') return cells(row)?.[cellIndex + 1];
			if (key === 'ArrowUp') return cells(row?.previousElementSibling)?.[cellIndex];
			return key === 'ArrowDown' ? cells(row?.nextElementSibling)?.[cellIndex] : undefined;
		}
		/** The cell that Tab reaches: the last one that was in use, at first the first. */
		let reached = body.querySelector<HTMLElement>('td[data-event]');
		if (reached) reached.tabIndex = 0;
		function reach(event: FocusEvent) {
			const cell = cellAt(event.target);
			if (!cell) return;
			if (reached) reached.tabIndex = -1;
			cell.tabIndex = 0;
			reached = cell;
		}
		function click(event: MouseEvent) {
			const cell = cellAt(event.target);
			if (cell) open(cell);
		}
		function key(event: KeyboardEvent) {
			const cell = cellAt(event.target);
			if (!cell) return;
			const next = cellAt(beside(cell, event.key) ?? null);
			if (event.key === 'Enter' || event.key === ' ') open(cell);
			else if (next) next.focus();
			else return;
			event.preventDefault();
		}
		body.addEventListener('focusin', reach);
		body.addEventListener('click', click);
		body.addEventListener('keydown', key);
		return () => {
			body.removeEventListener('focusin', reach);
			body.removeEventListener('click', click);
			body.removeEventListener('keydown', key);
		};
	};
}
