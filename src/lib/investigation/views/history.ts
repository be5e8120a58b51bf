import { typedProbability } from '$lib/quantity/percent';
import type { Quantity } from '$lib/quantity/quantity';
import type { ChangeState } from '../schema/change';
import type { Investigation, InvestigationCollection, VehicleFile } from '../case';
import { operationLabel } from '../operations';
import { referencesOf } from '../references';
import { bareName, recordName } from './record-names';
import { type Line, versionsOf } from './versions';

/** One field of a record before and after, in words; '' where nothing stood there. */
export interface FieldChange {
	field: string;
	before: string;
	after: string;
}

/** What one line of the history did to one record. */
export interface RecordChange {
	collection: string;
	id: string;
	/** 'E7 "Nose"', by the record as it stands now, or as it last stood. */
	name: string;
	did: 'added' | 'changed' | 'removed';
	/** The fields that changed; of an added or removed record nothing more is said. */
	fields: FieldChange[];
}

/** One line of the history: when, who, what in words, and the records that it touched. */
export interface Entry {
	rev: number;
	/** ISO 8601, UTC. */
	time: string;
	who: string;
	what: string;
	reason: string;
	records: RecordChange[];
}

type File = Investigation | VehicleFile;
type Json = Readonly<Record<string, unknown>>;

/** More fields or longer values than this are not read on a page; the file keeps them all. */
const MOST_FIELDS = 12;
const LONGEST = 240;

/** A line of the history in words. */
export function entryOf(line: Line, file: File): Entry {
	const records = line.changes.map(({ collection, id, before, after }): RecordChange => {
		const record = (after ?? before) as Json;
		const now = (file as unknown as Record<string, Record<string, Json>>)[collection]?.[id];
		const [version] = versionsOf([line], collection, id);
		return {
			collection,
			id,
			name: recordName(collection, now ?? record, id, file),
			did: before === null ? 'added' : after === null ? 'removed' : 'changed',
			fields:
				before === null || after === null || !version
					? []
					: version.changed
							.flatMap((c) =>
								collection === 'calculations' && COMPUTED.has(c.field)
									? [{ field: label(c.field), before: '', after: 'computed anew' }]
									: inWords(c.field, c.before, c.after, namesIn(file, collection, before, after))
							)
							.slice(0, MOST_FIELDS)
		};
	});
	const reason = (line.args as { reason?: unknown } | null)?.reason;
	return {
		rev: line.rev,
		time: line.time,
		who: line.who,
		what: whatWasDone(line),
		reason: typeof reason === 'string' ? reason.trim() : '',
		records
	};
}

/** Lines that no operation of a page makes. */
const BESIDES: Readonly<Record<string, string>> = {
	begin: 'Began the investigation',
	'vehicle.begin': 'Began the vehicle’s file'
};

/** What one operation does in several ways, by the record that it leaves. */
const BY_RECORD: Readonly<Record<string, (record: Json) => string | undefined>> = {
	'change.move': ({ state }) => STEPS[state as ChangeState],
	'calculation.useAsEvidence': ({ likelihood }) =>
		isRecord(likelihood) && likelihood['use'] === true
			? 'Let a calculation weigh on the tree'
			: 'Took a calculation off the tree',
	'disposition.set': ({ disposition }) =>
		isRecord(disposition) && disposition['state'] === 'open' ? 'Opened a branch again' : undefined
};

const STEPS: Readonly<Record<ChangeState, string>> = {
	proposed: 'Proposed a design change',
	accepted: 'Accepted a design change',
	rejected: 'Rejected a design change',
	made: 'Marked a design change as made',
	verified: 'Verified a design change',
	flown: 'Recorded the flight of a design change',
	closed: 'Closed a design change',
	reopened: 'Reopened a design change'
};

function whatWasDone({ operation, args, changes }: Line): string {
	const does = (name: string, record: unknown) =>
		(isRecord(record) ? BY_RECORD[name]?.(record) : undefined) ?? operationLabel(name);
	if (operation !== 'undo') return BESIDES[operation] ?? does(operation, changes[0]?.after);
	const taken = (args as { operation?: unknown } | null)?.operation;
	return typeof taken === 'string' && taken !== 'undo'
		? `Took back: ${does(taken, changes[0]?.before)}`
		: 'Took a change back';
}

