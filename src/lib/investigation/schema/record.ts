import * as v from 'valibot';
import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';
import { toSi } from '$lib/quantity/quantity';
import { readUnit } from '$lib/quantity/units';
import {
	degrees,
	emptyOr,
	id,
	instant,
	line,
	LIMITS,
	localTime,
	northReference,
	requiredLine,
	text,
	WRITE_TIME
} from './common';
import { position } from './places-and-times';
import { optionalQuantity, quantity } from './quantity-field';
import { count, declination, fraction, spreadDegrees, zone } from './typed';

/** Steps of the first hour that a flight may have no use for. Making safe is none of them. */
export const FIRST_STEPS = ['photos', 'recorder', 'places', 'statements', 'wind', 'searches'] as const;

/** What the investigation is about. One record, id 'main'. */
export const about = v.object({
	title: requiredLine('Give the investigation a title, such as the vehicle and the flight.'),
	vehicle: v.nullable(id),
	vehicleName: requiredLine('Name the vehicle.'),
	build: v.nullable(id),
	buildName: line,
	flownAt: emptyOr(localTime),
	zoneMinutes: zone,
	launchDirection: v.nullable(
		v.object({
			bearingDeg: degrees,
			reference: northReference,
			/** Elevation of the rail above the horizon, degrees; 90 is straight up. */
			elevationDeg: v.pipe(degrees, v.maxValue(90, 'A rail stands between 0° and 90° above the horizon.'))
		})
	),
	padChanges: text,
	note: text,
	/** Who said, and when, that everything that can hurt is listed. */
	allListed: v.optional(v.object({ by: line, at: instant })),
	/** Steps of the first hour that somebody has set aside. */
	setAside: v.optional(v.array(v.picklist(FIRST_STEPS)))
});
export type About = v.InferOutput<typeof about>;

const answer = v.picklist(['yes', 'no', 'notKnown']);

/** Where it flew and may be searched. One record, id 'main'. */
export const site = v.object({
	name: line,
	pad: v.nullable(position),
	elevation: optionalQuantity('length', 'm', { min: -500, max: 9000 }),
	/** Degrees east of true north that a compass needle points; west is negative. */
	declinationDeg: declination,
	ownersLeave: answer,
	powerLines: answer,
	water: answer,
	fireRisk: answer,
	accessNote: text,
	told: v.pipe(
		v.array(
			v.object({
				who: v.picklist(['range', 'club', 'authority', 'owner', 'emergency', 'other']),
				name: line,
				when: emptyOr(localTime),
				note: line
			})
		),
		v.maxLength(LIMITS.list)
	)
});
export type Site = v.InferOutput<typeof site>;

/** From -90 to 60 °C: colder or warmer air is a slip of the pen. */
const AIR_K = { min: 183.15, max: 333.15 };

export const windLevel = v.object({
	height: quantity('length', 'm'),
	fromDeg: degrees,
	speed: quantity('speed', 'm/s', { min: 0 }),
	temperature: optionalQuantity('temperature', '°C', AIR_K)
});
export type WindLevel = v.InferOutput<typeof windLevel>;

/** The day's air. One record, id 'main'. Wind is where it comes from. */
export const weather = v.object({
	surfaceTemperature: optionalQuantity('temperature', '°C', AIR_K),
	surfacePressure: optionalQuantity('pressure', 'hPa', { min: 20_000, max: 110_000 }),
	pressureIs: v.picklist(
		['atSite', 'seaLevel'],
		'Say whether this pressure was read at the site or is reduced to sea level.'
	),
	heightsAre: v.picklist(['abovePad', 'aboveSea']),
	fromReference: northReference,
	wind: v.pipe(
		v.array(windLevel),
		v.maxLength(LIMITS.rows, `A wind table holds at most ${LIMITS.rows} heights.`),
		v.rawCheck(({ dataset, addIssue }) => {
			if (!dataset.typed) return;
			const heights = dataset.value.map((level) => toSi(level.height, 'length').value);
			const at = heights.findIndex((h, i) => i > 0 && h <= heights[i - 1]!);
			if (at < 1) return;
			const level = dataset.value[at]!;
			addIssue({
				message: `It is not above row ${at}. List each height once, lowest first.`,
				path: [
					{ type: 'array', origin: 'value', input: dataset.value, key: at, value: level },
					{ type: 'object', origin: 'value', input: { ...level }, key: 'height', value: level.height }
				]
			});
		})
	),
	/** Spread of the wind about the table: one standard deviation, as a fraction of speed and in degrees. */
	speedSpread: fraction,
	directionSpreadDeg: spreadDegrees,
	/** The sounding or forecast that the table was read from, if it came as a file. */
	sounding: v.nullable(id),
	source: line,
	note: text
});
export type Weather = v.InferOutput<typeof weather>;

