import { shownQuantity, typedText } from '../ui/quantity-text';
import type { Investigation } from '$lib/investigation/case';
import { zoneText } from '$lib/investigation/schema/typed';
import { assumedOf } from '$lib/investigation/views/positions';
import type { Moment, Position } from '$lib/investigation/schema/places-and-times';
import { formatNumber, formatSi } from '$lib/quantity/format';

/** '45.76260° N, 4.83570° E' */
export function placeWords(latitudeDeg: number, longitudeDeg: number): string {
	const axis = (deg: number, [plus, minus]: [string, string]) =>
		`${formatNumber(Math.abs(deg), 5)}° ${deg < 0 ? minus : plus}`;
	return `${axis(latitudeDeg, ['N', 'S'])}, ${axis(longitudeDeg, ['E', 'W'])}`;
}

/** Three digits, as a bearing is read out: '041°'. */
export const bearingWords = (deg: number) => `${String(Math.round(deg) % 360).padStart(3, '0')}°`;

export const distanceWords = (metres: number) =>
	metres >= 10_000
		? formatSi(metres, 'length', { unit: 'km', figures: 3 })
		: `${formatNumber(metres, metres < 10 ? 1 : 0)}\u202Fm`;

/** What was measured of a place, in words. */
export function positionWords(position: Position, file: Investigation): string {
	if (position.kind === 'bearing') {
		const from = position.from === 'pad' ? 'the pad' : `E${file.evidence[position.from]?.number ?? '?'}`;
		const spread = position.bearingPlusMinusDeg === null ? '' : ` ± ${position.bearingPlusMinusDeg}°`;
		const assumed = assumedOf(position);
		return `${shownQuantity(position.distance, 'length')} from ${from}, bearing ${bearingWords(position.bearingDeg)}${spread} ${position.reference}${assumed && ` (${assumed})`}`;
	}
	const source =
		position.kind === 'photo' ? `, from the photo ${file.attachments[position.attachment]?.name ?? ''}` : '';
	return `${placeWords(position.latitudeDeg, position.longitudeDeg)}${circleWords(position)}${source}`;
}

function circleWords({ circle }: Extract<Position, { circle: unknown }>): string {
	return circle.radius
		? `, within ${shownQuantity(circle.radius, 'length')} in ${circle.level * 100}\u202F% of cases`
		: ', nobody said how well';
}

/** When, as it was read: 'phone of Ada, 17 May 2031 14:20' or '35 s after launch'. */
export function momentWords(at: Moment, file: Investigation): string {
	if (at.kind === 'sinceLaunch') return `${typedText(at.after)} after launch`;
	const clock = file.clocks[at.clock];
	return `${at.reading.replace('T', ' ')} (${clock ? `${clock.name}, UTC${zoneText(clock.zoneMinutes)}` : 'clock not listed'})`;
}

/** '14:20' on the day of the flight, else with its date. */
export function shortMoment(at: Moment, file: Investigation): string {
	if (at.kind === 'sinceLaunch') return `+${typedText(at.after)}`;
	const day = file.about['main']?.flownAt.slice(0, 10);
	const [date, time] = at.reading.split('T');
	return date === day && time ? time : at.reading.replace('T', ' ');
}

export const kilobytes = (bytes: number) =>
	bytes < 1024 * 1024
		? `${Math.max(1, Math.round(bytes / 1024))}\u202FkB`
		: `${formatNumber(bytes / 1024 / 1024, 1)}\u202FMB`;
