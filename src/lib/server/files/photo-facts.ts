import ExifReader from 'exifreader';
import { positionFromExif, type PhotoPosition } from '$lib/physics/exif-position';

/** What a photo says of itself. Nothing here is trusted: a person decides what to use. */
export interface PhotoFacts {
	/** As the camera's clock showed it, without zone: '2031-05-04T16:34:23'. */
	localTime: string | null;
	/** Minutes east of UTC. */
	zoneMinutes: number | null;
	/** Whether the photo states its zone or it follows from the GPS clock beside the camera's. */
	zoneFrom: 'tag' | 'gpsClock' | null;
	position: PhotoPosition | null;
	/** Horizontal error the phone itself gave, m (its level is not stated by the standard). */
	accuracyM: number | null;
	camera: string;
	/** What could not be read, in sentences. */
	problems: string[];
}

type Tags = Record<string, { value: unknown } | undefined>;

/** Reads EXIF from JPEG, PNG, WebP, AVIF or HEIC. Source: EXIF 2.3 (CIPA DC-008). */
export function photoFacts(bytes: Uint8Array): PhotoFacts {
	const tags = read(bytes);
	const localTime = timeOf(tags['DateTimeOriginal']) ?? timeOf(tags['DateTimeDigitized']);
	const zone = zoneOf(tags, localTime);
	const hasGps = tags['GPSLatitude'] !== undefined || tags['GPSLongitude'] !== undefined;
	const position = hasGps
		? positionFromExif({
				latitude: tags['GPSLatitude']?.value,
				latitudeRef: tags['GPSLatitudeRef']?.value,
				longitude: tags['GPSLongitude']?.value,
				longitudeRef: tags['GPSLongitudeRef']?.value,
				altitude: tags['GPSAltitude']?.value,
				altitudeRef: tags['GPSAltitudeRef']?.value
			})
		: null;
	return {
		localTime,
		...zone,
		position: position?.ok ? position.value : null,
		accuracyM: positive(tags['GPSHPositioningError']?.value),
		camera: [textOf(tags['Make']), textOf(tags['Model'])].filter(Boolean).join(' ').slice(0, 100),
		problems: position && !position.ok ? [position.error] : []
	};
}

function read(bytes: Uint8Array): Tags {
	try {
		const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
		return { ...ExifReader.load(buffer, { expanded: true }).exif } as unknown as Tags;
	} catch {
		return {}; // no metadata, or none that can be read: a photo without a word of its own is an ordinary photo
	}
}

const textOf = (tag: Tags[string]): string => {
	const value = Array.isArray(tag?.value) ? (tag.value as unknown[])[0] : tag?.value;
	return typeof value === 'string' ? value.replaceAll('\0', '').trim() : '';
};

/** '2031:05:04 16:34:23' to ISO; a date that no calendar has (zeros, blanks, 31 February) is no date. */
function timeOf(tag: Tags[string]): string | null {
	const match = /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)/.exec(textOf(tag));
	if (!match) return null;
	const [, year, month, day, hour, minute, second] = match;
	const text = `${year}-${month}-${day}T${hour}:${minute}:${second}`;
	const time = new Date(`${text}Z`);
	return !Number.isNaN(time.getTime()) && time.toISOString().startsWith(text) ? text : null;
}

function zoneOf(tags: Tags, localTime: string | null): Pick<PhotoFacts, 'zoneMinutes' | 'zoneFrom'> {
	const tag = /^([+-])(\d\d):(\d\d)$/.exec(textOf(tags['OffsetTimeOriginal']) || textOf(tags['OffsetTime']));
	if (tag) {
		const minutes = Number(tag[2]) * 60 + Number(tag[3]);
		if (minutes <= 14 * 60) return { zoneMinutes: tag[1] === '-' ? 0 - minutes : minutes, zoneFrom: 'tag' };
	}
	const none = { zoneMinutes: null, zoneFrom: null };
	const date = /^(\d{4}):(\d\d):(\d\d)$/.exec(textOf(tags['GPSDateStamp']));
	const stamp: unknown = tags['GPSTimeStamp']?.value;
	if (!date || localTime === null || !Array.isArray(stamp) || stamp.length !== 3) return none;
	const [hour, minute, second] = stamp.map(quotient);
	if (hour == null || minute == null || second == null) return none;
	const utc = Date.UTC(Number(date[1]), Number(date[2]) - 1, Number(date[3]), hour, minute, second);
	const minutes = (Date.parse(`${localTime}Z`) - utc) / 60_000;
	const quarter = Math.round(minutes / 15) * 15;
	// The fix may be a little older than the picture; anything between the zones is a clock that is wrong.
	const fits = Math.abs(minutes - quarter) <= 2 && Math.abs(quarter) <= 14 * 60;
	return fits ? { zoneMinutes: quarter + 0, zoneFrom: 'gpsClock' } : none;
}

/** Numerator over denominator; null where that is not a number. */
function quotient(pair: unknown): number | null {
	if (!Array.isArray(pair) || pair.length !== 2) return null;
	const value = Number(pair[0]) / Number(pair[1]);
	return Number.isFinite(value) && value >= 0 ? value : null;
}

const positive = (pair: unknown): number | null => quotient(pair) || null;
