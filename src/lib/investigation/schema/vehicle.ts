import * as v from 'valibot';
import { id, line, requiredLine, text } from './common';
import { optionalQuantity } from './quantity-field';
import { count } from './typed';

export const vehicle = v.object({
	name: requiredLine('Name the vehicle.'),
	description: text
});
export type Vehicle = v.InferOutput<typeof vehicle>;

/** One physical vehicle: the same design built again is another build. */
export const build = v.object({
	name: requiredLine('Name the build, such as "build 2".'),
	description: text,
	state: v.picklist(['building', 'ready', 'retired'])
});
export type Build = v.InferOutput<typeof build>;

export const vehiclePart = v.object({
	build: id,
	name: requiredLine('Name the part.'),
	group: line,
	description: text,
	mass: optionalQuantity('mass', 'g', { min: 0 }),
	/** Flights or firings on this part so far; null: not counted. */
	uses: count
});
export type VehiclePart = v.InferOutput<typeof vehiclePart>;

/** Words that somebody else can judge: one letter is no reason. */
const reasonOf = (ask: string) =>
	v.pipe(requiredLine(ask), v.minLength(8, `${ask} A few words, so that somebody else can judge them.`));

/** A decision to let a build fly, with what was read to take it. */
export const clearance = v.object({
	build: id,
	by: requiredLine('Say who clears it.'),
	at: v.string(),
	/** Revision of every investigation that names the vehicle, as read at that moment. */
	revisions: v.record(v.string(), v.number()),
	/** Risks accepted by name, each for one required change that is still open. */
	waivers: v.array(
		v.object({
			investigation: id,
			change: id,
			by: requiredLine('Say who accepts the risk.'),
			risk: reasonOf('Say which risk is accepted.'),
			until: requiredLine('Say until when, or for which flight.')
		})
	),
	/** Why it may fly although something was unsettled: a word on each such thing. */
	reasons: v.optional(
		v.array(
			v.object({
				investigation: id,
				kind: v.picklist(['investigation', 'anomaly', 'hazard', 'build']),
				id,
				reason: reasonOf('Say why it may fly all the same.')
			})
		),
		[]
	),
	/** Verified changes that somebody found built into it. */
	built: v.optional(v.array(v.object({ investigation: id, change: id })), []),
	/** Its parts list as it was then, each part in one line. */
	parts: v.optional(v.record(id, text)),
	note: text,
	/** Set when the clearance was withdrawn. */
	withdrawn: v.nullable(v.object({ by: line, at: v.string(), reason: requiredLine('Say why.') })),
	/** Set when the build flew on it: the next flight asks for a new one. */
	flown: v.nullable(v.object({ by: line, at: v.string(), flight: requiredLine('Name the flight.') }))
});
export type Clearance = v.InferOutput<typeof clearance>;
