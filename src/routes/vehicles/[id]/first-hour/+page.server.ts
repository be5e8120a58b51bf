import { error } from '@sveltejs/kit';
import { openVehicle } from '$lib/server/cases';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async ({ params, url }) => {
	const opened = await openVehicle(params.id);
	if (!opened.ok) error(opened.status, { message: opened.refusal.message });
	return { id: params.id, file: opened.file, build: url.searchParams.get('build') };
};
