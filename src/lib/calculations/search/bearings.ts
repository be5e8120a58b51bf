import { concentrationOf, density } from '$lib/probability/distributions';
import type { Inputs } from './inputs';

type Segment = Inputs['segments'][number];
type Bearing = Inputs['bearings'][number];

/** Of ten bearings one is of something else, or misread (common practice, no source): no single one decides. */
const OF_SOMETHING_ELSE = 0.1;

const place = (away: number, toward: number) => [away * Math.sin(toward), away * Math.cos(toward)] as const;

export const hasMiddle = ({ away, toward }: Segment) => away !== undefined && toward !== undefined;

/**
 * How many times as probable a bearing is if the object lies in a segment as if it could be in any direction. The
 * direction to it scatters by what the bearing is known to, and by the segment's own width as seen from there: a round
 * area of radius R scatters by R/2 to either side.
 * @returns 1 for a segment without a middle, and for an observer who stands in it: neither has a direction
 */
export function timesAsProbable(
	segment: Segment,
	{ standAway, standToward, bearing, within }: Bearing
): number {
	if (segment.away === undefined || segment.toward === undefined) return 1;
	const [east, north] = place(segment.away, segment.toward);
	const [fromEast, fromNorth] = place(standAway, standToward);
	const distance = Math.hypot(east - fromEast, north - fromNorth);
	const radius = Math.sqrt(segment.area / Math.PI);
	if (distance <= radius) return 1;
	const direction = Math.atan2(east - fromEast, north - fromNorth);
	const spread = Math.hypot(within, Math.atan(radius / 2 / distance));
	const pointed = density(
		{ kind: 'von Mises', mean: direction, concentration: concentrationOf(spread) },
		bearing
	);
	return OF_SOMETHING_ELSE + (1 - OF_SOMETHING_ELSE) * 2 * Math.PI * pointed;
}
