import type { CaseStore, Refusal } from '../storage/types';
import { no, ok, type Answer } from '../storage/types';
import { FILE_LIMITS, HEIC_REMARK, inspector, type Judged } from './kind';
import { cleanName } from './names';
import { photoFacts } from './photo-facts';
import { PICTURE_SIZES, pictureCopy, pictureSize, type PictureSize } from './pictures';

/** A received file in the shape of the case model's attachment. */
export interface Received extends Judged {
	sha256: string;
	bytes: number;
	name: string;
	width: number | null;
	height: number | null;
	taken: {
		localTime: string | null;
		zoneMinutes: number | null;
		latitude: number | null;
		longitude: number | null;
		accuracyM: number | null;
	} | null;
}

/** Streams a file into a folder and says what it is. The record that names it comes after, as an operation. */
export async function receiveFile(
	store: CaseStore,
	folder: string,
	content: AsyncIterable<Uint8Array>,
	given: { name: string; expectedBytes?: number }
): Answer<Received> {
	const name = cleanName(given.name);
	const inspect = inspector(name);
	const { expectedBytes } = given;
	const limits = {
		limitBytes: FILE_LIMITS.any,
		inspect,
		...(expectedBytes === undefined ? {} : { expectedBytes })
	};
	const stored = await store.putFile(folder, content, limits);
	if (!stored.ok) return stored;
	const file = { ...stored.value, name, ...inspect.judged(), width: null, height: null, taken: null };
	if (file.kind !== 'photo') return ok(file);
	const bytes = await readFile(store, folder, file.sha256);
	return bytes.ok ? ok(await withFacts(file, bytes.value)) : bytes;
}

/** A copy for the screen, made once and kept beside the originals. */
export async function showPicture(
	store: CaseStore,
	folder: string,
	sha256: string,
	size: PictureSize
): Answer<Uint8Array, Refusal> {
	return store.derived(folder, `${sha256}-${size}.jpg`, async () => {
		const original = await readFile(store, folder, sha256);
		if (!original.ok) return original;
		const copy = await pictureCopy(original.value, PICTURE_SIZES[size]);
		return copy.ok ? copy : no({ kind: 'bad-file', message: copy.error.message });
	});
}

/** A whole file in memory; for photos and small texts. */
export async function readFile(store: CaseStore, folder: string, sha256: string): Answer<Buffer> {
	const found = await store.getFile(folder, sha256);
	if (!found.ok) return found;
	const chunks: Uint8Array[] = [];
	for await (const chunk of found.value.content) chunks.push(chunk);
	return ok(Buffer.concat(chunks));
}

async function withFacts(file: Received, bytes: Buffer): Promise<Received> {
	const facts = photoFacts(bytes);
	const size = await pictureSize(bytes);
	const taken = {
		localTime: facts.localTime,
		zoneMinutes: facts.zoneMinutes,
		latitude: facts.position?.latitudeDeg ?? null,
		longitude: facts.position?.longitudeDeg ?? null,
		accuracyM: facts.accuracyM
	};
	const unseen = size.ok || file.remark === HEIC_REMARK ? [] : [size.error.message];
	return {
		...file,
		...(size.ok ? size.value : {}),
		taken: Object.values(taken).some((x) => x !== null) ? taken : null,
		remark: [file.remark, ...unseen, ...facts.problems].filter(Boolean).join(' ')
	};
}
