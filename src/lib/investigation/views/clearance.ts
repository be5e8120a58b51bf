import type { Investigation, VehicleFile } from '../case';
import type { Change } from '../schema/change';
import type { Clearance } from '../schema/vehicle';
import { holdsItsBuild } from './change-life';
import { listed } from './leading';
import { lookAgain } from './look-again';
import { partsAccount } from './parts';
import { asItStands, provesNoLonger } from './proof';

/** A change in one of these is shown to work. */
const VERIFIED: ReadonlySet<string> = new Set(['verified', 'flown', 'closed']);

/** An investigation that may name the vehicle, as it was read a moment ago; or why it could not be read. */
export type InvestigationRead =
	| ({
			readable: true;
			id: string;
			title: string;
			rev: number;
			/** Vehicle that the investigation is about. */
			vehicle: string | null;
			/** What the vehicle's page lists beside; clearing does not depend on it. */
			observations?: Investigation['observations'];
			/** By change, why its proof proves it no longer. */
			unproven?: Readonly<Record<string, string[]>>;
			/** Concluded anomalies that are to be looked at again. */
			again?: readonly string[];
			/** The build that flew, and its parts that nobody said may fly again. */
			flew?: { build: string | null; parts: number; notAgain: readonly string[] };
	  } & Pick<Investigation, 'changes' | 'anomalies' | 'conclusions' | 'hazards'>)
	| { readable: false; id: string; title: string; problem: string };

/**
 * What clearing a build needs to know of an investigation.
 * @param again  whether a concluded anomaly is to be looked at again; by default by the rules that need no weighing
 */
export function readOf(
	id: string,
	rev: number,
	file: Investigation,
	again = (anomaly: string) => lookAgain(file, anomaly) !== null
) {
	const { about, anomalies, conclusions, hazards, observations } = file;
	const { title = id, vehicle = null } = about['main'] ?? {};
	const kept = Object.entries(file.changes);
	const changes = Object.fromEntries(kept.map(([id, change]) => [id, asItStands(file, change)]));
	const unproven = Object.fromEntries(kept.map(([id, change]) => [id, provesNoLonger(file, change)]));
	const parts = partsAccount(file).rows;
	const flew = {
		build: about['main']?.build ?? null,
		parts: parts.length,
		notAgain: parts
			.filter(({ part, outcome }) => outcome !== 'recovered' || part.next !== 'flyAgain')
			.map(({ part }) => `“${part.name}”`)
	};
	const asks = {
		changes,
		unproven,
		anomalies,
		conclusions,
		hazards,
		flew,
		again: Object.keys(anomalies).filter(again)
	};
	return { readable: true, id, title, rev, vehicle, ...asks, observations } satisfies InvestigationRead;
}

/** A change that the build must have, and where it stands. */
export interface Hold {
	investigation: string;
	investigationTitle: string;
	changeId: string;
	change: Change;
	/** 'made, not verified', or that its proof no longer counts. */
	stands: string;
}

/** What no change answers yet, but nobody should fly past unawares. */
export interface Unsettled {
	investigation: string;
	investigationTitle: string;
	kind: Clearance['reasons'][number]['kind'];
	id: string;
	/** Such as 'A2 “Main stayed in its bag” is not concluded'. */
	words: string;
}

export interface Holding {
	/** Required and not verified. */
	holds: Hold[];
	/** Verified: whoever clears the build has found them built into it. */
	toBeIn: Hold[];
	/** Asks for a reason in words. */
	unsettled: Unsettled[];
	/** Nobody can say whether these hold the build, so they do. */
	unreadable: Extract<InvestigationRead, { readable: false }>[];
	/** Revision of each investigation that was read. */
	revisions: Record<string, number>;
}

/**
 * What keeps a build from being cleared to fly.
 * [V1] A required change holds each build it names, or every build where it names none, until it is verified.
 * [V2] An investigation that can't be read holds every build.
 * [V7] A change that is verified must also be built into it.
 * [V6] What is unsettled in an investigation of the vehicle asks, for every build, why it may fly all the same.
 */
export function whatHolds(vehicle: string, build: string, reads: readonly InvestigationRead[]): Holding {
	const holding: Holding = { holds: [], toBeIn: [], unsettled: [], unreadable: [], revisions: {} };
	for (const read of reads) {
		if (!read.readable) {
			holding.unreadable.push(read);
			continue;
		}
		holding.revisions[read.id] = read.rev;
		for (const [changeId, change] of byNumber(read.changes)) {
			const concerns =
				(change.vehicle ?? read.vehicle) === vehicle && (change.build === null || change.build === build);
			if (!concerns) continue;
			const list = holdsItsBuild(change) ? holding.holds : VERIFIED.has(change.state) ? holding.toBeIn : null;
			list?.push({
				investigation: read.id,
				investigationTitle: read.title,
				changeId,
				change,
				stands: standsWords(change, read.unproven?.[changeId])
			});
		}
		if (read.vehicle === vehicle) holding.unsettled.push(...unsettledIn(read, build));
	}
	return holding;
}

