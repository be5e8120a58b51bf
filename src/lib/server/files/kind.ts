import { fileTypeFromBuffer } from 'file-type';

export type FileKind = 'photo' | 'video' | 'recording' | 'text' | 'document' | 'other';

export interface Judged {
	kind: FileKind;
	/** Media type by content; what may not be shown as a page is `text/plain` or `application/octet-stream`. */
	type: string;
	/** What the person should know, or ''. */
	remark: string;
}

export const FILE_LIMITS = { photo: 50 * 1024 * 1024, any: 200 * 1024 * 1024 } as const;

const PHOTOS = new Set(['jpg', 'png', 'webp', 'gif', 'avif', 'heic', 'tif']);
const PROGRAMS = new Set(
	'exe elf macho class wasm lnk deb rpm apk jar dmg swf crx xpi nes shlib asar dex cab msi'.split(' ')
);
const PICTURE_NAME = /\.(jpe?g|png|webp|gif|avif|hei[cf]|tiff?)$/i;
const MARKUP = /^\s*(<!doctype|<html|<head|<body|<svg|<script|<\?xml|<!--|<math|<iframe)/i;

/** What a file is, from its bytes; its name only helps to say what is odd. */
export async function judge(facts: FileFacts, name: string): Promise<Judged | { refused: string }> {
	if (facts.bytes === 0)
		return {
			refused: `'${name}' is empty (0 bytes): copying it probably failed. Copy it again and add it then.`
		};
	const found = await fileTypeFromBuffer(facts.head);
	const ext = found?.ext;
	const mime = found?.mime ?? '';
	if ((ext !== undefined && PROGRAMS.has(ext)) || isProgram(facts.head))
		return { refused: `'${name}' is a program, whatever its name says. It was not kept.` };
	if (ext !== undefined && PHOTOS.has(ext)) {
		if (facts.bytes > FILE_LIMITS.photo) return { refused: tooLargePhoto(name) };
		return { kind: 'photo', type: mime, remark: ext === 'heic' ? HEIC_REMARK : '' };
	}
	const odd = PICTURE_NAME.test(name) ? 'Its name says picture, but it is none. Kept as it is.' : '';
	if (facts.isText || facts.looksLikeText || mime === 'application/xml') return judgeText(facts, odd);
	if (mime.startsWith('video/')) return { kind: 'video', type: mime, remark: odd };
	if (mime.startsWith('audio/')) return { kind: 'recording', type: mime, remark: odd };
	if (mime === 'application/pdf' || /officedocument|opendocument/.test(mime))
		return { kind: 'document', type: mime, remark: odd };
	const remark = odd || (found ? '' : 'Kept as it is; its kind is not known here.');
	return { kind: 'other', type: 'application/octet-stream', remark };
}

export const HEIC_REMARK = 'Kept as it is; add a JPEG beside it to see it here.';

const tooLargePhoto = (name: string) =>
	`'${name}' is larger than 50 MB, the most a photo may have. Send a smaller copy, or split the scan.`;

function judgeText({ head, isText }: FileFacts, odd: string): Judged {
	const text = new TextDecoder('utf-8').decode(head);
	if (MARKUP.test(text)) {
		const remark = 'This is a page or drawing with markup: kept as it is, and never shown as a page.';
		return { kind: 'text', type: 'text/plain', remark };
	}
	const encoding = isText ? '' : 'Its text is not UTF-8: letters beyond A to Z may be read wrongly.';
	const remark = [odd, encoding].filter(Boolean).join(' ');
	return isTable(text)
		? { kind: 'recording', type: 'text/csv', remark }
		: { kind: 'text', type: 'text/plain', remark };
}

/** Most lines hold several numbers, or are position records of an IGC log (FAI, section A 4.1). */
function isTable(text: string): boolean {
	const lines = text
		.split(/\r?\n/)
		.slice(0, -1)
		.filter((line) => line.trim() !== '');
	const rows = lines.filter(
		(line) =>
			/^B\d{6}\d{7}[NS]\d{8}[EW][AV]/.test(line) ||
			line.split(/[,;\t]/).filter((cell) => /^\s*"?[-+]?\d+([.,]\d+)?(e[-+]?\d+)?"?\s*$/i.test(cell))
				.length >= 2
	);
	return lines.length >= 3 && rows.length > lines.length / 2;
}

/** Programs that the type detection may not know: MZ, ELF, Mach-O, and scripts that name their interpreter. */
function isProgram(head: Uint8Array): boolean {
	const start = Buffer.from(head.subarray(0, 4)).toString('hex');
	return (
		/^(4d5a|7f454c46|feedface|feedfacf|cefaedfe|cffaedfe|cafebabe)/.test(start) || start.startsWith('2321') // #!
	);
}

const HEAD_BYTES = 65_536;

/** What judging needs to know of a file that went by in chunks. */
export class FileFacts {
	head: Uint8Array = new Uint8Array(0);
	bytes = 0;
	/** Valid UTF-8 to the last byte, without NUL. */
	isText = true;
	/** No NUL and hardly a control character: text in an older encoding. */
	get looksLikeText(): boolean {
		return !this.hasNul && this.controls <= this.head.length / 1000;
	}
	private hasNul = false;
	private controls = 0;
	private readonly decoder = new TextDecoder('utf-8', { fatal: true });

	add(chunk: Uint8Array): void {
		if (this.head.length < HEAD_BYTES) {
			const more = chunk.subarray(0, HEAD_BYTES - this.head.length);
			this.head = Buffer.concat([this.head, more]);
			for (const byte of more) if (byte < 32 && ![9, 10, 12, 13].includes(byte)) this.controls++;
		}
		this.bytes += chunk.length;
		this.hasNul ||= chunk.includes(0);
		this.isText &&= !this.hasNul && this.decodes(chunk, true);
	}

	end(): this {
		this.isText &&= this.decodes(new Uint8Array(0), false);
		return this;
	}

	/** So that a photo beyond its limit is refused when it reaches it, not 150 MB later. */
	isPhotoBeyondLimit(): boolean {
		if (this.bytes <= FILE_LIMITS.photo) return false;
		const head = Buffer.from(this.head.subarray(0, 12)).toString('latin1');
		return /^(\xff\xd8\xff|\x89PNG|GIF8|II\*\0|MM\0\*|RIFF....WEBP|....ftyp(hei|mif1|avif))/s.test(head);
	}

	private decodes(chunk: Uint8Array, stream: boolean): boolean {
		try {
			this.decoder.decode(chunk, { stream });
			return true;
		} catch {
			return false;
		}
	}
}

/** Watches a file on its way to the disk; see `FileLimits.inspect`. */
export function inspector(name: string): {
	chunk(bytes: Uint8Array): string | null;
	verdict(): Promise<string | null>;
	judged(): Judged;
} {
	const facts = new FileFacts();
	let judged: Judged | null = null;
	return {
		chunk(bytes) {
			facts.add(bytes);
			return facts.isPhotoBeyondLimit() ? tooLargePhoto(name) : null;
		},
		async verdict() {
			const outcome = await judge(facts.end(), name);
			if ('refused' in outcome) return outcome.refused;
			judged = outcome;
			return null;
		},
		judged() {
			if (!judged) throw new Error('the file was not kept');
			return judged;
		}
	};
}
