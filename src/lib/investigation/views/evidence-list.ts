import { emptyInvestigation, type Investigation } from '../case';
import type { Attachment, Evidence, EvidenceKind } from '../schema/evidence';
import type { FIRST_STEPS } from '../schema/record';
import { hasResult, isTest, standingPrediction } from './predictions';
import { type Apart, apart, positions } from './positions';

export const EVIDENCE_WORDS: Record<EvidenceKind, { one: string; many: string }> = {
	piece: { one: 'found piece', many: 'found pieces' },
	photo: { one: 'photo', many: 'photos' },
	reading: { one: 'reading', many: 'readings' },
	measurement: { one: 'measurement', many: 'measurements' },
	statement: { one: 'statement', many: 'statements' },
	test: { one: 'test', many: 'tests' },
	absence: { one: 'absence', many: 'absences' }
};

export const MISSING = ['place', 'time', 'photo', 'scale', 'view'] as const;
export type Missing = (typeof MISSING)[number];

/** What an item of each kind should carry; the rest is welcome and not missed. */
const EXPECTED: Record<EvidenceKind, readonly Missing[]> = {
	piece: ['place', 'time', 'photo'],
	photo: ['place', 'time', 'photo', 'scale', 'view'],
	reading: ['time', 'photo'],
	measurement: ['time', 'photo'],
	statement: ['time'],
	test: ['time', 'photo'],
	absence: ['place', 'time']
};

/** One line of the evidence list. */
export interface EvidenceRow {
	id: string;
	item: Evidence;
	/** From the pad; null where the item has no place or the pad has none. */
	fromPad: Apart | null;
	missing: Missing[];
	/** The attachment to show small, or null. */
	picture: string | null;
}

/** True where a copy for the screen can be made of a file; HEVC pictures of phones can't be decoded here. */
export const canBeShown = ({ kind, type, width }: Attachment): boolean =>
	kind === 'photo' && width !== null && !/^image\/hei[cf]/.test(type);

/** Attachments of an item that can be shown. */
export const picturesOf = (file: Investigation, item: Evidence): string[] =>
	item.attachments.filter((id) => {
		const attachment = file.attachments[id];
		return attachment !== undefined && canBeShown(attachment);
	});

/** Photos that say that they show this piece, by number; withdrawn ones left out. */
export const photosOf = (file: Investigation, piece: string): string[] =>
	Object.entries(file.evidence)
		.filter(([, e]) => e.kind === 'photo' && e.shows === piece && !e.withdrawn)
		.sort(([, a], [, b]) => a.number - b.number)
		.map(([id]) => id);

/**
 * What an item lacks of place, time and photo, and a photo of scale and view. A piece may have its photo as an
 * item of its own, which names it: `id` is that of the item. Nothing is refused for it; nothing is
 * accepted in silence either.
 */
export function missingOf(file: Investigation, item: Evidence, id = ''): Missing[] {
	const has: Record<Missing, boolean> = {
		place: item.position !== null,
		time: item.at !== null,
		photo:
			item.attachments.some((a) => ['photo', 'video'].includes(file.attachments[a]?.kind ?? '')) ||
			(item.kind === 'piece' && photosOf(file, id).length > 0),
		scale: item.kind === 'photo' && item.scale !== '',
		view: item.kind === 'photo' && item.view !== ''
	};
	if (isTest(item) && !hasResult(item)) return [];
	return EXPECTED[item.kind].filter((what) => !has[what]);
}

/** How far a test has come that has no result yet; '' for anything else. */
export const waitsFor = (file: Investigation, id: string): string => {
	const item = file.evidence[id];
	if (!isTest(item) || hasResult(item) || item.withdrawn) return '';
	return standingPrediction(file, id) ? 'locked, waits for its result' : 'to be done';
};