/** How many parts a sentence names. */
const NAMED = 4;

function cameDown(
	title: string,
	{ parts, notAgain }: { parts: number; notAgain: readonly string[] }
): string {
	const flew = `It is the build that flew in “${title}”`;
	if (parts === 0) return `${flew}; no parts are listed there, so nobody said which of them may fly again`;
	const more = notAgain.length - NAMED;
	const names = [...notAgain.slice(0, NAMED), ...(more > 0 ? [`${more} more`] : [])];
	return `${flew}; of its ${parts} ${parts === 1 ? 'part' : 'parts'} ${notAgain.length} ${notAgain.length === 1 ? 'is' : 'are'} not said to fly again: ${listed(names)}`;
}

const standsWords = ({ state }: Change, unproven: readonly string[] = []): string =>
	unproven.length > 0 ? `to be proved again: ${unproven.join(' ')}` : `${state}, not verified`;

/** Hazards first: they can hurt whoever prepares the next flight. An investigation just begun states no anomaly yet. */
function unsettledIn(read: Extract<InvestigationRead, { readable: true }>, build: string): Unsettled[] {
	const of = { investigation: read.id, investigationTitle: read.title };
	const anomalies = Object.entries(read.anomalies).sort(([, a], [, b]) => a.number - b.number);
	const { flew, again = [] } = read;
	return [
		...(flew?.build === build && (flew.parts === 0 || flew.notAgain.length > 0)
			? [{ ...of, kind: 'build' as const, id: 'main', words: cameDown(read.title, flew) }]
			: []),
		...Object.entries(read.hazards)
			.filter(([, { state }]) => state !== 'safe')
			.map(([id, { what, state }]) => ({
				...of,
				kind: 'hazard' as const,
				id,
				words: `“${what}” is ${state === 'notRecovered' ? 'not recovered' : 'not known safe'}`
			})),
		...anomalies
			.filter(([id]) => (read.conclusions[id]?.state ?? 'open') === 'open')
			.map(([id, { number, title }]) => ({
				...of,
				kind: 'anomaly' as const,
				id,
				words: `A${number} “${title}” is not concluded`
			})),
		...anomalies
			.filter(([id]) => again.includes(id))
			.map(([id, { number, title }]) => ({
				...of,
				kind: 'anomaly' as const,
				id,
				words: `A${number} “${title}” was concluded, but is to be looked at again`
			})),
		...(anomalies.length > 0
			? []
			: [
					{
						...of,
						kind: 'investigation' as const,
						id: 'main',
						words: `“${read.title}” states no anomaly yet`
					}
				])
	];
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

/** What has come up since the build was cleared and was neither accepted by name nor answered then. */
export function overtakenBy(
	clearance: Clearance,
	holding: Holding
): Pick<Holding, 'holds' | 'toBeIn' | 'unsettled'> {
	const { waivers, built = [] } = clearance;
	return {
		toBeIn: holding.toBeIn.filter(
			(hold) => hold.change.required && !isWaived(waivers, hold) && !isWaived(built, hold)
		),
		holds: holding.holds.filter((hold) => !isWaived(clearance.waivers, hold)),
		// A clearance of before there were reasons has none.
		unsettled: holding.unsettled.filter((thing) => !isAnswered(clearance.reasons ?? [], thing))
	};
}

/** Whether a change is among those whose risk was accepted, or that were found built in. */
export const isWaived = (
	named: readonly { investigation: string; change: string }[],
	hold: Pick<Hold, 'investigation' | 'changeId'>
): boolean => named.some((w) => w.investigation === hold.investigation && w.change === hold.changeId);

type Thing = Pick<Unsettled, 'investigation' | 'kind' | 'id'>;
/** Says which thing is meant, as the field of a problem does. */
export const keyOf = ({ investigation, kind, id }: Thing): string => `reasons ${investigation} ${kind} ${id}`;
/** The same of a change that is to be built in. */
export const builtKey = ({ investigation, change }: { investigation: string; change: string }): string =>
	`built ${investigation} ${change}`;
export const isAnswered = (reasons: readonly Thing[], thing: Thing): boolean =>
	reasons.some((reason) => keyOf(reason) === keyOf(thing));
