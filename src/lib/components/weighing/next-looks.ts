import { nextLooks, type NextLook } from '$lib/investigation/views/looks';
import type { AnomalyDesk } from '../anomaly/desk.svelte';

/** Bits below which a look changes nothing that anybody would see. */
export const NEXT_TO_NOTHING = 0.005;

/** All that could be looked at next for this anomaly, the most telling first; empty until it is worked out. */
export function looksOf({ file, id, weigher: { deeper } }: AnomalyDesk): NextLook[] {
	return nextLooks(file, id, deeper?.information?.observations ?? [], deeper?.looks ?? []);
}

/** Where one goes to take the look. */
export const goTo = (desk: AnomalyDesk, { kind, id }: Pick<NextLook, 'kind' | 'id'>): string =>
	kind === 'sign'
		? `${desk.address}/findings?finding=${id}`
		: `/investigations/${desk.investigation}/${kind === 'test' ? 'evidence' : 'calculations'}/${id}`;

/** How its number is written: F3, E7. */
export const numbered = ({ kind, number }: Pick<NextLook, 'kind' | 'number'>): string =>
	`${{ sign: 'F', test: 'E', calculation: 'K' }[kind]}${number}`;
