import { error } from '@sveltejs/kit';
import { statusOf } from '$lib/server/cases';
import { type Subject, SUBJECTS } from '$lib/investigation/views/history';
import { historyPage } from '$lib/server/record-history';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async ({ params, url, depends }) => {
	depends('history:lines');
	const record = url.searchParams.get('record');
	const asked = url.searchParams.get('about');
	const about = asked !== null && asked in SUBJECTS ? (asked as Subject) : null;
	const words = (url.searchParams.get('words') ?? '').trim();
	const read = await historyPage('investigations', params.id, Number(url.searchParams.get('page') ?? 1), {
		record: record?.includes('/') ? record : null,
		about,
		words
	});
	if (!read.ok) error(statusOf(read.error), { message: read.error.message });
	return { ...read.value, of: record, about, words };
};
