import sharp from 'sharp';
import { no, ok, type Answer } from '../storage/types';

// Two cores, one of them the server's: pictures are made one at a time, on one thread.
sharp.concurrency(1);
const LIMIT_PIXELS = 120_000_000;
let turn: Promise<unknown> = Promise.resolve();

/** Longest side, pixels. */
export const PICTURE_SIZES = { thumbnail: 320, display: 1600 } as const;
export type PictureSize = keyof typeof PICTURE_SIZES;

/** Size as it is to be seen (turned by its EXIF orientation), or why it cannot be seen. */
export async function pictureSize(
	original: Uint8Array
): Answer<{ width: number; height: number }, { message: string }> {
	try {
		const { autoOrient } = await sharp(original, { limitInputPixels: LIMIT_PIXELS }).metadata();
		return ok({ width: autoOrient.width, height: autoOrient.height });
	} catch {
		return no({ message: unreadable });
	}
}

/**
 * A JPEG copy for the screen, the report or the export: turned upright, at most `side` pixels long, and without
 * EXIF, so without position, time or camera.
 */
export function pictureCopy(original: Uint8Array, side: number): Answer<Buffer, { message: string }> {
	const made = turn.then(async () => {
		try {
			const copy = sharp(original, { limitInputPixels: LIMIT_PIXELS })
				.rotate()
				.resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
				.flatten({ background: '#fff' })
				.jpeg({ quality: 82 });
			return ok(await copy.toBuffer());
		} catch {
			return no({ message: unreadable });
		}
	});
	turn = made;
	return made;
}

const unreadable =
	'This picture cannot be shown here: it is damaged, cut off, too large or of a kind not known. The original is kept.';
