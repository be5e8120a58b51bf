import type { Investigation, VehicleFile } from '../case';

type Json = Readonly<Record<string, unknown>>;

const NOUNS: Readonly<Record<string, string>> = {
	about: 'the investigation',
	site: 'the site',
	weather: 'the weather',
	format: 'the file’s format',
	expected: 'the expected value',
	hazards: 'the hazard',
	parts: 'the part',
	clocks: 'the clock',
	timeline: 'the moment',
	attachments: 'the file',
	conflicts: 'the conflict',
	predictions: 'the prediction',
	failureModes: 'the failure mode',
	events: 'the event',
	exclusions: 'the exclusion',
	commonCauses: 'what fails together from',
	settings: 'the setting',
	origins: 'the origin',
	conclusions: 'the conclusion',
	vehicle: 'the vehicle',
	builds: 'the build',
	clearances: 'the clearance',
	trees: 'the kept tree'
};

const LETTERS: Readonly<Record<string, string>> = {
	evidence: 'E',
	findings: 'F',
	changes: 'C',
	anomalies: 'A',
	calculations: 'K',
	observations: 'O'
};

/** Singletons are called by what they are alone. */
const ALONE: ReadonlySet<string> = new Set(['about', 'site', 'weather', 'format', 'vehicle']);

const own = (record: Json): string | undefined =>
	[
		record['title'],
		record['mode'],
		record['what'],
		record['statement'],
		record['name'],
		record['reason']
	].find((text): text is string => typeof text === 'string' && text !== '');

/** What a record is called where its kind is plain: 'E7 "Nose"', else its title. */
export function bareName(collection: string, record: Json | undefined): string {
	if (!record) return 'something that is no longer there';
	const letter = LETTERS[collection];
	return letter ? `${letter}${String(record['number'])} “${own(record) ?? ''}”` : (own(record) ?? '');
}

/** A record as people know it: 'E7 “Nose”', 'the event “Bond came off”', 'the conclusion of A2'. */
export function recordName(
	collection: string,
	record: Json,
	id: string,
	file: Investigation | VehicleFile
): string {
	if (LETTERS[collection]) return bareName(collection, record);
	const noun = NOUNS[collection] ?? collection;
	if (ALONE.has(collection)) return noun;
	const anomaly = 'anomalies' in file ? file.anomalies[id] : undefined;
	if (collection === 'conclusions' && anomaly) return `${noun} of A${anomaly.number}`;
	const name = own(record);
	return name ? `${noun} “${name}”` : noun;
}