export const EXPECTED_KINDS = [
	'apogee',
	'timeToApogee',
	'maxSpeed',
	'burnTime',
	'drogueRate',
	'mainHeight',
	'mainRate',
	'descentTime',
	'other'
] as const;

/** What each is measured in; anything for 'other'. */
const EXPECTED_IN: Record<(typeof EXPECTED_KINDS)[number], Dimension | null> = {
	apogee: 'length',
	timeToApogee: 'time',
	maxSpeed: 'speed',
	burnTime: 'time',
	drogueRate: 'speed',
	mainHeight: 'length',
	mainRate: 'speed',
	descentTime: 'time',
	other: null
};

/** One thing that was expected of the flight before it flew, and where the number came from. */
export const expectation = v.pipe(
	v.object({
		what: v.picklist(EXPECTED_KINDS),
		label: line,
		value: quantity('any', ''),
		source: line
	}),
	v.forward(
		v.partialCheck(
			[['what'], ['value']],
			({ what, value }) => {
				const dimension = EXPECTED_IN[what];
				return dimension === null || readUnit(value.unit, dimension).ok;
			},
			({ input: { what, value } }) =>
				value.unit === '1'
					? `Write the unit too, such as ${value.value} ${DIMENSIONS[EXPECTED_IN[what]!].metric}.`
					: `This needs ${DIMENSIONS[EXPECTED_IN[what]!].phrase}, not a value in ${value.unit}.`
		),
		['value']
	)
);
export type Expectation = v.InferOutput<typeof expectation>;

export const HAZARD_KINDS = [
	'charge',
	'igniter',
	'propellant',
	'cell',
	'pressurised',
	'hot',
	'sharp',
	'other'
] as const;

const hazardIn = <S extends v.GenericSchema<string>>(
	state: S,
	by: v.GenericSchema<string, string>,
	at: v.GenericSchema<string, string>
) =>
	v.object({
		what: requiredLine('Name it: which charge, which cell, which part.'),
		kind: v.picklist(HAZARD_KINDS),
		state,
		by,
		at,
		/** The found piece it sits in, so that the plan can show it. */
		evidence: v.nullable(id),
		note: text
	});

/**
 * One thing that can hurt the finder, how it stands, and who found or made it so, when.
 * [R1] Nothing is called safe without a name and a time: the next person will believe it.
 */
export const hazard = v.variant('state', [
	hazardIn(
		v.literal('safe'),
		requiredLine('Say who made it safe.'),
		v.pipe(v.string(), v.trim(), v.nonEmpty('Say when it was made safe.'), localTime)
	),
	hazardIn(v.picklist(['notKnown', 'notRecovered']), line, emptyOr(localTime, WRITE_TIME))
]);
export type Hazard = v.InferOutput<typeof hazard>;

/** One part of the vehicle as it flew, and what came back of it. */
export const part = v.object({
	name: requiredLine('Name the part.'),
	/** The same part in the vehicle's own list, when it came from there. */
	vehiclePart: v.nullable(id),
	group: line,
	description: text,
	mass: optionalQuantity('mass', 'g', { min: 0 }),
	/** Flights or firings on this part including this one; null: not counted. */
	uses: count,
	outcome: v.nullable(v.picklist(['recovered', 'missing', 'destroyed'])),
	next: v.nullable(v.picklist(['flyAgain', 'repair', 'test', 'retire', 'keepAsEvidence'])),
	note: text
});
export type Part = v.InferOutput<typeof part>;
