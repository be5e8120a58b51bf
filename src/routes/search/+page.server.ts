import { search } from '$lib/server/search';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async ({ url }) => {
	const words = (url.searchParams.get('words') ?? '').trim();
	return { words, investigations: await search(words) };
};
