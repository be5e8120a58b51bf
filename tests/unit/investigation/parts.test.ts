import { describe, expect, it } from 'vitest';
import { partsAccount } from '$lib/investigation/views/parts';
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
