import { error } from '@sveltejs/kit';
import { exportInvestigation } from '$lib/server/archive/take-along';
import { statusOf } from '$lib/server/cases';
import { asDownload, nameFromTitle } from '$lib/server/files/names';
import { asStream } from '$lib/server/files/streams';
import type { RequestHandler } from './$types';

/** The whole investigation with its history and original files. It contains positions and names, and says so. */
export const GET: RequestHandler = async ({ params: { id } }) => {
	const made = await exportInvestigation(id);
	if (!made.ok) error(statusOf(made.error), { message: made.error.message });
	return new Response(asStream(made.value.content), {
		headers: {
			'content-type': 'application/zip',
			'content-disposition': asDownload(`${nameFromTitle(made.value.title)}.zip`)
		}
	});
};
