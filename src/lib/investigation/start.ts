import * as v from 'valibot';
import {
	type Change,
	emptyInvestigation,
	FORMAT_VERSION,
	type Investigation,
	type VehicleFile
} from './case';
import { type Outcome, done, refused } from './outcome';
import { problemsOf } from './operations/operation';
import { emptyOr, id, localTime, requiredLine } from './schema/common';
import type { Part } from './schema/record';

/** What a person gives to begin: the rest comes in the rooms. */
export const beginning = v.object({
	title: requiredLine('Give the investigation a title, such as the vehicle and the flight.'),
	vehicleName: requiredLine('Name the vehicle.'),
	vehicle: v.nullable(id),
	buildName: v.pipe(v.string(), v.trim(), v.maxLength(300)),
	build: v.nullable(id),
	flownAt: emptyOr(localTime),
	zoneMinutes: v.pipe(v.number(), v.integer(), v.minValue(-840), v.maxValue(840))
});

/** The parts of a build as it flew, frozen into the investigation: each counts one use more. */
export function partsAsFlown(file: VehicleFile, build: string, newId: () => string): [string, Part][] {
	return Object.entries(file.parts)
		.filter(([, part]) => part.build === build)
		.map(([vehiclePart, { name, group, description, mass, uses }]) => [
			newId(),
			{
				name,
				group,
				description,
				mass,
				vehiclePart,
				uses: uses === null ? null : uses + 1,
				outcome: null,
				next: null,
				note: ''
			}
		]);
}

/** First records of a new investigation, with the parts of the build where the vehicle is known. */
export function beginInvestigation(
	given: unknown,
	parts: readonly [string, Part][]
): Outcome<{ title: string; changes: Change[] }> {
	const read = v.safeParse(beginning, given);
	if (!read.success) return { ok: false, problems: problemsOf(read.issues) };
	const { title, vehicle, vehicleName, build, buildName, flownAt, zoneMinutes } = read.output;
	if (build !== null && vehicle === null) return refused('Choose the vehicle of this build.', 'vehicle');
	const file: Investigation = {
		...emptyInvestigation(),
		format: { main: { version: FORMAT_VERSION } },
		about: {
			main: {
				title,
				vehicle,
				vehicleName,
				build,
				buildName,
				flownAt,
				zoneMinutes,
				launchDirection: null,
				padChanges: '',
				note: ''
			}
		},
		site: {
			main: {
				name: '',
				pad: null,
				elevation: null,
				declinationDeg: null,
				ownersLeave: 'notKnown',
				powerLines: 'notKnown',
				water: 'notKnown',
				fireRisk: 'notKnown',
				accessNote: '',
				told: []
			}
		},
		weather: {
			main: {
				surfaceTemperature: null,
				surfacePressure: null,
				pressureIs: 'atSite',
				heightsAre: 'abovePad',
				fromReference: 'true',
				wind: [],
				speedSpread: 0.25,
				directionSpreadDeg: 15,
				sounding: null,
				source: '',
				note: ''
			}
		},
		parts: Object.fromEntries(parts)
	};
	return done({ title, changes: asChanges(file) });
}

/** Every record of a file as a change that puts it there. */
export function asChanges(file: Investigation | VehicleFile): Change[] {
	return Object.entries(file as Record<string, Record<string, unknown>>).flatMap(([collection, records]) =>
		Object.entries(records).map(([recordId, after]) => ({ collection, id: recordId, before: null, after }))
	);
}
