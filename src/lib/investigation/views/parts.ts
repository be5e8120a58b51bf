import type { Investigation, VehicleFile } from '../case';
import type { VehiclePart } from '../schema/vehicle';
import { partsOf } from './vehicle-parts';
import type { Part } from '../schema/record';

export type Outcome = 'recovered' | 'missing' | 'destroyed' | 'notSaid';

export interface PartRow {
	id: string;
	part: Part;
	/** What was said of it; where nothing was, a found piece of it says that it is recovered. */
	outcome: Outcome;
	/** Items of evidence that name the part and still count, by number. */
	items: { id: string; number: number; kind: string; title: string }[];
	/** What is recorded of the part and of the evidence does not fit together, in words. */
	doubt: string | null;
}

export interface PartsAccount {
	rows: PartRow[];
	counts: Record<Outcome, number>;
}

/** How many parts nobody has accounted for: neither said what came back of them, nor found a piece of them. */
export function unaccounted(file: Investigation): number {
	const pieces = Object.values(file.evidence).filter((e) => e.kind === 'piece' && !e.withdrawn);
	const found = new Set(pieces.flatMap((piece) => piece.parts));
	return Object.entries(file.parts).filter(([id, { outcome }]) => outcome === null && !found.has(id)).length;
}

/** Every part of the vehicle as it flew against what came back of it. */
export function partsAccount(file: Investigation): PartsAccount {
	const counts: PartsAccount['counts'] = { recovered: 0, missing: 0, destroyed: 0, notSaid: 0 };
	const rows = Object.entries(file.parts).map(([id, part]): PartRow => {
		const items = Object.entries(file.evidence)
			.filter(([, e]) => !e.withdrawn && e.parts.includes(id))
			.map(([itemId, { number, kind, title }]) => ({ id: itemId, number, kind, title }))
			.sort((a, b) => a.number - b.number);
		const found = items.find((item) => item.kind === 'piece');
		const outcome = part.outcome ?? (found ? 'recovered' : 'notSaid');
		counts[outcome]++;
		const absent = items.find((item) => item.kind === 'absence');
		const doubt =
			outcome === 'missing' && found
				? `E${found.number} is a found piece of it. Is it all missing?`
				: outcome === 'recovered' && absent
					? `E${absent.number} says that it was looked for and not found.`
					: outcome === 'missing' && !absent
						? 'Nobody has recorded a search for it.'
						: null;
		return { id, part, outcome, items, doubt };
	});
	const group = (row: PartRow) => row.part.group;
	rows.sort((a, b) => group(a).localeCompare(group(b)) || a.part.name.localeCompare(b.part.name));
	return { rows, counts };
}

/**
 * Parts as flown that the vehicle's list of that build lacks, as they would stand in it; what is gone does not. Uses there are those before
 * this flight until somebody has counted it, which the parts that came from the list show.
 */
export function notInTheList(
	file: Investigation,
	vehicle: VehicleFile,
	build: string
): Omit<VehiclePart, 'build'>[] {
	const listed = new Set(partsOf(vehicle, build).map(([, { name }]) => name.toLowerCase()));
	const parts = Object.values(file.parts);
	const counted = parts.some(({ vehiclePart, uses }) => {
		const now = vehiclePart === null ? null : (vehicle.parts[vehiclePart]?.uses ?? null);
		return now !== null && uses !== null && now >= uses;
	});
	return parts
		.filter(({ vehiclePart, outcome, name }) => {
			const isGone = outcome === 'missing' || outcome === 'destroyed';
			return vehiclePart === null && !isGone && !listed.has(name.toLowerCase());
		})
		.map(({ name, group, description, mass, uses }) => ({
			name,
			group,
			description,
			mass,
			uses: uses === null || counted ? uses : Math.max(0, uses - 1)
		}));
}
