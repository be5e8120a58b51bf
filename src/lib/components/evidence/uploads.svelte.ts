import type { OpenInvestigation } from '../case/open-case.svelte';
import type { Problem } from '$lib/investigation/outcome';

const MB = 1024 * 1024;
const MOST_PHOTO_BYTES = 50 * MB;
const MOST_BYTES = 200 * MB;

/** One chosen file on its way into the case. */
export class Upload {
	readonly file: File;
	state = $state<'waiting' | 'sending' | 'kept' | 'refused'>('waiting');
	/** Share of the bytes that have left. */
	progress = $state(0);
	/** Why it was refused, or what should be known of it. */
	message = $state('');
	/** Identity of the attachment once it is kept. */
	attachment = $state<string | null>(null);

	constructor(file: File) {
		this.file = file;
	}
}

type Answer = { ok: true; file: { sha256: string } } | { ok: false; problems: Problem[] };

/** Sends chosen files one after another; one that is refused holds up none of the others. */
export class Uploads {
	list = $state<Upload[]>([]);
	readonly #inv: OpenInvestigation;
	readonly #kept: (attachment: string) => void;
	#queue: Promise<unknown> = Promise.resolve();

	constructor(inv: OpenInvestigation, kept: (attachment: string) => void = () => {}) {
		this.#inv = inv;
		this.#kept = kept;
	}

	get busy() {
		return this.list.some((upload) => upload.state === 'waiting' || upload.state === 'sending');
	}

	/** Done when everything added so far is kept or refused. */
	get settled() {
		return this.#queue;
	}

	add(files: Iterable<File>) {
		for (const file of files) {
			this.list.push(new Upload(file));
			this.#enqueue(this.list.at(-1)!);
		}
	}

	again(upload: Upload) {
		upload.state = 'waiting';
		upload.message = '';
		this.#enqueue(upload);
	}

	dismiss(upload: Upload) {
		this.list = this.list.filter((other) => other !== upload);
	}

	#enqueue(upload: Upload) {
		this.#queue = this.#queue.then(() => this.#take(upload));
	}

	async #take(upload: Upload) {
		const refuse = (message: string) => {
			upload.state = 'refused';
			upload.message = message;
		};
		const tooLarge = largerThanAllowed(upload.file);
		if (tooLarge) return refuse(tooLarge);
		upload.state = 'sending';
		const answer = await send(`/investigations/${this.#inv.id}/files`, upload);
		if (!answer.ok) return refuse(answer.problems[0]?.message ?? 'It was not taken.');
		const known = Object.entries(this.#inv.file.attachments).find(([, a]) => a.sha256 === answer.file.sha256);
		if (known) {
			upload.message = 'This file was kept before; it is the same to the last byte.';
		} else {
			const did = await this.#inv.do('attachment.add', { record: answer.file });
			if (!did.ok) return refuse(did.problems[0]?.message ?? 'It was not taken.');
			upload.attachment = did.ids[0]!;
			upload.message = this.#inv.file.attachments[upload.attachment]?.remark ?? '';
		}
		upload.attachment ??= known![0];
		upload.state = 'kept';
		this.#kept(upload.attachment);
	}
}

/** Said before sending, since it would take a minute to hear it from the other end. */
function largerThanAllowed({ name, size, type }: File): string | null {
	const photo = type.startsWith('image/') && size > MOST_PHOTO_BYTES;
	if (!photo && size <= MOST_BYTES) return null;
	const most = photo ? '50 MB, the most a photo may have' : '200 MB, the most a file may have';
	return `'${name}' has ${Math.round(size / MB)} MB: more than ${most}. Send a smaller copy; keep the original safe.`;
}

/** A PUT with its progress, which fetch does not tell. */
function send(address: string, upload: Upload): Promise<Answer> {
	const broken = (message: string): Answer => ({ ok: false, problems: [{ field: '', message }] });
	return new Promise((resolve) => {
		const request = new XMLHttpRequest();
		request.open('PUT', address);
		request.setRequestHeader('content-type', 'application/octet-stream');
		request.setRequestHeader('x-file-name', encodeURIComponent(upload.file.name));
		request.upload.onprogress = ({ loaded, total }) => (upload.progress = total > 0 ? loaded / total : 0);
		request.onerror = () =>
			resolve(
				broken(
					'The tool does not answer, so this file was not kept. See whether it still runs, then send it again.'
				)
			);
		request.onload = () => {
			try {
				const body = JSON.parse(request.responseText) as Answer | { message: string };
				resolve('ok' in body ? body : broken(body.message));
			} catch {
				resolve(broken(`The file was not taken (answer ${request.status}). Send it again.`));
			}
		};
		request.send(upload.file);
	});
}
