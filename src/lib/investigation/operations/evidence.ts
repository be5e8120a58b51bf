import * as v from 'valibot';
import type { Change, Investigation } from '../case';
import { done, refused } from '../outcome';
import { id, ids, requiredLine } from '../schema/common';
import { attachment, conflict, type Evidence, evidence, type EvidenceOf } from '../schema/evidence';
import { wouldCircle } from '../views/positions';
import { hasResult, isTest } from '../views/predictions';
import { saidBy } from '../views/proof';
import { usesOf } from '../views/uses';
import { operation } from './operation';
import { ASKS_FOR_PREDICTION, unsaid } from './prediction';
import { nextNumber, put, recordOperations } from './records';

const GONE = 'This item is not there.';

/** What a person writes of an item; number and withdrawal are kept by the tool. */
const record = v.pipe(
	v.record(v.string(), v.unknown(), 'An item of evidence is expected here.'),
	v.transform((given) => ({ ...given, number: 1, withdrawn: null })),
	evidence
);
const whole = v.pipe(
	record,
	// Told together with what the fields by themselves lack, so that nobody is refused twice.
	v.rawCheck<Evidence>(({ dataset: { value }, addIssue }) => {
		const item = value as Partial<EvidenceOf<'test'>>;
		if (item.kind !== 'test') return;
		const say = (key: keyof typeof item, message: string) =>
			addIssue({
				message,
				path: [{ type: 'object', origin: 'value', input: { ...item }, key, value: item[key] }]
			});
		// [E5] What can't be taken back is done for a written purpose, knowing what it costs.
		if (item.reversible === 'no' && !item.purpose)
			say('purpose', 'This can’t be taken back, so say first what it is done for.');
		if (item.reversible === 'no' && !item.makesImpossible)
			say('makesImpossible', 'Say what can’t be examined any more after it; write "nothing" if so.');
		if (item.result || item.value) for (const { field, message } of unsaid(item)) say(field, message);
	})
);

const written = v.config(whole, { abortPipeEarly: false });

/** Why an item can't be kept as it is written, or null. */
function fault(file: Investigation, itemId: string, item: Evidence) {
	const { position, at } = item;
	if (position?.kind === 'bearing' && position.from !== 'pad') {
		const from = file.evidence[position.from];
		if (!from || from.withdrawn)
			return refused('Choose an item that still counts to measure from.', 'position.from');
		// [E3] A place that is measured from itself, over however many items, is nowhere.
		if (wouldCircle(file, itemId, position.from))
			return refused(
				`E${from.number} is itself placed from this item, so neither would lie anywhere. Measure one of them from the pad or give its coordinates.`,
				'position.from'
			);
	}
	if (position?.kind === 'photo') {
		// [E4] A place said to come from a photo is the place in its tag, not another.
		const taken = file.attachments[position.attachment]?.taken;
		if (taken?.latitude !== position.latitudeDeg || taken.longitude !== position.longitudeDeg)
			return refused(
				'That photo does not carry this position. Take it from the photo again, or type it.',
				'position'
			);
	}
	if (at?.kind === 'clock' && !file.clocks[at.clock])
		return refused('Choose the clock that this time was read on.', 'at.clock');
	if (item.attachments.some((a) => !file.attachments[a]))
		return refused('A file named here has not arrived. Add it again.', 'attachments');
	if (item.parts.some((p) => !file.parts[p]))
		return refused('A part named here is not in the parts list.', 'parts');
	// [E9] What a photo shows of the evidence is a found piece; parts, places and people are said in words.
	if (item.kind === 'photo' && item.shows && file.evidence[item.shows]?.kind !== 'piece')
		return refused('Choose a found piece that is in the picture.', 'shows');
	if (item.kind === 'test' && item.proves && !file.changes[item.proves])
		return refused('Choose a change that is there.', 'proves');
	return null;
}

const add = operation({
	name: 'evidence.add',
	label: 'Added an item of evidence',
	args: v.object({ id: v.optional(id), record: written }),
	apply: (file: Investigation, { id: given, record }, { newId }) => {
		const itemId = given ?? newId();
		if (file.evidence[itemId]) return refused('An item with this identity is there already.');
		// [E10] A test that comes with its result was not predicted here: why not?
		if (isTest(record) && hasResult(record) && record.noPrediction === '')
			return refused(ASKS_FOR_PREDICTION, 'noPrediction');
		// [E1] The tool gives the number, the next after the highest ever kept here: withdrawn items keep theirs.
		const item = { ...record, number: nextNumber(file.evidence) };
		return fault(file, itemId, item) ?? done([put(file, 'evidence', itemId, item)]);
	}
});

const correct = operation({
	name: 'evidence.correct',
	label: 'Corrected an item of evidence',
	args: v.object({
		id,
		record: written,
		reason: requiredLine('Say why it is corrected; the earlier version stays beside it.')
	}),
	apply: (file: Investigation, { id: itemId, record }, { who, now }) => {
		const before = file.evidence[itemId];
		if (!before) return refused(GONE);
		if (before.withdrawn) return refused('This item is withdrawn. Bring it back first, then correct it.');
		if (before.kind !== record.kind)
			return refused('An item stays of its kind. Withdraw it and add another.', 'kind');
		// [E2] Words once written down are locked: what was said later is another statement.
		if (before.kind === 'statement' && record.kind === 'statement') {
			if (record.words !== before.words)
				return refused(
					'The words stay as they were written down. Add what was said later as a new statement.',
					'words'
				);
			if (record.from !== before.from)
				return refused('Who said it stays. Withdraw the statement and add it again if it is wrong.', 'from');
		}
		// [E10] A result comes in by its own name, beside its prediction, and does not go out again.
		if (isTest(before) && isTest(record) && hasResult(before) !== hasResult(record))
			return refused(
				hasResult(before)
					? 'A result that is in stays. Correct its words or its value, or withdraw the item.'
					: 'Enter the result with “Enter the result”, where it stands beside what was predicted.',
				'result'
			);
		const item = { ...record, number: before.number };
		const kept = isTest(before) && before.corrected ? { ...item, corrected: before.corrected } : item;
		if (JSON.stringify(kept) === JSON.stringify(before)) return refused('Nothing is different from before.');
		const faulty = fault(file, itemId, item);
		if (faulty) return faulty;
		const said = saidBy(file, itemId);
		if (said === '' || said === saidBy({ evidence: { [itemId]: item } }, itemId))
			return done([put(file, 'evidence', itemId, kept)]);
		const corrected = isTest(item) ? { ...item, corrected: { by: who.trim(), at: now } } : item;
		return done([put(file, 'evidence', itemId, corrected), ...askedAgain(file, itemId, said)]);
	}
});

