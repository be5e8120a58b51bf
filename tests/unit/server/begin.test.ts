import { beforeEach, expect, it } from 'vitest';
import { beginInvestigation } from '$lib/investigation/start';
import { rules } from '$lib/server/case-rules';
import { doOperation, openInvestigation, openVehicle } from '$lib/server/cases';
import { begin } from '$lib/server/catalogue';
import { MemoryStore } from '$lib/server/storage/memory-store';

beforeEach(() => {
	(globalThis as Record<symbol, unknown>)[Symbol.for('witness-mark.store')] = Promise.resolve(
		new MemoryStore(rules)
	);
});

const form = (more: Record<string, string>) => ({
	title: 'Harrier 2, second flight',
	flownAt: '2031-05-17 14:02',
	zoneMinutes: '120',
	...more
});

async function begun(more: Record<string, string>) {
	const made = await begin(form(more), 'Ada');
	if (!made.ok) throw new Error(JSON.stringify(made.problems));
	const opened = await openInvestigation(made.value);
	if (!opened.ok) throw new Error(opened.refusal.message);
	return opened.file;
}

/** Does one operation on the vehicle; the identity of the record that it changed. */
async function alter(operation: string, args: unknown): Promise<string> {
	const opened = await openVehicle('harrier-2');
	if (!opened.ok) throw new Error(opened.refusal.message);
	const did = await doOperation('vehicles', 'harrier-2', operation, args, {
		who: 'Ada',
		baseRev: opened.rev
	});
	if (!did.ok) throw new Error(JSON.stringify(did.problems));
	return did.changes[0]!.id;
}

/** A vehicle with two builds; the first has a tube that flew twice and a fin whose flights nobody counted. */
async function vehicle() {
	const first = (await begun({ vehicleName: 'Harrier 2', buildName: 'build 1' })).about['main']!.build!;
	const other = await alter('build.save', {
		record: { name: 'build 2', description: '', state: 'building' }
	});
	const part = (build: string, name: string, uses: number | null) => ({
		record: { build, name, group: 'airframe', description: '', mass: '212 ± 1 g', uses }
	});
	const tube = await alter('vehiclePart.save', part(first, 'body tube', 2));
	await alter('vehiclePart.save', part(first, 'fin', null));
	await alter('vehiclePart.save', part(other, 'nose of the other build', 0));
	return { first, tube, part };
}

it('takes over the parts of the build that flew, and counts this flight', async () => {
	const { first, tube } = await vehicle();
	const file = await begun({ vehicle: 'harrier-2', build: first });
	expect(file.about['main']).toMatchObject({
		vehicle: 'harrier-2',
		vehicleName: 'Harrier 2',
		build: first,
		buildName: 'build 1',
		flownAt: '2031-05-17T14:02'
	});
	const parts = Object.values(file.parts).sort((a, b) => a.name.localeCompare(b.name));
	expect(parts).toMatchObject([
		{ name: 'body tube', vehiclePart: tube, uses: 3, mass: { value: 212, plusMinus: 1 }, outcome: null },
		{ name: 'fin', uses: null, outcome: null }
	]);
	expect(Object.keys(file.parts)).not.toContain(tube);
});

it('is frozen: what is changed, added or taken off in the vehicle’s list later changes nothing here', async () => {
	const { first, tube, part } = await vehicle();
	const made = await begin(form({ vehicle: 'harrier-2', build: first }), 'Ada');
	if (!made.ok) throw new Error(JSON.stringify(made.problems));
	const parts = async () => {
		const opened = await openInvestigation(made.value);
		return opened.ok ? structuredClone(opened.file.parts) : null;
	};
	const asFlown = await parts();
	await alter('vehiclePart.save', { id: tube, ...part(first, 'body tube, repaired', 7) });
	await alter('vehiclePart.save', part(first, 'new coupler', 0));
	await alter('vehiclePart.remove', { id: tube });
	expect(await parts()).toEqual(asFlown);
});

it('a vehicle named for the first time brings no parts; a build without its vehicle is refused', async () => {
	expect((await begun({ vehicleName: 'Harrier 2', buildName: 'build 1' })).parts).toEqual({});
	const given = {
		title: 'x',
		vehicle: null,
		vehicleName: 'Harrier 2',
		build: 'b1',
		buildName: '',
		flownAt: '',
		zoneMinutes: 0
	};
	expect(beginInvestigation(given, [])).toMatchObject({ ok: false, problems: [{ field: 'vehicle' }] });
});

it('shows what somebody else did meanwhile where it is why something is refused', async () => {
	const { first } = await vehicle();
	const before = await openVehicle('harrier-2');
	if (!before.ok) throw new Error(before.refusal.message);
	await alter('build.save', { id: first, record: { name: 'build 1', description: '', state: 'retired' } });
	const asked = { build: first, by: 'Ada', waivers: [], note: '' };
	const did = await doOperation('vehicles', 'harrier-2', 'clearance.clear', asked, {
		who: 'Ada',
		baseRev: before.rev
	});
	expect(did).toMatchObject({
		ok: false,
		status: 400,
		current: { rev: before.rev + 1, file: { builds: { [first]: { state: 'retired' } } } }
	});
});
