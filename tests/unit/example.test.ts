import { createReadStream, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import { beforeAll, expect, test } from 'vitest';
import { calculationById } from '$lib/calculations/registry';
import { runCalculation } from '$lib/calculations/run';
import { applyChanges, type Investigation } from '$lib/investigation/case';
import { checkWhole } from '$lib/investigation/check';
import { operate } from '$lib/investigation/operations';
import { EVIDENCE_KINDS } from '$lib/investigation/schema/evidence';
import { changeFollows, standsInTheWay } from '$lib/investigation/views/closure';
import { readOf, whatHolds } from '$lib/investigation/views/clearance';
import { positions } from '$lib/investigation/views/positions';
import { importArchive } from '$lib/server/archive/import';
import { investigationOf, rules, vehicleOf } from '$lib/server/case-rules';
import { photoFacts } from '$lib/server/files/photo-facts';
import { MemoryStore } from '$lib/server/storage/memory-store';
import { asWeighed } from '../../scripts/example/weighed';

const ZIP = join(import.meta.dirname, '../../examples/lantern-2-flight-3.zip');
const store = new MemoryStore(rules);
let file: Investigation;
let rev: number;

beforeAll(async () => {
	const taken = await importArchive(store, createReadStream(ZIP));
	expect(taken).toMatchObject({ ok: true, value: { notes: [] } });
	const opened = await store.open('investigations/lantern-2-flight-3');
	if (!opened.ok) throw new Error(opened.error.message);
	file = investigationOf(opened.value.state);
	rev = opened.value.rev;
});

test('it is small enough to come along, and whole', () => {
	expect(statSync(ZIP).size).toBeLessThan(6e6);
	expect(checkWhole('investigations', file)).toEqual([]);
});

test('every room has something in it: all kinds of evidence and of positions, a withdrawn item, a conflict', () => {
	const items = Object.values(file.evidence);
	expect(items.length).toBeGreaterThanOrEqual(20);
	for (const kind of EVIDENCE_KINDS) expect(items.some((item) => item.kind === kind)).toBe(true);
	const from = items.flatMap(({ position }) =>
		position ? [position.kind === 'bearing' && position.from === 'pad' ? 'pad' : position.kind] : []
	);
	expect(new Set(from)).toEqual(new Set(['typed', 'photo', 'bearing', 'pad']));
	expect(items.filter(({ withdrawn }) => withdrawn)).toHaveLength(1);
	expect(Object.values(file.conflicts)).toHaveLength(1);
	expect(Object.values(file.hazards).every(({ state }) => state === 'safe')).toBe(true);
	expect(file.weather['main']!.wind.length).toBeGreaterThan(8);
	expect(positions(file).size).toBeGreaterThan(8);
	const gates = new Set(Object.values(file.events).map(({ gate }) => gate?.type));
	for (const type of ['or', 'and', 'atLeast', 'inhibit'] as const) expect(gates).toContain(type);
});

test('each conclusion has nothing in its way, and its words fit its weights', () => {
	const ends = Object.entries(file.anomalies).map(([id]) => {
		const givenAll = asWeighed(file, id);
		const way = standsInTheWay(file, id, { givenAll, contradiction: null });
		expect([...way.filter(({ blocks }) => blocks), ...changeFollows(file, id)]).toEqual([]);
		for (const [event, { anomaly, disposition }] of Object.entries(file.events)) {
			if (anomaly !== id || disposition.weightThen === null) continue;
			const now = givenAll[event]!;
			expect(now).toBeCloseTo(disposition.weightThen, 4);
			if (disposition.state === 'established') expect(now).toBeGreaterThan(0.95);
			if (disposition.state === 'likely') expect(now).toBeGreaterThan(0.55);
			if (disposition.state === 'unlikely') expect(now).toBeLessThan(0.45);
			if (disposition.state.startsWith('ruledOut')) expect(now).toBeLessThan(0.05);
		}
		return file.conclusions[id]!.state;
	});
	expect(ends).toEqual(['probableCause', 'probableCause', 'established', 'undetermined']);
	expect(file.conclusions['a4']!.nextTest).not.toBe('');
});

test('the fin: parted while the motor burned leads, landing is out; without the falls it would not be so plain', () => {
	const { 'a1-10': boost, 'a1-20': coast, 'a1-50': landing } = asWeighed(file, 'a1');
	expect(boost).toBeGreaterThan(0.9);
	expect(coast).toBeLessThan(0.3);
	expect(landing).toBeLessThan(0.01);
	const unused = Object.fromEntries(
		Object.entries(file.calculations).map(([id, run]) => [
			id,
			{ ...run, likelihood: run.likelihood && { ...run.likelihood, use: false } }
		])
	);
	expect(asWeighed({ ...file, calculations: unused }, 'a1')['a1-10']).toBeLessThan(boost!);
});

test('each stored calculation comes out again to the last digit', () => {
	for (const [id, run] of Object.entries(file.calculations)) {
		const { inputs, observed, scenarios, seed, samples, sources } = run;
		const fresh = runCalculation(calculationById(run.calculation)!, {
			inputs,
			seed,
			samples,
			...(Object.keys(observed).length > 0 ? { observed } : {}),
			...(scenarios.length > 0 ? { scenarios } : {})
		});
		if (!fresh.ok) throw new Error(`${id}: ${fresh.error.message}`);
		const result: unknown = JSON.parse(JSON.stringify(fresh.value));
		const args = { id, inputs, observed, scenarios, seed, samples, sources, result };
		const again = operate(file, 'calculation.rerun', args, { now: '', who: 'test', newId: () => 'x' });
		if (!again.ok) throw new Error(JSON.stringify(again.problems));
		expect(applyChanges(file, again.value).calculations[id]).toEqual(run);
	}
});

test('the pictures carry time, zone and position of their own, and say that they are drawings', () => {
	const zip = unzipSync(new Uint8Array(readFileSync(ZIP)));
	const photos = Object.values(file.attachments).filter(({ kind }) => kind === 'photo');
	expect(photos.length).toBeGreaterThanOrEqual(6);
	for (const { sha256, taken, name } of photos) {
		const bytes = zip[`files/${sha256}.jpg`]!;
		const facts = photoFacts(bytes);
		expect(facts.problems, name).toEqual([]);
		expect([facts.localTime, facts.zoneMinutes]).toEqual([taken!.localTime, -60]);
		expect(facts.position?.latitudeDeg).toBe(taken!.latitude);
		expect(Buffer.from(bytes).includes('Drawn for the example')).toBe(true);
	}
});

test('an item was corrected with its earlier version kept, and a hazard was not known safe at first', async () => {
	const lines = await store.history('investigations/lantern-2-flight-3', 1, rev);
	if (!lines.ok) throw new Error(lines.error.message);
	expect(lines.value.filter(({ operation }) => operation === 'evidence.correct').length).toBeGreaterThan(0);
	const states = lines.value
		.flatMap(({ changes }) => changes)
		.filter(({ collection, id }) => collection === 'hazards' && id === 'h-main-2')
		.map(({ after }) => after?.['state']);
	expect(states).toEqual(['notKnown', 'safe']);
});

test('changes stand in different states, and the one that was reopened holds the third airframe', async () => {
	const states = Object.values(file.changes).map(({ state }) => state);
	expect(states).toEqual(['verified', 'reopened', 'closed', 'accepted', 'made', 'rejected']);
	const opened = await store.open('vehicles/lantern-2');
	if (!opened.ok) throw new Error(opened.error.message);
	const { clearances } = vehicleOf(opened.value.state);
	expect(Object.values(clearances).some(({ withdrawn, build }) => withdrawn && build === 'airframe-3')).toBe(
		true
	);
	const { holds, unsettled } = whatHolds('lantern-2', 'airframe-3', [readOf('x', rev, file)]);
	expect(holds.map(({ change }) => change.number)).toEqual([2]);
	expect(unsettled).toEqual([]);
});