/** [S12] What rests on an item keeps what it said, so that it is looked at again. */
function askedAgain(file: Investigation, itemId: string, said: string): Change[] {
	const remember = <T extends { said?: Record<string, string> | undefined }>(record: T): T => ({
		...record,
		said: { [itemId]: said, ...record.said }
	});
	const signs = Object.entries(file.findings).filter(
		([, { evidence, state }]) => state !== 'notExamined' && evidence.includes(itemId)
	);
	const cites = [itemId, ...signs.map(([id]) => id)];
	return [
		...signs.map(([id, finding]) => put(file, 'findings', id, remember(finding))),
		...Object.entries(file.events)
			.filter(([, { disposition }]) => disposition.cites.some((id) => cites.includes(id)))
			.map(([id, event]) => put(file, 'events', id, { ...event, disposition: remember(event.disposition) }))
	];
}

const attach = operation({
	name: 'evidence.attach',
	label: 'Added files to an item of evidence',
	args: v.object({ id, attachments: v.pipe(ids, v.minLength(1, 'Choose a file.')) }),
	apply: (file: Investigation, { id: itemId, attachments }) => {
		const before = file.evidence[itemId];
		if (!before) return refused(GONE);
		const added = attachments.filter((a) => !before.attachments.includes(a));
		if (added.length === 0) return refused('These files are with this item already.', 'attachments');
		const item = { ...before, attachments: [...before.attachments, ...added] };
		return fault(file, itemId, item) ?? done([put(file, 'evidence', itemId, item)]);
	}
});

/** [E6] Nothing is deleted: what should not count is withdrawn with its reason, and nothing may still rest on it. */
const withdraw = operation({
	name: 'evidence.withdraw',
	label: 'Withdrew an item of evidence',
	args: v.object({ id, reason: requiredLine('Say why it no longer counts.') }),
	apply: (file: Investigation, { id: itemId, reason }, { who, now }) => {
		const item = file.evidence[itemId];
		if (!item) return refused(GONE);
		if (item.withdrawn) return refused('This item is withdrawn already.');
		const use = usesOf(file, itemId).find((u) => u.holds);
		if (use)
			return refused(
				`${use.words} rests on E${item.number}. Take it off there first, so that nothing rests on a withdrawn item.`
			);
		return done([put(file, 'evidence', itemId, { ...item, withdrawn: { reason, by: who.trim(), at: now } })]);
	}
});

const bringBack = operation({
	name: 'evidence.bringBack',
	label: 'Brought back a withdrawn item of evidence',
	args: v.object({ id, reason: requiredLine('Say why it counts again.') }),
	apply: (file: Investigation, { id: itemId }) => {
		const item = file.evidence[itemId];
		if (!item) return refused(GONE);
		if (!item.withdrawn) return refused('This item is not withdrawn.');
		const back = { ...item, withdrawn: null };
		return fault(file, itemId, back) ?? done([put(file, 'evidence', itemId, back)]);
	}
});

/** [E8] The bytes are already kept under their SHA-256 (the server refuses a hash it does not hold); once is enough. */
const addAttachment = operation({
	name: 'attachment.add',
	label: 'Added a file',
	args: v.object({ id: v.optional(id), record: attachment }),
	apply: (file: Investigation, { id: given, record }, { newId }) => {
		const same = Object.values(file.attachments).find((a) => a.sha256 === record.sha256);
		if (same) return refused(`This file is kept already, as "${same.name}".`, 'sha256');
		const attachmentId = given ?? newId();
		if (file.attachments[attachmentId]) return refused('A file with this identity is there already.');
		return done([put(file, 'attachments', attachmentId, record)]);
	}
});

/** [E7] A conflict is between two different items, and is resolved in words, never by deleting one of them. */
const saveConflict = operation({
	name: 'conflict.save',
	label: 'Recorded that two items cannot both be true',
	args: v.object({ id: v.optional(id), record: conflict }),
	apply: (file: Investigation, { id: given, record }, { newId }) => {
		const [a, b] = record.between;
		if (!file.evidence[a] || !file.evidence[b]) return refused('Choose two items of evidence.', 'between');
		if (a === b) return refused('Choose two different items.', 'between');
		if (record.state === 'resolved' && record.resolution === '')
			return refused('Say how it was resolved.', 'resolution');
		if (given && !file.conflicts[given]) return refused('This conflict is no longer there.');
		return done([put(file, 'conflicts', given ?? newId(), record)]);
	}
});

export const evidenceOps = [
	add,
	correct,
	attach,
	withdraw,
	bringBack,
	addAttachment,
	saveConflict,
	...recordOperations('conflicts', 'conflict', 'a conflict').filter((op) => op.name === 'conflict.remove')
];
