import { fail, redirect } from '@sveltejs/kit';
import { begin, listInvestigations, listVehicles } from '$lib/server/catalogue';
import { EXAMPLE_ID } from '$lib/server/example';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async () => ({
	investigations: await listInvestigations(),
	vehicles: await listVehicles(),
	exampleId: EXAMPLE_ID
});

export const actions: Actions = {
	begin: async ({ request }) => {
		const typed = Object.fromEntries(
			[...(await request.formData())].map(([name, value]) => [name, typeof value === 'string' ? value : ''])
		);
		const begun = await begin(typed, typed['who'] ?? '');
		if (!begun.ok) return fail(400, { problems: begun.problems, typed });
		redirect(303, `/investigations/${begun.value}/record`);
	}
};
