import { error } from '@sveltejs/kit';
import { methodPage } from '$lib/server/methods';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = ({ params }) => {
	const page = methodPage(params.name);
	if (!page)
		error(404, {
			message: 'No method is described under this name.',
			next: 'See all of them under Methods.'
		});
	return page;
};
