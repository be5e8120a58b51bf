import * as v from 'valibot';
import { attachment, conflict, evidence } from './schema/evidence';
import { anomaly, conclusion, exclusion, finding, observation, origin, treeEvent } from './schema/anomaly';
import { calculation } from './schema/calculation';
import { change } from './schema/change';
import { commonCause } from './schema/common-cause';
import { clock, timelineEntry } from './schema/places-and-times';
import { failureMode } from './schema/failure-mode';
import { prediction } from './schema/prediction';
import { about, expectation, hazard, part, site, weather } from './schema/record';
import { ownTree } from './schema/ready-tree';
import { setting } from './schema/setting';
import { build, clearance, vehicle, vehiclePart } from './schema/vehicle';

/** Raised with every change that older readers would misread; each step has its migration in migrations.ts. */
export const FORMAT_VERSION = 1;

const format = v.object({ version: v.pipe(v.number(), v.integer(), v.minValue(1)) });

/** An investigation is a handful of collections of records. Singletons have the one id 'main'. */
export const INVESTIGATION = {
	format,
	about,
	site,
	weather,
	expected: expectation,
	hazards: hazard,
	parts: part,
	clocks: clock,
	timeline: timelineEntry,
	attachments: attachment,
	evidence,
	conflicts: conflict,
	predictions: prediction,
	anomalies: anomaly,
	events: treeEvent,
	exclusions: exclusion,
	commonCauses: commonCause,
	settings: setting,
	findings: finding,
	origins: origin,
	calculations: calculation,
	conclusions: conclusion,
	observations: observation,
	failureModes: failureMode,
	changes: change
} as const;

/** A vehicle outlives its investigations: builds, parts, and who cleared what to fly. */
export const VEHICLE = {
	format,
	vehicle,
	builds: build,
	parts: vehiclePart,
	clearances: clearance,
	trees: ownTree
} as const;

type Schemas = Readonly<Record<string, v.GenericSchema>>;
type RecordsOf<S extends Schemas> = {
	readonly [C in keyof S]: Readonly<Record<string, v.InferOutput<S[C]>>>;
};

export type Investigation = RecordsOf<typeof INVESTIGATION>;
export type VehicleFile = RecordsOf<typeof VEHICLE>;
export type InvestigationCollection = keyof typeof INVESTIGATION;

/** What one operation does to one record; null means that there is none. */
export interface Change {
	collection: string;
	id: string;
	before: unknown;
	after: unknown;
}

export const emptyInvestigation = (): Investigation => empty(INVESTIGATION);
export const emptyVehicle = (): VehicleFile => empty(VEHICLE);

function empty<S extends Schemas>(schemas: S): RecordsOf<S> {
	return Object.fromEntries(Object.keys(schemas).map((name) => [name, {}])) as RecordsOf<S>;
}

/** The file with the changes applied. Copies only the collections that change, never the whole case. */
export function applyChanges<F extends Investigation | VehicleFile>(file: F, changes: readonly Change[]): F {
	const next: Record<string, Record<string, unknown>> = {
		...(file as Record<string, Record<string, unknown>>)
	};
	const copied = new Set<string>();
	for (const { collection, id, after } of changes) {
		if (!copied.has(collection)) {
			next[collection] = { ...next[collection] };
			copied.add(collection);
		}
		if (after === null) delete next[collection]![id];
		else next[collection]![id] = after;
	}
	return next as F;
}
