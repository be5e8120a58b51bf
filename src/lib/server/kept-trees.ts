import type { OwnTree, ReadyTree } from '$lib/investigation/schema/ready-tree';
import { keepable } from '$lib/investigation/views/own-tree';
import { discreet } from '$lib/report/discretion';
import { investigationOf } from './case-rules';
import { openInvestigation, openVehicle } from './cases';
import { openStore } from './open-store';

/** What somebody kept, or left behind in an earlier investigation, to start a tree from. */
export interface Offered {
	title: string;
	takeIt: string;
	tree: ReadyTree;
	/** Of the vehicle that this investigation is about. */
	ofThisVehicle: boolean;
}
export interface KeptTrees {
	/** The vehicle that a tree of this investigation is kept with; null where it names none that is there. */
	vehicle: { id: string; name: string } | null;
	own: Offered[];
	/** Trees of this vehicle's earlier investigations, the last flight first. */
	earlier: Offered[];
}

/** Kept trees of all vehicles, those of this one first, and what earlier investigations of this vehicle thought of. */
export async function keptTrees(investigation: string): Promise<KeptTrees> {
	const here = await openInvestigation(investigation);
	const vehicle = here.ok ? (here.file.about['main']?.vehicle ?? null) : null;
	const own: Offered[] = [];
	let named: KeptTrees['vehicle'] = null;
	const store = await openStore();
	for (const { id: folder } of await store.list('vehicles')) {
		const id = folder.split('/')[1]!;
		const opened = await openVehicle(id);
		if (!opened.ok) continue;
		const name = opened.file.vehicle['main']?.name ?? id;
		if (id === vehicle) named = { id, name };
		for (const { title, takeIt, tree } of Object.values<OwnTree>(opened.file.trees))
			own.push({
				title,
				takeIt: [takeIt, id === vehicle ? '' : `Kept with ${name}.`].filter(Boolean).join(' '),
				tree,
				ofThisVehicle: id === vehicle
			});
	}
	own.sort((a, b) => Number(b.ofThisVehicle) - Number(a.ofThisVehicle) || a.title.localeCompare(b.title));
	return { vehicle: named, own, earlier: vehicle === null ? [] : await earlierTrees(vehicle, investigation) };
}

const MOST_EARLIER = 6;

async function earlierTrees(vehicle: string, but: string): Promise<Offered[]> {
	const store = await openStore();
	const listed = (await store.list('investigations'))
		.filter(({ id, summary }) => id !== `investigations/${but}` && summary['vehicleId'] === vehicle)
		.sort((a, b) => text(b.summary['flownAt']).localeCompare(text(a.summary['flownAt'])));
	const offered: Offered[] = [];
	for (const { id, summary } of listed) {
		if (offered.length >= MOST_EARLIER) break;
		const opened = await store.open(id);
		if (!opened.ok) continue;
		// What is planted elsewhere carries nobody's name and no place.
		const { file } = discreet(investigationOf(opened.value.state), [], { names: false, positions: false });
		for (const { top, title, number } of Object.values(file.anomalies)) {
			const tree = keepable(file, top);
			const from = `A${number} of ${text(summary['title'])}`;
			if (tree)
				offered.push({
					title,
					takeIt: `From ${from}; nothing decided or found comes along.`,
					tree,
					ofThisVehicle: true
				});
		}
	}
	return offered.slice(0, MOST_EARLIER);
}

const text = (value: unknown): string => (typeof value === 'string' ? value : '');
