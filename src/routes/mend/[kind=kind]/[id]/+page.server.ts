import { error, fail, redirect } from '@sveltejs/kit';
import { openStore } from '$lib/server/open-store';
import { statusOf } from '$lib/server/cases';
import type { Actions, PageServerLoad } from './$types';

/** Everything of one folder, read back: what is whole, what is not, and what can still be opened. */
export const load: PageServerLoad = async ({ params }) => {
	const store = await openStore();
	const id = `${params.kind}/${params.id}`;
	const opened = await store.open(id);
	if (!opened.ok && opened.error.kind !== 'damaged')
		error(statusOf(opened.error), { message: opened.error.message });
	const verified = opened.ok ? await store.verify(id) : null;
	return {
		kind: params.kind,
		id: params.id,
		damage:
			opened.ok || opened.error.kind !== 'damaged'
				? null
				: { message: opened.error.message, lastGoodRev: opened.error.lastGoodRev },
		notes: opened.ok ? opened.value.report : [],
		verified: verified?.ok ? verified.value : null
	};
};

export const actions: Actions = {
	restore: async ({ params, request }) => {
		const who = (await request.formData()).get('who');
		if (typeof who !== 'string' || who.trim() === '')
			return fail(400, { message: 'Say who goes on from here.' });
		const restored = await (await openStore()).restore(`${params.kind}/${params.id}`, who.trim());
		if (!restored.ok) return fail(statusOf(restored.error), { message: restored.error.message });
		redirect(303, `/${params.kind}/${params.id}`);
	}
};
