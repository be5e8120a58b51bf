import { error } from '@sveltejs/kit';
import { statusOf } from '$lib/server/cases';
import { asDownload, nameFromTitle } from '$lib/server/files/names';
import { embedPicture, makeReport, shownIn } from '$lib/server/report/gather';
import { standAlone } from '$lib/server/report/stand-alone';
import type { RequestHandler } from './$types';

/** The report as one file, always as a download. */
export const GET: RequestHandler = async ({ params: { id }, url }) => {
	const made = await makeReport(id, shownIn(url), { base: '', addressOf: embedPicture(id) });
	if (!made.ok) error(statusOf(made.error), { message: made.error.message });
	return new Response(standAlone(made.value), {
		headers: {
			'content-type': 'text/html; charset=utf-8',
			'content-disposition': asDownload(`${nameFromTitle(made.value.title)}, report.html`)
		}
	});
};
