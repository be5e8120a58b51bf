import { error } from '@sveltejs/kit';
import { openInvestigation, statusOf } from '$lib/server/cases';
import { asDownload } from '$lib/server/files/names';
import { PICTURE_SIZES, type PictureSize } from '$lib/server/files/pictures';
import { showPicture } from '$lib/server/files/receive';
import { openStore } from '$lib/server/open-store';
import type { Refusal } from '$lib/server/storage/types';
import type { RequestHandler } from './$types';

const FOREVER = 'private, max-age=31536000, immutable';

function refuse(refusal: Refusal): never {
	error(statusOf(refusal), { message: refusal.message });
}

/** The original, always as a download and inert; with ?size=thumbnail or display our own JPEG of a picture. */
export const GET: RequestHandler = async ({ params: { id, sha256 }, url }) => {
	if (!/^[0-9a-f]{64}$/.test(sha256)) error(404, { message: 'There is no such file here.' });
	const size = url.searchParams.get('size');
	return size === null ? original(id, sha256) : picture(id, sha256, size);
};

async function picture(id: string, sha256: string, size: string): Promise<Response> {
	if (!(size in PICTURE_SIZES)) error(400, { message: `A picture has no size "${size}".` });
	const made = await showPicture(await openStore(), `investigations/${id}`, sha256, size as PictureSize);
	if (!made.ok) return refuse(made.error);
	return new Response(made.value as Uint8Array<ArrayBuffer>, {
		headers: { 'content-type': 'image/jpeg', 'cache-control': FOREVER }
	});
}

async function original(id: string, sha256: string): Promise<Response> {
	const opened = await openInvestigation(id);
	if (!opened.ok) return refuse(opened.refusal);
	const record = Object.values(opened.file.attachments).find((a) => a.sha256 === sha256);
	const found = await (await openStore()).getFile(`investigations/${id}`, sha256);
	if (!found.ok) return refuse(found.error);
	return new Response(streamOf(found.value.content), {
		headers: {
			'content-type': 'application/octet-stream',
			'content-length': String(found.value.bytes),
			'content-disposition': asDownload(record?.name ?? sha256),
			'cache-control': FOREVER
		}
	});
}

function streamOf(content: AsyncIterable<Uint8Array>): ReadableStream<Uint8Array<ArrayBuffer>> {
	const chunks = content[Symbol.asyncIterator]();
	return new ReadableStream({
		async pull(controller) {
			const next = await chunks.next();
			if (next.done) controller.close();
			else controller.enqueue(next.value as Uint8Array<ArrayBuffer>);
		},
		async cancel() {
			await chunks.return?.();
		}
	});
}
