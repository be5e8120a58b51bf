import { error } from '@sveltejs/kit';
import { statusOf } from '$lib/server/cases';
import { makeReport, shownIn } from '$lib/server/report/gather';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async ({ params: { id }, url, isDataRequest }) => {
	const base = `/investigations/${id}`;
	const shown = shownIn(url);
	const make = async () => {
		const addressOf = (sha256: string) => Promise.resolve(`${base}/files/${sha256}?size=display`);
		const made = await makeReport(id, shown, { base, addressOf });
		if (!made.ok) error(statusOf(made.error), { message: made.error.message });
		return made.value;
	};
	// A press in the page is answered at once, and the report follows when it is written; a page opened anew waits for it.
	return { shown, report: isDataRequest ? make() : await make() };
};
