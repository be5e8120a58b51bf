import { isTheme } from '$lib/components/shell/theme.svelte';
import type { LayoutServerLoad } from './$types';

/** What the browser remembers of its person: name and theme; and who else can come in. */
export const load: LayoutServerLoad = ({ cookies, locals }) => {
	const theme = cookies.get('theme');
	return {
		who: cookies.get('who') ?? '',
		theme: isTheme(theme) ? theme : ('auto' as const),
		reachable: locals.reachable ?? null
	};
};
