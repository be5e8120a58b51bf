import { investigationsOf } from '$lib/server/catalogue';
import { openInvestigation, openVehicle } from '$lib/server/cases';
import type { PageServerLoad } from './$types';

/** The vehicle that flew, for the parts list of its build, null where there is none that can be read; and what other flights of it taught. */
export const load: PageServerLoad = async ({ params }) => {
	const opened = await openInvestigation(params.id);
	const vehicle = opened.ok ? (opened.file.about['main']?.vehicle ?? null) : null;
	const read = vehicle === null ? null : await openVehicle(vehicle);
	const earlier = vehicle === null ? [] : await investigationsOf(vehicle);
	return {
		earlier: earlier.filter(
			({ id, learned }) =>
				id !== params.id &&
				learned !== undefined &&
				(learned.concluded.length > 0 || learned.changed.length > 0)
		),
		vehicle: vehicle !== null && read?.ok ? { id: vehicle, rev: read.rev, file: read.file } : null
	};
};