/** The rooms of the line of work, and what belongs to each. */
export const SUBJECTS = {
	record: ['about', 'site', 'weather', 'expected', 'hazards', 'parts', 'clocks', 'timeline'],
	evidence: ['attachments', 'evidence', 'conflicts', 'predictions'],
	anomalies: [
		'anomalies',
		'events',
		'exclusions',
		'commonCauses',
		'settings',
		'findings',
		'origins',
		'failureModes'
	],
	calculations: ['calculations'],
	conclusions: ['conclusions', 'observations'],
	changes: ['changes']
} as const;
export type Subject = keyof typeof SUBJECTS;

/** The lines that touched a subject; a branch that was decided belongs to the conclusions. */
export const isAbout = ({ operation, changes }: Line, about: Subject): boolean =>
	operation.startsWith('disposition.')
		? about === 'conclusions'
		: changes.some(({ collection }) => (SUBJECTS[about] as readonly string[]).includes(collection));

/** Each word asked for stands somewhere in the line as it is shown. */
export function hasWords({ who, what, reason, records }: Entry, asked: string): boolean {
	const said = [
		who,
		what,
		reason,
		...records.flatMap(({ name, fields }) => [name, ...fields.flatMap((f) => [f.field, f.before, f.after])])
	]
		.join(' ')
		.toLowerCase();
	return asked
		.toLowerCase()
		.split(/\s+/)
		.every((word) => said.includes(word));
}

/** How two versions of one record differ, in words. */
export function difference(file: File, collection: string, before: unknown, after: unknown): FieldChange[] {
	const changes = [{ collection, id: '', before, after }];
	const line: Line = { rev: 0, time: '', who: '', operation: '', args: null, changes };
	return entryOf(line, file).records[0]!.fields;
}

/** Words for the identities that two versions of a record name. */
function namesIn(file: File, collection: string, ...versions: unknown[]): ReadonlyMap<string, string> {
	const names = new Map<string, string>();
	const records = file as unknown as Record<string, Record<string, Json>>;
	for (const version of versions) {
		for (const { collection: of, id } of referencesOf(collection as InvestigationCollection, version))
			names.set(id, bareName(of, records[of]?.[id]));
		for (const id of citesOf(version))
			for (const of of ['evidence', 'findings', 'calculations'])
				if (records[of]?.[id]) names.set(id, bareName(of, records[of][id]));
	}
	return names;
}

const citesOf = (version: unknown): string[] => {
	const { disposition, truth, steps } = version as {
		truth?: { cites?: string[] };
		disposition?: { cites?: string[] };
		steps?: { cites?: string[] }[];
	};
	return [disposition?.cites, truth?.cites, ...(steps ?? []).map((step) => step.cites)].flatMap(
		(cites) => cites ?? []
	);
};

/** One changed field, taken apart where it holds fields of its own, so that only what differs is said. */
function inWords(
	field: string,
	before: unknown,
	after: unknown,
	names: ReadonlyMap<string, string>
): FieldChange[] {
	// The tool's own notes of a correction, which has a line of its own.
	if (/(^| )(said|corrected)$/.test(field)) return [];
	// The line itself says who and when.
	if (field === 'disposition by' || field === 'disposition at') return [];
	if (isRecord(before) && isRecord(after) && !isQuantity(before) && !isQuantity(after))
		return [...new Set([...Object.keys(before), ...Object.keys(after)])]
			.filter((key) => JSON.stringify(before[key]) !== JSON.stringify(after[key]))
			.flatMap((key) => inWords(`${field} ${key}`, before[key], after[key], names));
	const [was, is] =
		Array.isArray(before) && Array.isArray(after) ? apartFrom(before, after) : [before, after];
	const key = field.slice(field.lastIndexOf(' ') + 1);
	return [{ field: label(field), before: words(key, was, names), after: words(key, is, names) }];
}

/** Fields of a calculation that hold what it left, which says nothing to a reader. */
const COMPUTED: ReadonlySet<string> = new Set(['result', 'sources']);

/** Probabilities, which people read in percent. */
const SHARES: ReadonlySet<string> = new Set([
	'weight',
	'weightThen',
	'impression',
	'start',
	'end',
	'p',
	'baseRate',
	'residualLink',
	'detection',
	'reliability',
	'saysAnyway'
]);