/** The whole register, by number, withdrawn items included. */
export function evidenceList(file: Investigation): EvidenceRow[] {
	const placed = positions(file);
	return Object.entries(file.evidence)
		.sort(([, a], [, b]) => a.number - b.number)
		.map(([id, item]) => ({
			id,
			item,
			fromPad: placed.has(id) ? apart(file, 'pad', id, placed) : null,
			missing: item.withdrawn ? [] : missingOf(file, item, id),
			picture: picturesOf(file, item)[0] ?? null
		}));
}

/** Files that no item names yet. */
export function looseFiles(file: Investigation): string[] {
	const named = new Set(Object.values(file.evidence).flatMap((item) => item.attachments));
	const sounding = file.weather['main']?.sounding;
	return Object.keys(file.attachments).filter((id) => !named.has(id) && id !== sounding);
}

/** One thing to keep in the first hour, in the order in which it perishes, and whether it has been kept. */
export interface FirstStep {
	what: string;
	why: string;
	done: boolean;
	/** By this it is set aside; null: it can't be. */
	key: (typeof FIRST_STEPS)[number] | null;
	aside: boolean;
	/** Kind of evidence to add for it, or a place in the record. */
	go: { kind: EvidenceKind } | { href: string };
}

/**
 * What to keep first: the order is that in which it is lost (common practice, no source; that such a list is made
 * before it is needed: NASA NPR 8621.1C, 1.2 and 1.4).
 */
export function firstHour(file: Investigation): FirstStep[] {
	const items = Object.values(file.evidence).filter((e) => !e.withdrawn);
	const hazards = Object.values(file.hazards);
	const some = (test: (e: Evidence) => boolean) => items.some(test);
	const steps: Omit<FirstStep, 'aside'>[] = [
		{
			key: null,
			what: 'Make safe what can hurt',
			why: 'before anybody kneels beside it',
			done: file.about['main']?.allListed !== undefined && hazards.every((h) => h.state !== 'notKnown'),
			go: { href: 'record#make-safe' }
		},
		{
			key: 'photos',
			what: 'Photograph each piece as it lies',
			why: 'the first hand that lifts it ends this',
			done: some((e) => e.kind === 'photo' && e.moved === 'beforeMoved'),
			go: { kind: 'photo' }
		},
		{
			key: 'recorder',
			what: 'Count the tones and read the display of the recorder',
			why: 'many recorders erase or overwrite when power comes back',
			done: some((e) => e.kind === 'reading' && e.readingKind === 'firstPowerUp'),
			go: { kind: 'reading' }
		},
		{
			key: 'places',
			what: 'Take the position of each piece',
			why: 'grass stands up again and pieces are carried together',
			done: some((e) => e.kind === 'piece') && items.every((e) => e.kind !== 'piece' || e.position !== null),
			go: { kind: 'piece' }
		},
		{
			key: 'statements',
			what: 'Write down what each person saw, before they talk it over',
			why: 'after an hour there is one story',
			done: some((e) => e.kind === 'statement'),
			go: { kind: 'statement' }
		},
		{
			key: 'wind',
			what: 'Write down the wind at the ground and aloft',
			why: 'tomorrow it has to be guessed',
			done: (file.weather['main']?.wind.length ?? 0) > 0,
			go: { href: 'record#weather' }
		},
		{
			key: 'searches',
			what: 'Write down what was looked for and not found, and how thoroughly',
			why: 'nobody remembers which ditch was searched',
			done: some((e) => e.kind === 'absence'),
			go: { kind: 'absence' }
		}
	];
	const { setAside = [] } = file.about['main'] ?? {};
	return steps.map((step) => ({
		...step,
		aside: step.key !== null && !step.done && setAside.includes(step.key)
	}));
}

/** How many things to keep first are neither kept nor set aside. */
export const firstStepsOpen = (file: Investigation): number =>
	firstHour(file).filter(({ done, aside }) => !done && !aside).length;

/** The steps of the first hour as they stand before any flight, for the list on paper. */
export const FIRST_HOUR: readonly Pick<FirstStep, 'what' | 'why'>[] = firstHour(emptyInvestigation());
