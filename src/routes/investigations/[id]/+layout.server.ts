import { error, redirect } from '@sveltejs/kit';
import { openInvestigation } from '$lib/server/cases';
import type { LayoutServerLoad } from './$types';

export const load: LayoutServerLoad = async ({ params }) => {
	const opened = await openInvestigation(params.id);
	if (!opened.ok) {
		if (opened.refusal.kind === 'damaged') redirect(307, `/mend/investigations/${params.id}`);
		error(opened.status, { message: opened.refusal.message });
	}
	const { rev, file, report } = opened;
	return { id: params.id, rev, file, report };
};
