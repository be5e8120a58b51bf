import { json } from '@sveltejs/kit';
import { takeArchive } from '$lib/server/archive/take-along';
import { statusOf } from '$lib/server/cases';
import { bodyOf } from '$lib/server/files/streams';
import type { RequestHandler } from './$types';

/** Takes a zip as the body. Nothing of it appears before every hash has been checked. */
export const PUT: RequestHandler = async ({ request }) => {
	const content = bodyOf(request);
	const taken = await takeArchive(content);
	if (taken.ok) return json({ ok: true, imported: taken.value });
	// Read to the end what was refused midway: a browser that is cut off shows no answer.
	for await (const _ of content);
	const { message } = taken.error;
	return json({ ok: false, problems: [{ field: '', message }] }, { status: statusOf(taken.error) });
};
