import { describe, expect, it } from 'vitest';
import { citables, cited, citedWords } from '$lib/investigation/views/citations';
import {
	evidenceList,
	firstHour,
	firstStepsOpen,
	looseFiles,
	missingOf
} from '$lib/investigation/views/evidence-list';
import { standing } from '$lib/investigation/views/standing';
import { usesOf } from '$lib/investigation/views/uses';
import { absence, circle, file, piece, reading, statement, test, Workbench } from './workbench';

const at = (text: string) => ({ kind: 'typed', typed: text, circle });
const from = (item: string, distance = '2 m') => ({
	kind: 'bearing',
	from: item,
	distance,
	bearingDeg: '90',
	reference: 'true',
	bearingPlusMinusDeg: null
});

describe('numbers of evidence', () => {
	it('[E1] are given by the tool, whatever the form says, and run on', () => {
		const bench = new Workbench();
		const [a] = bench.do('evidence.add', { record: piece({ number: 40 }) });
		const [b] = bench.do('evidence.add', { record: statement() });
		expect(bench.file.evidence[a!]?.number).toBe(1);
		expect(bench.file.evidence[b!]?.number).toBe(2);
	});

	it('[E1] stay with a withdrawn item and are not given again', () => {
		const bench = new Workbench();
		const [a] = bench.do('evidence.add', { record: piece() });
		bench.do('evidence.withdraw', { id: a, reason: 'from another flight' });
		const [b] = bench.do('evidence.add', { record: piece() });
		expect(bench.file.evidence[b!]?.number).toBe(2);
	});
});

describe('correcting an item', () => {
	it('needs a reason and keeps number and kind', () => {
		const bench = new Workbench();
		const [a] = bench.do('evidence.add', { record: piece() });
		expect(bench.refuse('evidence.correct', { id: a, record: piece(), reason: ' ' })).toEqual({
			field: 'reason',
			message: 'Say why it is corrected; the earlier version stays beside it.'
		});
		bench.do('evidence.correct', { id: a, record: piece({ mass: '218 g' }), reason: 'weighed again' });
		expect(bench.file.evidence[a!]).toMatchObject({ number: 1, mass: { value: 218, unit: 'g' } });
		expect(bench.refuse('evidence.correct', { id: a, record: statement(), reason: 'x' }).field).toBe('kind');
	});

	it('that changes nothing is refused rather than written to the history', () => {
		const bench = new Workbench();
		const [a] = bench.do('evidence.add', { record: piece() });
		expect(bench.refuse('evidence.correct', { id: a, record: piece(), reason: 'again' }).message).toContain(
			'Nothing is different'
		);
	});

	it('[E2] never touches the words of a statement, nor who said them', () => {
		const bench = new Workbench();
		const [a] = bench.do('evidence.add', { record: statement() });
		const change = (more: object) => ({ id: a, record: statement(more), reason: 'she remembers more' });
		expect(bench.refuse('evidence.correct', change({ words: 'A bang.' })).field).toBe('words');
		expect(bench.refuse('evidence.correct', change({ from: 'first spotter' })).field).toBe('from');
		bench.do('evidence.correct', change({ trust: 'moderate' }));
		expect(bench.file.evidence[a!]?.trust).toBe('moderate');
	});
});

