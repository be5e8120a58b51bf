import * as v from 'valibot';
import { parsePosition } from '$lib/physics/coordinates';
import { degrees, id, line, localTime, northReference, requiredLine, text } from './common';
import { optionalQuantity, quantity } from './quantity-field';
import { stored } from './stored';
import { zone } from './typed';

/**
 * How well a place is known: the radius of a circle that holds the true place with the stated level.
 * A blank radius means that nobody said, and it is shown as such.
 */
export const circle = v.object({
	radius: optionalQuantity('length', 'm'),
	level: v.picklist([0.68, 0.95], 'Say whether the circle holds the place in 68 % or 95 % of cases.')
});

const latitudeDeg = v.pipe(v.number(), v.minValue(-90), v.maxValue(90));
const longitudeDeg = v.pipe(v.number(), v.minValue(-180), v.maxValue(180));

/** A position in any usual notation; the degrees beside it are read from the text. */
const typedEntries = v.object({ kind: v.literal('typed'), typed: line, circle });
const typedPosition = v.pipe(
	typedEntries,
	v.rawTransform(({ dataset, addIssue, NEVER }) => {
		const read = parsePosition(dataset.value.typed);
		if (!read.ok) {
			addIssue({ message: read.error });
			return NEVER;
		}
		const { latitudeDeg, longitudeDeg } = read.value;
		return { ...dataset.value, latitudeDeg, longitudeDeg };
	}),
	stored<v.InferOutput<typeof typedEntries> & { latitudeDeg: number; longitudeDeg: number }>({
		$ref: '#/$defs/typedPosition'
	})
);

/**
 * Where something lay, as it was measured. Coordinates on the plan are derived from this and never stored,
 * so that a piece taped at 2 m from the body stays at 2 m however poor the fix on the body is.
 */
export const position = v.variant('kind', [
	typedPosition,
	v.object({ kind: v.literal('photo'), attachment: id, latitudeDeg, longitudeDeg, circle }),
	v.object({
		kind: v.literal('bearing'),
		/** 'pad', or the evidence item from which distance and bearing were taken. */
		from: v.union([v.literal('pad'), id]),
		distance: quantity('length', 'm', { min: 0 }),
		bearingDeg: degrees,
		reference: northReference,
		/** One standard deviation of the bearing, degrees; null: not stated, taken as 3°. */
		bearingPlusMinusDeg: v.nullable(degrees)
	})
]);
export type Position = v.InferOutput<typeof position>;

/** When something happened: read on a clock of the case, or counted from launch. */
export const moment = v.variant('kind', [
	v.object({
		kind: v.literal('clock'),
		clock: id,
		reading: localTime
	}),
	v.object({
		kind: v.literal('sinceLaunch'),
		after: quantity('time', 's')
	})
]);
export type Moment = v.InferOutput<typeof moment>;

/** A source of time: a phone, a camera, a recorder, somebody's memory. Each has its zone and its own error. */
export const clock = v.object({
	name: requiredLine('Name the clock: whose phone, which camera, which recorder.'),
	kind: v.picklist(['phone', 'camera', 'recorder', 'watch', 'memory', 'other']),
	/** Zone in minutes east of UTC; +60 for UTC+1. */
	zoneMinutes: zone,
	/** How far the clock runs ahead of true time (negative: behind), with its uncertainty. */
	ahead: optionalQuantity('time', 's'),
	note: text
});
export type Clock = v.InferOutput<typeof clock>;

export const timelineEntry = v.object({
	what: requiredLine('Say what happened, in one line.'),
	at: moment,
	plusMinus: optionalQuantity('time', 's'),
	seenBy: line,
	sure: v.picklist(['certain', 'likely', 'unsure'], 'Say how sure this is.'),
	basis: v.picklist(['observed', 'recorded', 'derived', 'reported', 'assumed']),
	evidence: v.array(id),
	note: text
});
export type TimelineEntry = v.InferOutput<typeof timelineEntry>;
