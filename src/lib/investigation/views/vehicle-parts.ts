import type { VehicleFile } from '../case';
import type { Clearance, VehiclePart } from '../schema/vehicle';

/** The parts of one build, by group and name. */
export function partsOf(file: VehicleFile, build: string): [string, VehiclePart][] {
	return Object.entries(file.parts)
		.filter(([, part]) => part.build === build)
		.sort(([, a], [, b]) => a.group.localeCompare(b.group) || a.name.localeCompare(b.name));
}

/** A part in one line, as it is kept with a clearance; how often it was used changes by flying alone. */
export const partLine = ({ name, description, mass }: VehiclePart): string =>
	[name, description, mass?.text].filter(Boolean).join(', ');

/** What was done to the parts list of a build since it was cleared, in words. */
export function partsSince(file: VehicleFile, clearance: Clearance): string[] {
	if (!clearance.parts) return [];
	const then = clearance.parts;
	const now = Object.fromEntries(partsOf(file, clearance.build).map(([id, part]) => [id, partLine(part)]));
	return [...new Set([...Object.keys(then), ...Object.keys(now)])].flatMap((id) =>
		then[id] === now[id]
			? []
			: then[id] === undefined
				? `“${now[id]}” was added`
				: now[id] === undefined
					? `“${then[id]}” was taken off`
					: `“${then[id]}” became “${now[id]}”`
	);
}