/** What only one of two lists holds; both whole where merely the order differs. */
function apartFrom(before: readonly unknown[], after: readonly unknown[]): [unknown, unknown] {
	const key = (one: unknown) => JSON.stringify(one);
	const [was, is] = [new Set(before.map(key)), new Set(after.map(key))];
	const gone = before.filter((one) => !is.has(key(one)));
	const come = after.filter((one) => !was.has(key(one)));
	return gone.length + come.length === 0 ? [before, after] : [gone, come];
}

const isRecord = (value: unknown): value is Json =>
	typeof value === 'object' && value !== null && !Array.isArray(value);

const isQuantity = (value: Json): boolean =>
	typeof value['unit'] === 'string' && typeof value['value'] === 'number';

/** Keys of the file that would not be understood as they stand. */
const LABELS: Readonly<Record<string, string>> = {
	p: 'probability',
	cites: 'rests on',
	residualLink: 'link of what nobody has thought of',
	sameAs: 'same observation as',
	baseRate: 'there anyway',
	saysAnyway: 'says so anyway',
	complete: 'causes immediate and complete',
	weight: 'starting weight',
	weightBasis: 'starting weight rests on',
	weightNote: 'namely',
	weightThen: 'it stood at',
	despite: 'why all the same',
	faultOf: 'is the state of',
	causeType: 'kind of cause',
	reviewedBy: 'looked at by',
	use: 'weighs on the tree',
	costMinutes: 'minutes it takes',
	ballisticCoefficient: 'mass over drag area',
	noPrediction: 'why nothing was locked',
	noChangeReason: 'why no change follows',
	tripwires: 'what would reopen it'
};

/** Stored words that a reader would not know from the screen. */
const VALUES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
	faultOf: { component: 'one part', system: 'the system' }
};

const spaced = (key: string): string =>
	key.replace(/[A-Z](?=[a-z])/g, (capital) => ` ${capital.toLowerCase()}`);

const label = (path: string): string =>
	path
		.split(' ')
		.map((key) => LABELS[key] ?? spaced(key))
		.join(', ');

/** A stored value as a reader would say it; '' where nothing is said. */
function words(key: string, value: unknown, names: ReadonlyMap<string, string>): string {
	const said = spoken(key, value, names);
	return said.length > LONGEST ? `${said.slice(0, LONGEST - 1)}…` : said;
}

function spoken(key: string, value: unknown, names: ReadonlyMap<string, string>): string {
	if (value === null || value === undefined) return '';
	if (typeof value === 'boolean') return value ? 'yes' : 'no';
	if (key === 'density' && typeof value === 'number') return String(Number(value.toPrecision(3)));
	if (typeof value === 'number')
		return SHARES.has(key) ? typedProbability(value, 6) : String(Number(value.toPrecision(6)));
	if (typeof value === 'string' && /^\d{4}-\d\d-\d\dT[\d:.]+Z$/.test(value))
		return `${value.slice(0, 16).replace('T', ' ')} UTC`;
	if (typeof value === 'string' && VALUES[key]?.[value]) return VALUES[key][value];
	if (typeof value === 'string')
		return names.get(value) ?? (/^[a-z]{2,}([A-Z][a-z]+)+$/.test(value) ? spaced(value) : value);
	if (Array.isArray(value))
		return value
			.map((one) => spoken(key, one, names))
			.filter(Boolean)
			.join(isRecord(value[0]) ? '; ' : ', ');
	const record = value as Json;
	if (isQuantity(record)) return quantityText(record);
	if (typeof record['typed'] === 'string') return record['typed'];
	return Object.entries(record)
		.flatMap(([innerKey, inner]) => {
			const said = innerKey === 'standardError' ? '' : spoken(innerKey, inner, names);
			return said === '' || inner === false ? [] : [`${label(innerKey)} ${said}`];
		})
		.join(', ');
}

/** As typed; one that a program made has no text and is written out. */
function quantityText(given: Json): string {
	const q = given as unknown as Quantity;
	if (q.text !== '') return q.text;
	const number = q.low === undefined ? String(q.value) : `${q.low} to ${q.high}`;
	return `${number}${q.plusMinus === undefined ? '' : ` ± ${q.plusMinus}`}${q.unit === '1' ? '' : ` ${q.unit}`}`;
}