describe('withdrawing an item', () => {
	it('[E6] keeps it, with reason, name and time, and takes it out of what is missing', () => {
		const bench = new Workbench();
		const [a] = bench.do('evidence.add', { record: piece() });
		bench.do('evidence.withdraw', { id: a, reason: 'from another flight' });
		expect(bench.file.evidence[a!]?.withdrawn).toEqual({
			reason: 'from another flight',
			by: 'Ada',
			at: '2031-05-18T09:00:00.000Z'
		});
		expect(evidenceList(bench.file)[0]?.missing).toEqual([]);
		bench.do('evidence.bringBack', { id: a, reason: 'it is ours after all' });
		expect(bench.file.evidence[a!]?.withdrawn).toBeNull();
	});

	it('[E6] is refused while a position, a hazard or a moment rests on it, and says which', () => {
		const bench = new Workbench();
		const [body] = bench.do('evidence.add', { record: piece({ position: at('45.76 N, 4.83 E') }) });
		const [ring] = bench.do('evidence.add', { record: piece({ title: 'Ring', position: from(body!) }) });
		const refused = bench.refuse('evidence.withdraw', { id: body, reason: 'wrong' });
		expect(refused.message).toContain('The position of E2 "Ring" rests on E1');
		bench.do('evidence.withdraw', { id: ring, reason: 'not ours' });
		expect(usesOf(bench.file, body!)).toMatchObject([{ holds: false }]);
		bench.do('evidence.withdraw', { id: body, reason: 'wrong' });
		// Nothing comes back that would be measured from a withdrawn item.
		expect(bench.refuse('evidence.bringBack', { id: ring, reason: 'ours' }).field).toBe('position.from');
	});

	it('is not held up by a conflict, which is often settled by it', () => {
		const bench = new Workbench();
		const [a] = bench.do('evidence.add', { record: statement() });
		const [b] = bench.do('evidence.add', { record: statement() });
		bench.do('conflict.save', {
			record: {
				between: [a, b],
				what: 'One heard two bangs, one heard none.',
				owner: 'Ada',
				state: 'unresolved',
				resolution: ''
			}
		});
		bench.do('evidence.withdraw', { id: a, reason: 'was not there' });
		expect(usesOf(bench.file, a!)).toMatchObject([{ holds: false }]);
	});
});

describe('positions of evidence', () => {
	it('[E3] are never measured in a circle, over any number of items', () => {
		const bench = new Workbench();
		const [a] = bench.do('evidence.add', { record: piece({ position: at('45.76 N, 4.83 E') }) });
		const [b] = bench.do('evidence.add', { record: piece({ position: from(a!) }) });
		const [c] = bench.do('evidence.add', { record: piece({ position: from(b!) }) });
		const refused = bench.refuse('evidence.correct', {
			id: a,
			record: piece({ position: from(c!) }),
			reason: 'taped'
		});
		expect(refused.field).toBe('position.from');
		expect(refused.message).toContain('E3 is itself placed from this item');
	});

	it.each([
		['95 N, 4.8 E', /beyond the pole/],
		['45.76 N, 200 E', /out of range/],
		['by the big tree', /latitude and a longitude/]
	])('"%s" is refused beside the field', (typed, message) => {
		const refused = new Workbench().refuse('evidence.add', { record: piece({ position: at(typed) }) });
		expect(refused.field).toBe('record.position');
		expect(refused.message).toMatch(message);
	});

	it('a distance in kilograms is refused, and says what a length looks like', () => {
		const refused = new Workbench().refuse('evidence.add', {
			record: piece({ position: from('pad', '3 kg') })
		});
		expect(refused.field).toBe('record.position.distance');
		expect(refused.message).toMatch(/length/);
	});

	it('[E4] from a photo must be the one in its tag', () => {
		const bench = new Workbench();
		const [photo] = bench.do('attachment.add', { record: file() });
		const place = (latitudeDeg: number) => ({
			kind: 'photo',
			attachment: photo,
			latitudeDeg,
			longitudeDeg: 4.8357,
			circle
		});
		expect(bench.refuse('evidence.add', { record: piece({ position: place(46) }) }).field).toBe('position');
		bench.do('evidence.add', { record: piece({ position: place(45.7626) }) });
	});
});

