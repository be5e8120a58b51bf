import { concentrationOf, density } from '$lib/probability/distributions';
import type { Inputs } from './inputs';

type Segment = Inputs['segments'][number];
type Bearing = Inputs['bearings'][number];
type Place = readonly [east: number, north: number];

/** Of ten bearings one is of something else, or misread (common practice, no source): no single one decides. */
const OF_SOMETHING_ELSE = 0.1;

const place = (away: number, toward: number): Place => [away * Math.sin(toward), away * Math.cos(toward)];

/** Samples share the text. */
const read = new Map<string, readonly Place[] | null>();

/** Places as they are typed, '120 -40, 130 -35': metres east and north of the pad; null where they do not read so. */
function placesIn(text: string): readonly Place[] | null {
	const known = read.get(text);
	if (known !== undefined) return known;
	const pairs = text.split(/[,;]/).map((pair) => pair.trim().split(/\s+/).map(Number));
	const places = pairs.every((pair) => pair.length === 2 && pair.every(Number.isFinite))
		? pairs.map(([east = 0, north = 0]): Place => [east, north])
		: null;
	if (read.size > 100) read.clear();
	read.set(text, places);
	return places;
}

/** Places that stand for equal parts of the segment: those it lists, else its middle; none where neither is given. */
function partsOf({ ground, away, toward }: Segment): readonly Place[] {
	if (ground !== undefined) return placesIn(ground) ?? [];
	return away === undefined || toward === undefined ? [] : [place(away, toward)];
}

export const isPlaced = (segment: Segment) => partsOf(segment).length > 0;
export const isUnreadable = ({ ground }: Segment) => ground !== undefined && placesIn(ground) === null;

/**
 * How many times as probable a bearing is if the object lies in a segment as if it could be in any direction: the mean
 * over the parts of the segment. The direction to a part scatters by what the bearing is known to, and by the part's own
 * width as seen from there: a round area of radius R scatters by R/2 to either side.
 * @returns 1 for a segment that lies nowhere, and for the part in which the observer stands: neither has a direction
 */
export function timesAsProbable(segment: Segment, bearing: Bearing): number {
	const parts = partsOf(segment);
	if (parts.length === 0) return 1;
	const radius = Math.sqrt(segment.area / parts.length / Math.PI);
	return parts.reduce((sum, part) => sum + timesFrom(part, radius, bearing), 0) / parts.length;
}

function timesFrom(
	[east, north]: Place,
	radius: number,
	{ standAway, standToward, bearing, within }: Bearing
): number {
	const [fromEast, fromNorth] = place(standAway, standToward);
	const distance = Math.hypot(east - fromEast, north - fromNorth);
	if (distance <= radius) return 1;
	const direction = Math.atan2(east - fromEast, north - fromNorth);
	const spread = Math.hypot(within, Math.atan(radius / 2 / distance));
	const pointed = density(
		{ kind: 'von Mises', mean: direction, concentration: concentrationOf(spread) },
		bearing
	);
	return OF_SOMETHING_ELSE + (1 - OF_SOMETHING_ELSE) * 2 * Math.PI * pointed;
}
