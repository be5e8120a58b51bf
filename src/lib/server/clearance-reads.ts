import type { Investigation } from '$lib/investigation/case';
import { lookAgainWeighed } from '$lib/investigation/views/look-again';
import { type InvestigationRead, readOf } from '$lib/investigation/views/clearance';
import { investigationOf } from './case-rules';
import { openStore } from './open-store';
import type { JsonObject } from './storage/types';

/**
 * Every investigation that may hold a vehicle, read now. One that can't be read is in the list with the reason, for
 * nobody knows what it asks for; so is one that was put away, unless it is known to be of another vehicle.
 */
export async function readInvestigations(vehicle: string): Promise<InvestigationRead[]> {
	const store = await openStore();
	const reads: InvestigationRead[] = [];
	for (const { id: folder, summary, problem } of await store.list('investigations')) {
		const id = folder.split('/')[1]!;
		const opened = await store.open(folder);
		if (!opened.ok) {
			reads.push(unreadable(id, summary, problem ?? opened.error.message));
			continue;
		}
		const file = investigationOf(opened.value.state);
		const { rev } = opened.value;
		reads.push(
			file.about['main']?.vehicle === vehicle
				? readOf(id, rev, file, (anomaly) => againOf(id, rev, file).includes(anomaly))
				: readOf(id, rev, file, () => false)
		);
	}
	for (const { id, summary } of await store.list('investigations', { archived: true }))
		if (typeof summary['vehicleId'] !== 'string' || summary['vehicleId'] === vehicle)
			reads.push(
				unreadable(id.split('/')[1]!, summary, 'It was put away. Bring it back, so that it counts.')
			);
	return reads;
}

/** Weighing takes a while, so what came of it is kept until the investigation changes. */
const weighed = new Map<string, { rev: number; again: string[] }>();

function againOf(id: string, rev: number, file: Investigation): string[] {
	const before = weighed.get(id);
	if (before?.rev === rev) return before.again;
	const again = Object.keys(file.anomalies).filter((anomaly) => lookAgainWeighed(file, anomaly) !== null);
	weighed.set(id, { rev, again });
	return again;
}

const unreadable = (id: string, summary: JsonObject, problem: string): InvestigationRead => ({
	readable: false,
	id,
	title: typeof summary['title'] === 'string' && summary['title'] !== '' ? summary['title'] : id,
	problem
});
