import { error } from '@sveltejs/kit';
import { statusOf } from '$lib/server/cases';
import { historyPage } from '$lib/server/record-history';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async ({ params, url, depends }) => {
	depends('history:lines');
	const record = url.searchParams.get('record');
	const read = await historyPage(
		'investigations',
		params.id,
		Number(url.searchParams.get('page') ?? 1),
		record?.includes('/') ? record : null
	);
	if (!read.ok) error(statusOf(read.error), { message: read.error.message });
	return { ...read.value, of: record };
};
