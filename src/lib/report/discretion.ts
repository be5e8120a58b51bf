import type { Investigation } from '$lib/investigation/case';
import type { Position } from '$lib/investigation/schema/places-and-times';
import { padPlace } from '$lib/investigation/views/positions';
import { fromLocal, toLocal } from '$lib/physics/geodesy';

/** One line of the case's history, as far as the report tells it. */
export interface HistoryEntry {
	rev: number;
	time: string;
	who: string;
	operation: string;
}

/** What the report may show. Both are off until somebody ticks them. */
export interface Shown {
	names: boolean;
	positions: boolean;
}

/**
 * The case as far as it may go out; everything in a report, drawings too, is made from what this gives.
 * Without names, a person stands by role and keeps one designation throughout ('witness 2'), because whether two
 * statements come from one person matters; names known to the case are replaced in free text too.
 * Without positions, all coordinates are moved so that the pad lies at 0, 0, and coordinates and the name of the site
 * are taken out of the texts; distances and bearings stay, for the reasoning rests on them.
 */
export function discreet(
	file: Investigation,
	history: readonly HistoryEntry[],
	shown: Shown
): { file: Investigation; history: readonly HistoryEntry[] } {
	const people = shown.names ? null : new Designations(file, history);
	const text = (typed: string) => {
		const unnamed = people ? people.takeOutOf(typed) : typed;
		return shown.positions ? unnamed : withoutCoordinates(unnamed, Object.values(file.site)[0]?.name ?? '');
	};
	const moved = shown.positions ? file : aroundNowhere(file);
	return {
		file: mapTexts(moved, text, (who) => people?.of(who) ?? who) as Investigation,
		history: history.map((entry) => ({ ...entry, who: people?.of(entry.who) ?? entry.who }))
	};
}

/** Fields that name a person. */
const WHO = new Set(['by', 'reviewedBy', 'seenBy', 'responsible', 'owner']);
/** Keys and identities of the case are one word without capitals in front; they stay. */
const IS_KEY = /^[a-z][A-Za-z0-9-]*$|^[0-9a-z-]+$/;

function mapTexts(value: unknown, text: (typed: string) => string, who: (typed: string) => string): unknown {
	const walk = (at: unknown, key: string, parent: Record<string, unknown>): unknown => {
		if (typeof at === 'string') {
			const named =
				WHO.has(key) ||
				(key === 'from' && parent['kind'] === 'statement') ||
				(key === 'name' && 'when' in parent);
			return named ? who(at) : IS_KEY.test(at) ? at : text(at);
		}
		if (Array.isArray(at)) return at.map((item) => walk(item, key, parent));
		if (at === null || typeof at !== 'object') return at;
		const record = at as Record<string, unknown>;
		return Object.fromEntries(
			Object.entries(record).map(([name, inner]) => [name, walk(inner, name, record)])
		);
	};
	return walk(value, '', {});
}

/** All places moved together, so that the pad lies at 0, 0: offsets stay, the place on earth is gone. */
function aroundNowhere(file: Investigation): Investigation {
	const pad = padPlace(file);
	const nowhere = { latitudeDeg: 0, longitudeDeg: 0 };
	const move = (position: Position | null): Position | null => {
		if (!position || position.kind === 'bearing') return position;
		const place = pad ? fromLocal(nowhere, toLocal(pad, position)) : nowhere;
		return { kind: 'typed', typed: '', circle: position.circle, ...place };
	};
	const each = <T>(records: Readonly<Record<string, T>>, change: (record: T) => T) =>
		Object.fromEntries(Object.entries(records).map(([id, record]) => [id, change(record)]));
	return {
		...file,
		site: each(file.site, (site) => ({ ...site, name: '', accessNote: '', pad: move(site.pad) })),
		evidence: each(file.evidence, (item) => ({ ...item, position: move(item.position) })),
		attachments: each(file.attachments, ({ taken, ...attachment }) => ({
			...attachment,
			taken: taken && { ...taken, latitude: null, longitude: null, accuracyM: null }
		}))
	};
}