describe('what the kinds insist on', () => {
	it('a recorder wired to charges is not powered: the reading is refused', () => {
		const refused = new Workbench().refuse('evidence.add', { record: reading({ wiredToCharges: 'yes' }) });
		expect(refused.field).toBe('record.wiredToCharges');
		expect(refused.message).toContain('Never power a recorder that is still wired to charges');
	});

	it('[E5] a test that destroys something says why, and what can’t be examined after it', () => {
		const bench = new Workbench();
		const refused = (more: object) =>
			bench.refuse('evidence.add', { record: test({ reversible: 'no', ...more }) });
		expect(refused({}).field).toBe('record.purpose');
		expect(refused({ purpose: 'see the bond line' }).field).toBe('record.makesImpossible');
		bench.do('evidence.add', {
			record: test({ reversible: 'no', purpose: 'see the bond line', makesImpossible: 'a pull test' })
		});
		bench.do('evidence.add', { record: test() });
	});

	it('a chance of having seen it above 1 is refused', () => {
		expect(new Workbench().refuse('evidence.add', { record: absence({ detection: '120 %' }) }).field).toBe(
			'record.detection'
		);
	});

	it('without saying whether it was observed, reported, derived or assumed it is refused', () => {
		const refused = new Workbench().refuse('evidence.add', { record: piece({ basis: '' }) });
		expect(refused.field).toBe('record.basis');
		expect(refused.message).toMatch(/^Say whether this was observed, reported/);
	});

	it('text with markup is kept as the text it is', () => {
		const bench = new Workbench();
		const title = '<img src=x onerror=alert(1)> & "nose"';
		const [a] = bench.do('evidence.add', { record: piece({ title }) });
		expect(bench.file.evidence[a!]?.title).toBe(title);
	});
});

describe('files', () => {
	it('[E8] the same bytes are kept once', () => {
		const bench = new Workbench();
		bench.do('attachment.add', { record: file() });
		expect(bench.refuse('attachment.add', { record: file({ name: 'copy.jpg' }) }).message).toContain(
			'kept already, as "nose.jpg"'
		);
	});

	it('are loose until an item names them', () => {
		const bench = new Workbench();
		const [photo] = bench.do('attachment.add', { record: file() });
		expect(looseFiles(bench.file)).toEqual([photo]);
		const [a] = bench.do('evidence.add', { record: piece() });
		bench.do('evidence.attach', { id: a, attachments: [photo] });
		expect(looseFiles(bench.file)).toEqual([]);
		expect(bench.refuse('evidence.attach', { id: a, attachments: [photo] }).field).toBe('attachments');
		expect(bench.refuse('evidence.attach', { id: a, attachments: ['nowhere'] }).field).toBe('attachments');
	});
});

describe('conflicts', () => {
	it('[E7] are between two items and are resolved in words', () => {
		const bench = new Workbench();
		const [a] = bench.do('evidence.add', { record: statement() });
		const [b] = bench.do('evidence.add', { record: reading() });
		const record = { between: [a, b], what: 'heights', owner: '', state: 'unresolved', resolution: '' };
		expect(bench.refuse('conflict.save', { record: { ...record, between: [a, a] } }).field).toBe('between');
		expect(bench.refuse('conflict.save', { record: { ...record, state: 'resolved' } }).field).toBe(
			'resolution'
		);
		const [id] = bench.do('conflict.save', { record });
		bench.do('conflict.save', { id, record: { ...record, state: 'resolved', resolution: 'units mixed up' } });
		expect(Object.values(bench.file.conflicts)).toMatchObject([{ state: 'resolved' }]);
	});
});

