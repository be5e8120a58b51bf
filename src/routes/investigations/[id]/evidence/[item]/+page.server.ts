import { error } from '@sveltejs/kit';
import { statusOf } from '$lib/server/cases';
import { recordHistory } from '$lib/server/record-history';
import type { PageServerLoad } from './$types';

/** The item itself is in the investigation already; this adds its earlier versions. */
export const load: PageServerLoad = async ({ params, depends }) => {
	depends('versions:item');
	const versions = await recordHistory('investigations', params.id, 'evidence', params.item);
	if (!versions.ok) error(statusOf(versions.error), { message: versions.error.message });
	if (versions.value.length === 0)
		error(404, {
			message: 'There is no such item of evidence.',
			next: 'Choose one from the list of the evidence.'
		});
	return { item: params.item, versions: versions.value };
};
