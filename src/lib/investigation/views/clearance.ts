import type { Investigation, VehicleFile } from '../case';
import type { Change } from '../schema/change';
import type { Clearance, VehiclePart } from '../schema/vehicle';
import { holdsItsBuild } from './change-life';

/** An investigation that may name the vehicle, as it was read a moment ago; or why it could not be read. */
export type InvestigationRead =
	| {
			readable: true;
			id: string;
			title: string;
			rev: number;
			/** Vehicle that the investigation is about. */
			vehicle: string | null;
			changes: Investigation['changes'];
			/** What the vehicle's page lists beside; clearing does not depend on it. */
			observations?: Investigation['observations'];
	  }
	| { readable: false; id: string; title: string; problem: string };

/** A required change that is not verified yet, and where it stands. */
export interface Hold {
	investigation: string;
	investigationTitle: string;
	changeId: string;
	change: Change;
}

export interface Holding {
	holds: Hold[];
	/** Nobody can say whether these hold the build, so they do. */
	unreadable: Extract<InvestigationRead, { readable: false }>[];
	/** Revision of each investigation that was read. */
	revisions: Record<string, number>;
}

/**
 * What keeps a build from being cleared to fly.
 * [V1] A required change holds each build it names, or every build where it names none, until it is verified.
 * [V2] An investigation that can't be read holds every build.
 */
export function whatHolds(vehicle: string, build: string, reads: readonly InvestigationRead[]): Holding {
	const holding: Holding = { holds: [], unreadable: [], revisions: {} };
	for (const read of reads) {
		if (!read.readable) {
			holding.unreadable.push(read);
			continue;
		}
		holding.revisions[read.id] = read.rev;
		for (const [changeId, change] of byNumber(read.changes)) {
			const concerns =
				(change.vehicle ?? read.vehicle) === vehicle && (change.build === null || change.build === build);
			if (concerns && holdsItsBuild(change))
				holding.holds.push({ investigation: read.id, investigationTitle: read.title, changeId, change });
		}
	}
	return holding;
}

/** An observation to be watched on the next flight of a vehicle. */
export interface Watched {
	investigation: string;
	investigationTitle: string;
	number: number;
	statement: string;
}

/** What the investigations of a vehicle noticed beside their anomalies and want watched. */
export const toWatch = (vehicle: string, reads: readonly InvestigationRead[]): Watched[] =>
	reads.flatMap((read) =>
		!read.readable || read.vehicle !== vehicle
			? []
			: Object.values(read.observations ?? {})
					.filter(({ watch }) => watch)
					.sort((a, b) => a.number - b.number)
					.map(({ number, statement }) => ({
						investigation: read.id,
						investigationTitle: read.title,
						number,
						statement
					}))
	);

const byNumber = (changes: Investigation['changes']) =>
	Object.entries(changes).sort(([, a], [, b]) => a.number - b.number);

/** The clearances of a build, newest first. */
export function clearancesOf(file: VehicleFile, build: string): [string, Clearance][] {
	return Object.entries(file.clearances)
		.filter(([, clearance]) => clearance.build === build)
		.sort(([, a], [, b]) => b.at.localeCompare(a.at));
}

/** The clearance on which the build may fly now: the newest, neither withdrawn nor used up by a flight. */
export function standingClearance(file: VehicleFile, build: string): [string, Clearance] | null {
	const newest = clearancesOf(file, build)[0];
	return newest && !newest[1].withdrawn && !newest[1].flown ? newest : null;
}

/** What has come to hold the build since it was cleared and was not accepted by name then. */
export function overtakenBy(clearance: Clearance, holding: Holding): Holding['holds'] {
	return holding.holds.filter((hold) => !isWaived(clearance.waivers, hold));
}

export const isWaived = (waivers: Clearance['waivers'], hold: Hold): boolean =>
	waivers.some((w) => w.investigation === hold.investigation && w.change === hold.changeId);

/** The parts of one build, by group and name. */
export function partsOf(file: VehicleFile, build: string): [string, VehiclePart][] {
	return Object.entries(file.parts)
		.filter(([, part]) => part.build === build)
		.sort(([, a], [, b]) => a.group.localeCompare(b.group) || a.name.localeCompare(b.name));
}
