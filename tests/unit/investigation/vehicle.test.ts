import { describe, expect, it } from 'vitest';
import { applyChanges, emptyVehicle, type VehicleFile } from '$lib/investigation/case';
import { operateVehicle } from '$lib/investigation/operations';
import type { Context } from '$lib/investigation/operations/operation';
import { partsOf } from '$lib/investigation/views/vehicle-parts';

let made = 0;
const context = (): Context => ({
	who: 'Ilse',
	now: '2026-05-18T09:00:00.000Z',
	newId: () => `new${++made}`
});

function did(file: VehicleFile, name: string, args: unknown): VehicleFile {
	const outcome = operateVehicle(file, name, args, context());
	if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
	return applyChanges(file, outcome.value);
}
function problems(file: VehicleFile, name: string, args: unknown): Record<string, string> {
	const outcome = operateVehicle(file, name, args, context());
	if (outcome.ok) throw new Error('this should have been refused');
	return Object.fromEntries(outcome.problems.map((p) => [p.field, p.message]));
}

const BUILD = { description: '', state: 'building' as const };
const part = (build: string, name: string, uses: number | null) => ({
	record: { build, name, group: '', description: '', mass: '120 g', uses }
});
function tern(): VehicleFile {
	const named = did(emptyVehicle(), 'vehicle.save', { record: { name: 'Tern', description: '' } });
	const file: VehicleFile = {
		...named,
		builds: { b1: { ...BUILD, name: 'build 1' }, b2: { ...BUILD, name: 'build 2' } }
	};
	return did(
		did(did(file, 'vehiclePart.save', part('b1', 'body tube', 3)), 'vehiclePart.save', part('b1', 'case', 7)),
		'vehiclePart.save',
		part('b1', 'paint', null)
	);
}
const uses = (file: VehicleFile, build: string) =>
	Object.fromEntries(partsOf(file, build).map(([, p]) => [p.name, p.uses]));

describe('vehicle, builds and parts', () => {
	it('renames', () => {
		const file = did(tern(), 'vehicle.save', { record: { name: 'Tern 2', description: 'longer' } });
		expect(file.vehicle['main']).toEqual({ name: 'Tern 2', description: 'longer' });
		expect(problems(tern(), 'vehicle.save', { record: { name: ' ', description: '' } })).toEqual({
			'record.name': 'Name the vehicle.'
		});
	});

	it('refuses two builds of one name', () => {
		expect(problems(tern(), 'build.save', { record: { ...BUILD, name: 'build 1' } })).toHaveProperty('name');
	});

	it('[V3] makes no build ready but by clearing it', () => {
		const ready = { ...BUILD, name: 'build 1', state: 'ready' };
		expect(problems(tern(), 'build.save', { id: 'b1', record: ready })).toHaveProperty('state');
		expect(problems(tern(), 'build.save', { record: { ...ready, name: 'build 3' } })).toHaveProperty('state');
	});

	it('refuses a part of no build', () => {
		expect(problems(tern(), 'vehiclePart.save', part('b9', 'fin', 0))).toHaveProperty('build');
	});

	it('copies a list: new parts have flown never, carried ones keep their count', () => {
		const anew = did(tern(), 'build.copyParts', { from: 'b1', to: 'b2', counts: 'new' });
		expect(uses(anew, 'b2')).toEqual({ 'body tube': 0, case: 0, paint: 0 });
		const carried = did(tern(), 'build.copyParts', { from: 'b1', to: 'b2', counts: 'carried' });
		expect(uses(carried, 'b2')).toEqual({ 'body tube': 3, case: 7, paint: null });
		expect(uses(carried, 'b1')).toEqual({ 'body tube': 3, case: 7, paint: null });
	});

	it('copies nothing twice', () => {
		const copied = did(tern(), 'build.copyParts', { from: 'b1', to: 'b2', counts: 'new' });
		expect(problems(copied, 'build.copyParts', { from: 'b1', to: 'b2', counts: 'new' })).toHaveProperty(
			'from'
		);
		expect(problems(tern(), 'build.copyParts', { from: 'b2', to: 'b1', counts: 'new' })['from']).toContain(
			'no parts list'
		);
	});

	it('takes parts that an investigation listed, each name once, and leaves what stands there', () => {
		const { build: _, ...bulkhead } = part('b1', 'bulkhead', 2).record;
		const given = [bulkhead, { ...bulkhead, name: 'Body Tube' }, { ...bulkhead, name: 'Bulkhead' }];
		const file = did(tern(), 'build.takeParts', { build: 'b1', parts: given });
		expect(uses(file, 'b1')).toEqual({ 'body tube': 3, bulkhead: 2, case: 7, paint: null });
		expect(problems(file, 'build.takeParts', { build: 'b1', parts: given })['parts']).toContain('already');
		expect(problems(file, 'build.takeParts', { build: 'b9', parts: given })).toHaveProperty('build');
	});

	it('counts a flight on every counted part of that build alone', () => {
		const file = did(tern(), 'build.flew', { build: 'b1', flight: 'flight 4' });
		expect(uses(file, 'b1')).toEqual({ 'body tube': 4, case: 8, paint: null });
		expect(problems(tern(), 'build.flew', { build: 'b2', flight: 'flight 1' })['flight']).toContain(
			'nothing to count'
		);
	});
});
