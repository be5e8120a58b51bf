import { asChanges, beginInvestigation, partsAsFlown } from '$lib/investigation/start';
import { emptyVehicle, FORMAT_VERSION, type VehicleFile } from '$lib/investigation/case';
import type { Learned } from '$lib/investigation/views/learned';
import { type Outcome, refused } from '$lib/investigation/outcome';
import type { Part } from '$lib/investigation/schema/record';
import { freshIdentity, openVehicle } from './cases';
import { openStore } from './open-store';
import type { Change as StoredChange } from './storage/types';

export interface ListedInvestigation {
	id: string;
	time: string;
	title: string;
	vehicle: string;
	vehicleId: string | null;
	flownAt: string;
	evidence: string;
	anomalies: string;
	changes: string;
	notSafe: number;
	/** Missing in a list that was written before there was one. */
	learned?: Learned;
	problem?: string;
}

/** All investigations, the last changed first; one that can't be opened is listed with the reason. */
export async function listInvestigations(): Promise<ListedInvestigation[]> {
	const listed = await (await openStore()).list('investigations');
	return listed
		.map(({ id, time, summary, problem }) => ({
			...(summary as unknown as Omit<ListedInvestigation, 'id' | 'time'>),
			id: id.split('/')[1]!,
			time,
			...(problem === undefined ? {} : { problem })
		}))
		.sort((a, b) => b.time.localeCompare(a.time));
}

/** What is already known of a vehicle, the last flight first. */
export const investigationsOf = async (vehicle: string): Promise<ListedInvestigation[]> =>
	(await listInvestigations())
		.filter(({ vehicleId }) => vehicleId === vehicle)
		.sort((a, b) => b.flownAt.localeCompare(a.flownAt));

export async function listVehicles(): Promise<
	{ id: string; name: string; builds: { id: string; name: string }[] }[]
> {
	const listed = await (await openStore()).list('vehicles');
	return Promise.all(
		listed.map(async ({ id, summary }) => {
			const name = id.split('/')[1]!;
			const opened = await openVehicle(name);
			const builds = opened.ok
				? Object.entries(opened.file.builds).map(([build, { name }]) => ({ id: build, name }))
				: [];
			return { id: name, name: (summary['name'] as string | undefined) ?? name, builds };
		})
	);
}

/** Makes an investigation; a vehicle that is named for the first time gets its own file, with the build. */
export async function begin(form: Record<string, string>, who: string): Promise<Outcome<string>> {
	const store = await openStore();
	let vehicle = form['vehicle'] || null;
	let build = form['build'] || null;
	let vehicleName = form['vehicleName'] ?? '';
	let buildName = form['buildName'] ?? '';
	let parts: [string, Part][] = [];
	if (vehicle !== null) {
		const opened = await openVehicle(vehicle);
		if (!opened.ok) return refused(opened.refusal.message, 'vehicle');
		vehicleName = opened.file.vehicle['main']?.name ?? vehicleName;
		if (build !== null) {
			buildName = opened.file.builds[build]?.name ?? buildName;
			parts = partsAsFlown(opened.file, build, freshIdentity);
		}
	}
	const given = {
		title: form['title'] ?? '',
		vehicle,
		vehicleName,
		build,
		buildName,
		flownAt: form['flownAt'] ?? '',
		zoneMinutes: Number(form['zoneMinutes'] ?? 0)
	};
	const sound = beginInvestigation(given, parts);
	if (!sound.ok) return sound;
	if (who.trim() === '') return refused('Say who you are first: your name goes beside every change.', 'who');
	if (vehicle === null) {
		const made = await makeVehicle(vehicleName, buildName, who);
		if (!made.ok) return made;
		({ vehicle, build } = made.value);
	}
	const begun = beginInvestigation({ ...given, vehicle, build }, parts);
	if (!begun.ok) return begun;
	const id = await freeName('investigations', begun.value.title);
	const created = await store.create(
		`investigations/${id}`,
		{ who: who.trim(), operation: 'begin', args: { title: begun.value.title } },
		begun.value.changes as StoredChange[]
	);
	return created.ok ? { ok: true, value: id } : refused(created.error.message);
}

async function makeVehicle(
	name: string,
	buildName: string,
	who: string
): Promise<Outcome<{ vehicle: string; build: string | null }>> {
	const build = buildName === '' ? null : freshIdentity();
	const file: VehicleFile = {
		...emptyVehicle(),
		format: { main: { version: FORMAT_VERSION } },
		vehicle: { main: { name, description: '' } },
		builds: build === null ? {} : { [build]: { name: buildName, description: '', state: 'building' } }
	};
	const id = await freeName('vehicles', name);
	const created = await (
		await openStore()
	).create(
		`vehicles/${id}`,
		{ who: who.trim(), operation: 'vehicle.begin', args: { name } },
		asChanges(file) as StoredChange[]
	);
	return created.ok ? { ok: true, value: { vehicle: id, build } } : refused(created.error.message);
}

/** A folder name that a person recognises: the title in plain letters, with a number where it is taken. */
export async function freeName(kind: string, title: string): Promise<string> {
	const plain =
		title
			.normalize('NFKD')
			.toLowerCase()
			.replace(/[^a-z0-9]+/g, '-')
			.replace(/^-+|-+$/g, '')
			.slice(0, 60)
			.replace(/-+$/, '') || kind.slice(0, -1);
	const store = await openStore();
	const [current, archived] = await Promise.all([store.list(kind), store.list(kind, { archived: true })]);
	const taken = new Set([...current, ...archived].map(({ id }) => id));
	for (let n = 1; ; n++) {
		const name = n === 1 ? plain : `${plain}-${n}`;
		if (!taken.has(`${kind}/${name}`)) return name;
	}
}
