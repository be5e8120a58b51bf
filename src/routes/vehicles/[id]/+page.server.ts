import { error } from '@sveltejs/kit';
import { investigationsOf } from '$lib/server/catalogue';
import { openVehicle } from '$lib/server/cases';
import { readInvestigations } from '$lib/server/clearance-reads';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async ({ params: { id } }) => {
	const opened = await openVehicle(id);
	if (!opened.ok) error(opened.status, { message: opened.refusal.message });
	return {
		id,
		rev: opened.rev,
		file: opened.file,
		reads: await readInvestigations(id),
		own: await investigationsOf(id)
	};
};