describe('the list', () => {
	it('flags what each kind lacks, and says how far from the pad an item lies', () => {
		const bench = new Workbench();
		bench.do('site.save', {
			record: { ...bench.file.site['main'], pad: at('45.76 N, 4.83 E'), declinationDeg: '2 W' }
		});
		bench.do('evidence.add', { record: piece({ position: from('pad', '500 ft') }) });
		bench.do('evidence.add', { record: statement() });
		const [first, second] = evidenceList(bench.file);
		expect(first?.fromPad?.distanceM).toBeCloseTo(152.4, 6);
		expect(first?.fromPad?.bearingDeg).toBeCloseTo(90, 6);
		expect(first?.missing).toEqual(['time', 'photo']);
		expect(second?.missing).toEqual(['time']);
		expect(missingOf(bench.file, second!.item)).toEqual(['time']);
	});

	it('a photo lacks scale and view until they are said; a piece has the photo that names it', () => {
		const bench = new Workbench();
		const photo = (more: object) => ({
			...piece(),
			kind: 'photo',
			subject: '',
			view: '',
			scale: '',
			moved: 'beforeMoved',
			...more
		});
		const [nose] = bench.do('evidence.add', { record: piece() });
		bench.do('evidence.add', { record: photo({ view: 'from the north' }) });
		expect(evidenceList(bench.file).map((row) => row.missing)).toEqual([
			['place', 'time', 'photo'],
			['place', 'time', 'photo', 'scale']
		]);
		const [close] = bench.do('evidence.add', { record: photo({ scale: 'ruler, 15 cm', shows: nose }) });
		expect(evidenceList(bench.file)[0]?.missing).toEqual(['place', 'time']);
		expect(evidenceList(bench.file)[2]?.missing).toEqual(['place', 'time', 'photo', 'view']);
		// The piece leads to its photo, and may be withdrawn all the same: the photo does not rest on it.
		expect(usesOf(bench.file, nose!)).toMatchObject([{ href: `evidence/${close}`, holds: false }]);
		bench.do('evidence.withdraw', { id: nose, reason: 'of another flight' });
	});

	it('[E9] a photo shows a found piece and nothing else', () => {
		const bench = new Workbench();
		const [words] = bench.do('evidence.add', { record: statement() });
		const photo = { ...piece(), kind: 'photo', subject: '', view: '', scale: '', moved: 'notKnown' };
		for (const shows of [words, 'nowhere'])
			expect(bench.refuse('evidence.add', { record: { ...photo, shows } }).field).toBe('shows');
	});

	it('the first hour is ticked off by what has been kept', () => {
		const bench = new Workbench();
		const open = () => firstHour(bench.file).filter((step) => !step.done).length;
		expect(open()).toBe(7);
		bench.do('evidence.add', { record: statement() });
		bench.do('evidence.add', { record: reading() });
		bench.do('evidence.add', { record: absence() });
		expect(open()).toBe(4);
	});

	it('what of the first hour does not apply is set aside and taken up again; making safe is not', () => {
		const bench = new Workbench();
		bench.do('evidence.add', { record: piece({ position: null }) });
		expect(standing(bench.file).evidence.words).toBe('1 item, 1 without position, 7 first steps open');
		bench.do('firstHour.setAside', { step: 'recorder', aside: true });
		expect(firstStepsOpen(bench.file)).toBe(6);
		expect(firstHour(bench.file)[2]).toMatchObject({ done: false, aside: true });
		bench.do('evidence.add', { record: reading() });
		expect(firstHour(bench.file)[2]).toMatchObject({ done: true, aside: false });
		bench.do('firstHour.setAside', { step: 'recorder', aside: false });
		expect(firstStepsOpen(bench.file)).toBe(6);
		expect(bench.refuse('firstHour.setAside', { step: 'makeSafe', aside: true }).field).toBe('step');
	});
});

describe('a withdrawn item', () => {
	it('is not offered to be cited, and is marked where it was cited before', () => {
		const bench = new Workbench();
		const [nose, words] = [
			bench.do('evidence.add', { record: piece() })[0]!,
			bench.do('evidence.add', { record: statement() })[0]!
		];
		const offered = () => citables(bench.file, 'a1').map(({ id }) => id);
		expect(offered()).toEqual([nose, words]);
		bench.do('evidence.withdraw', { id: nose, reason: 'of another flight' });
		expect(offered()).toEqual([words]);
		expect(citedWords(cited(bench.file, nose)!)).toBe('E1 Nose, dented on one side (withdrawn)');
	});
});
