import { describe, expect, it } from 'vitest';
import { emptyVehicle, type VehicleFile } from '$lib/investigation/case';
import { notInTheList, partsAccount, unaccounted } from '$lib/investigation/views/parts';
import { standing } from '$lib/investigation/views/standing';
import { absence, piece, Workbench } from './workbench';

const part = (name: string, more: object = {}) => ({
	name,
	vehiclePart: null,
	group: '',
	description: '',
	mass: '',
	uses: '',
	outcome: null,
	next: null,
	note: '',
	...more
});

describe('what came back of each part', () => {
	it('counts recovered, missing, destroyed and not said', () => {
		const b = new Workbench();
		b.do('part.addSeveral', {
			records: [
				part('nose', { outcome: 'recovered' }),
				part('fin', { outcome: 'missing', uses: '3' }),
				part('liner', { outcome: 'destroyed', mass: '40 g' }),
				part('tether')
			]
		});
		expect(partsAccount(b.file).counts).toEqual({ recovered: 1, missing: 1, destroyed: 1, notSaid: 1 });
		expect(Object.values(b.file.parts).map((p) => p.uses)).toEqual([null, 3, null, null]);
	});

	it('says where the parts list and the evidence do not fit', () => {
		const b = new Workbench();
		const [fin] = b.do('part.add', { record: part('fin', { outcome: 'missing' }) });
		expect(partsAccount(b.file).rows[0]?.doubt).toBe('Nobody has recorded a search for it.');
		b.do('evidence.add', { record: absence({ parts: [fin] }) });
		expect(partsAccount(b.file).rows[0]?.doubt).toBeNull();
		b.do('evidence.add', { record: piece({ parts: [fin] }) });
		expect(partsAccount(b.file).rows[0]?.doubt).toBe('E2 is a found piece of it. Is it all missing?');
	});

	it('a part that a found piece names is accounted for, until somebody says otherwise or it is withdrawn', () => {
		const b = new Workbench();
		const [fin] = b.do('part.add', { record: part('fin') });
		b.do('part.add', { record: part('tether') });
		expect(unaccounted(b.file)).toBe(2);
		const [found] = b.do('evidence.add', { record: piece({ parts: [fin] }) });
		expect(unaccounted(b.file)).toBe(1);
		expect(partsAccount(b.file).rows[0]).toMatchObject({ outcome: 'recovered', items: [{ number: 1 }] });
		expect(standing(b.file).record.words).toBe('2 parts, 1 unaccounted for');
		b.do('part.outcome', { id: fin, outcome: 'destroyed' });
		expect(partsAccount(b.file).rows[0]?.outcome).toBe('destroyed');
		b.do('part.outcome', { id: fin, outcome: null });
		b.do('evidence.withdraw', { id: found, reason: 'of another flight' });
		expect(unaccounted(b.file)).toBe(2);
		expect(partsAccount(b.file).rows[0]?.outcome).toBe('notSaid');
	});

	it('[R3] a part with a found piece is not called missing', () => {
		const b = new Workbench();
		const [fin] = b.do('part.add', { record: part('fin') });
		b.do('evidence.add', { record: piece({ parts: [fin] }) });
		expect(b.refuse('part.outcome', { id: fin, outcome: 'missing', next: null }).field).toBe('outcome');
		b.do('part.outcome', { id: fin, outcome: 'recovered', next: 'repair' });
	});

	it.each([
		['missing', 'flyAgain'],
		['missing', 'test'],
		['destroyed', 'flyAgain'],
		['destroyed', 'repair']
	])('[R4] %s and "%s" do not go together', (outcome, next) => {
		const b = new Workbench();
		const [fin] = b.do('part.add', { record: part('fin') });
		expect(b.refuse('part.outcome', { id: fin, outcome, next }).field).toBe('next');
	});

	it.each(['2.5', '-1', 'two'])('a use count of "%s" is refused beside the field', (uses) => {
		expect(new Workbench().refuse('part.add', { record: part('fin', { uses }) })).toEqual({
			field: 'record.uses',
			message: 'Enter a whole number, 0 or more.'
		});
	});

	it('a part that evidence names is not removed', () => {
		const b = new Workbench();
		const [fin] = b.do('part.add', { record: part('fin') });
		b.do('evidence.add', { record: piece({ parts: [fin] }) });
		expect(b.refuse('part.remove', { id: fin }).message).toContain('E1');
	});
});

describe('parts that the vehicle’s list lacks', () => {
	const listed = (name: string, uses: number | null, build = 'b1') => ({
		build,
		name,
		group: '',
		description: '',
		mass: null,
		uses
	});
	const vehicle = (fin: number): VehicleFile => ({
		...emptyVehicle(),
		parts: { v1: listed('fin', fin), v2: listed('Tether', null), v3: listed('bulkhead', 1, 'b2') }
	});
	const missing = (fin: number) => {
		const b = new Workbench();
		b.do('part.addSeveral', {
			records: [
				part('fin', { vehiclePart: 'v1', uses: '4' }),
				part('tether', { uses: '2' }),
				part('bulkhead', { uses: '1', mass: '88 g' }),
				part('tape'),
				part('chips', { outcome: 'missing' })
			]
		});
		return notInTheList(b.file, vehicle(fin), 'b1').map(({ name, uses, mass }) => [name, uses, mass?.value]);
	};

	it('are those of another name in the list of that very build, what is gone left out', () => {
		expect(missing(4)).toEqual([
			['bulkhead', 1, 88],
			['tape', null, undefined]
		]);
	});
	it('have the uses from before the flight while nobody has counted it there', () => {
		expect(missing(3)[0]).toEqual(['bulkhead', 0, 88]);
	});
});
