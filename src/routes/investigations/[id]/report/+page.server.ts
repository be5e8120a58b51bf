import { error } from '@sveltejs/kit';
import { statusOf } from '$lib/server/cases';
import { makeReport, shownIn } from '$lib/server/report/gather';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async ({ params: { id }, url }) => {
	const base = `/investigations/${id}`;
	const addressOf = (sha256: string) => Promise.resolve(`${base}/files/${sha256}?size=display`);
	const made = await makeReport(id, shownIn(url), { base, addressOf });
	if (!made.ok) error(statusOf(made.error), { message: made.error.message });
	return { report: made.value };
};
