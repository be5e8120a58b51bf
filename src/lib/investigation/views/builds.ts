import type { VehicleFile } from '../case';
import type { Build, Clearance } from '../schema/vehicle';
import { type Holding, type InvestigationRead, overtakenBy, standingClearance, whatHolds } from './clearance';
import { partsOf, partsSince } from './vehicle-parts';

/** One build as the vehicle's page lists it. */
export interface BuildRow extends Pick<Holding, 'holds' | 'toBeIn' | 'unsettled' | 'unreadable'> {
	id: string;
	build: Build;
	parts: number;
	/** Most uses of any of its parts; null where none is counted. */
	mostUses: number | null;
	standing: Clearance | null;
	/** What has come up since it was cleared. */
	overtaken: ReturnType<typeof overtakenBy>;
	/** Cleared, but something has come to hold it. */
	heldSince: boolean;
	/** What was done to its parts list since. */
	partsSince: readonly string[];
}

/** All builds, those that may still fly first, the newest of them first. */
export function buildRows(
	file: VehicleFile,
	vehicle: string,
	reads: readonly InvestigationRead[]
): BuildRow[] {
	const retired = ({ build }: BuildRow) => Number(build.state === 'retired');
	return Object.entries(file.builds)
		.map(([id, build]): BuildRow => {
			const parts = partsOf(file, id).map(([, part]) => part);
			const uses = parts.flatMap((part) => part.uses ?? []);
			const holding = whatHolds(vehicle, id, reads);
			const standing = standingClearance(file, id)?.[1] ?? null;
			const overtaken = standing ? overtakenBy(standing, holding) : { holds: [], toBeIn: [], unsettled: [] };
			const came = overtaken.holds.length + overtaken.toBeIn.length + holding.unreadable.length;
			return {
				id,
				build,
				parts: parts.length,
				mostUses: uses.length === 0 ? null : Math.max(...uses),
				holds: holding.holds,
				toBeIn: holding.toBeIn,
				unsettled: holding.unsettled,
				unreadable: holding.unreadable,
				standing,
				overtaken,
				heldSince: standing !== null && came > 0,
				partsSince: standing ? partsSince(file, standing) : []
			};
		})
		.sort((a, b) => retired(a) - retired(b) || b.id.localeCompare(a.id));
}