const ROLES = ['finder', 'witness', 'investigator', 'builder', 'contact'] as const;
type Role = (typeof ROLES)[number];

/** A person of the case, and the first part in which they appear. */
interface Person {
	names: Set<string>;
	role: Role;
}

/** Words in a 'who' field that are nobody's name: parts that people have, and things that see and hear. */
const ROLE_WORDS =
	/^(a|an|and|the|my|our|his|her|two|three|four|some|all|both|me|everyone|everybody|nobody|someone|team|crew|range|safety|launch|club|field|site|flight|land|local|officer|director|owner|manager|farmer|pilot|spectators?|witness(es)?|finders?|investigators?|builders?|members?|person|people|rso|lco|of|from|at|with|by|on|dr|mr|mrs|ms|camera|video|film|photo|picture|recorder|logger|log|computer|altimeter|receiver|radio|beacon|tracker|telemetry|gps|timer|sensor|instrument|phone|drone|rail|pad|ground|onboard)$/i;
const key = (name: string) => name.normalize('NFC').toLowerCase().replace(/\s+/g, ' ').trim();
const quoted = (text: string) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
const whole = (name: string, flags: string) =>
	new RegExp(`(?<![\\p{L}\\p{N}])${quoted(name)}(?![\\p{L}\\p{N}])`, flags);
/** 'Ilse, Tomas and the range officer' names three. */
const split = (who: string) =>
	who
		.split(/[,;/&+]|\band\b|\bwith\b/i)
		.map((name) => name.trim())
		.filter(Boolean);

/** Who stands as what, throughout. */
class Designations {
	readonly #designation = new Map<string, string>();
	readonly #replace: { pattern: RegExp; by: string }[] = [];

	constructor(file: Investigation, history: readonly { who: string }[]) {
		const people = peopleOf(file, history);
		for (const role of ROLES) {
			const ofRole = people.filter((person) => person.role === role);
			for (const [i, { names }] of ofRole.entries()) {
				const by = ofRole.length === 1 ? `the ${role}` : `${role}\u00a0${i + 1}`;
				for (const name of names) {
					this.#designation.set(key(name), by);
					this.#replace.push(...patternsFor(name).map((pattern) => ({ pattern, by })));
				}
			}
		}
		this.#replace.sort((a, b) => b.pattern.source.length - a.pattern.source.length);
	}

