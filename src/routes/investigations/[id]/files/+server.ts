import { json } from '@sveltejs/kit';
import { statusOf } from '$lib/server/cases';
import { receiveFile } from '$lib/server/files/receive';
import { openStore } from '$lib/server/open-store';
import type { RequestHandler } from './$types';

/**
 * Takes one file as the body, its name percent-encoded in `x-file-name`. It is kept under its SHA-256; the record
 * that names it follows as the operation 'attachment.add'.
 */
export const PUT: RequestHandler = async ({ params, request }) => {
	const reader = request.body?.getReader();
	async function* chunks() {
		for (;;) {
			const next = await reader?.read();
			if (!next || next.done) return;
			yield next.value;
		}
	}
	const length = Number(request.headers.get('content-length'));
	const received = await receiveFile(await openStore(), `investigations/${params.id}`, chunks(), {
		name: decodeName(request.headers.get('x-file-name')),
		...(length > 0 ? { expectedBytes: length } : {})
	});
	if (received.ok) return json({ ok: true, file: received.value });
	// Read to the end what was refused midway: a browser that is cut off shows no answer.
	for await (const _ of chunks());
	const { message } = received.error;
	return json({ ok: false, problems: [{ field: '', message }] }, { status: statusOf(received.error) });
};

function decodeName(header: string | null): string {
	try {
		return decodeURIComponent(header ?? '');
	} catch {
		return header ?? '';
	}
}