	/** Who it was; a role or a thing stays as typed, and nobody stays nobody. */
	of(typed: string): string {
		return [...new Set(split(typed).map((name) => this.#designation.get(key(name)) ?? name))].join(', ');
	}

	takeOutOf(text: string): string {
		return this.#replace.reduce((left, { pattern, by }) => left.replace(pattern, by), text);
	}
}

/** Words of a name that are not merely a role or a thing: none means that nobody is named. */
const namingWords = (name: string): string[] =>
	name
		.split(/\s+/)
		.map((word) => word.replace(/^[^\p{L}]+|[^\p{L}]+$/gu, ''))
		.filter((word) => word !== '' && !ROLE_WORDS.test(word));

/** Who saw something may be described instead of named: 'two people at the car', 'lamp of the pad box'. */
function isName(name: string, described: boolean): boolean {
	const words = namingWords(name);
	const plain = words.every((word) => word === word.toLowerCase());
	return words.length > 0 && !(described && plain && /\s/.test(name));
}

/**
 * The full name in any case, and each part of it as a capitalised word: a first name is no way round. Initials and
 * the small words of a name stand for too much else to be taken out of texts.
 */
function patternsFor(name: string): RegExp[] {
	const words = namingWords(name);
	const capital = (word: string) => word.charAt(0).toUpperCase() + word.slice(1);
	const parts =
		words.length === 1
			? [...words, ...words.map(capital)]
			: words.filter((word) => word === capital(word) && word !== word.toLowerCase());
	const long = [...new Set(parts)].filter((word) => word.length > 2).map((word) => whole(word, 'gu'));
	return words.length > 1 ? [whole(name, 'giu'), ...long] : long;
}

function peopleOf(file: Investigation, history: readonly { who: string }[]): Person[] {
	const people = new Map<string, Person>();
	const add = (role: Role, ...typed: string[]) => {
		for (const name of typed.flatMap(split)) {
			if (!isName(name, role === 'witness')) continue;
			const known = people.get(key(name));
			if (known) known.names.add(name);
			else people.set(key(name), { names: new Set([name]), role });
		}
	};
	const all = <T>(records: Readonly<Record<string, T>>) => Object.values(records);
	for (const item of all(file.evidence)) {
		if (item.kind === 'statement') add('witness', item.from);
		add('finder', item.by);
	}
	for (const { seenBy } of all(file.timeline)) add('witness', seenBy);
	for (const { by } of all(file.hazards)) add('finder', by);
	for (const { disposition } of all(file.events)) {
		add('investigator', disposition.by);
		if (disposition.reviewedBy) add('investigator', disposition.reviewedBy);
	}
	for (const { by } of all(file.conclusions)) add('investigator', by);
	for (const { owner } of all(file.conflicts)) add('investigator', owner);
	for (const item of all(file.evidence)) if (item.withdrawn) add('investigator', item.withdrawn.by);
	for (const { responsible, steps } of all(file.changes)) {
		add('builder', responsible);
		for (const { by } of steps) add('builder', by);
	}
	for (const { told } of all(file.site)) for (const { name } of told) add('contact', name);
	for (const { who } of history) add('investigator', who);
	return [...people.values()];
}

const NUMBER = String.raw`[-−+]?\d{1,3}(?:[.,]\d+)?`;
const ANGLE = String.raw`${NUMBER}\s*(?:°|º|deg\b)?\s*(?:\d{1,2}(?:[.,]\d+)?\s*['′’]?\s*(?:\d{1,2}(?:[.,]\d+)?\s*(?:["″”]|''))?)?`;
const COORDINATES: readonly RegExp[] = [
	// 43.1 N, 11.2 E and 43° 07' 12" N 11° 12' 03" E
	new RegExp(String.raw`(?<![\d.,])${ANGLE}\s*[NS]\b[\s,;/]*${ANGLE}\s*[EWO]\b`, 'gu'),
	// N 43 07.123 E 11 12.050
	new RegExp(String.raw`\b[NS]\s*${ANGLE}[\s,;/]*[EWO]\s*${ANGLE}(?![\d])`, 'gu'),
	// 43.12345, 11.20001
	/(?<![\d.])[-−+]?\d{1,2}\.\d{3,}\s*°?\s*[,;/\s]\s*[-−+]?\d{1,3}\.\d{3,}(?!\d)\s*°?/gu,
	// One coordinate alone: 43.12345° N, 43° 07' 12" N
	/(?<![\d.])\d{1,3}[.,](?:\d{4,}\s*|\d{3,}\s*°\s*)[NSEW]\b(?![·*/])/gu,
	/(?<![\d.])\d{1,3}\s*°\s*\d{1,2}(?:[.,]\d+)?\s*['′’](?:\s*\d{1,2}(?:[.,]\d+)?\s*(?:["″”]|''))?\s*[NSEW]?/gu,
	// UTM 32T 691831 4776012, and the same place as a grid reference 32T QN 91831 76012
	/\b\d{1,2}\s?[C-HJ-NP-X]\s+\d{5,7}\s*m?\s*E?[\s,]+\d{6,8}\s*m?\s*N?\b/gu,
	/\b\d{1,2}\s?[C-HJ-NP-X]\s?[A-HJ-NP-Z]{2}\s?\d{2,5}\s?\d{2,5}\b/gu
];

/** Coordinates in any usual notation, and the name of the site, taken out of a text. */
function withoutCoordinates(text: string, site: string): string {
	const bare = COORDINATES.reduce(
		(left, pattern) => left.replace(pattern, (found) => `[position left out]${/\s*$/.exec(found)![0]}`),
		text
	);
	return site.length > 2 ? bare.replace(whole(site, 'giu'), 'the site') : bare;
}
