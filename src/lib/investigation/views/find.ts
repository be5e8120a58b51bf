import type { Investigation } from '../case';
import { recordName } from './record-names';

/** A record in which all words asked for stand. */
export interface Found {
	name: string;
	/** Address within the investigation. */
	path: string;
	/** The words around the first one asked for; '' where the name says it. */
	around: string;
}

/** Where a record is shown, in the order in which it is listed; what is not here is found by what names it. */
const PAGES: Partial<Record<keyof Investigation, (id: string, record: { anomaly?: string }) => string>> = {
	conclusions: (id) => `anomalies/${id}/conclusion`,
	changes: (id) => `changes?change=${id}`,
	anomalies: (id) => `anomalies/${id}/tree`,
	about: () => 'record',
	hazards: () => 'record',
	parts: () => 'record',
	timeline: () => 'record',
	evidence: (id) => `evidence/${id}`,
	events: (id, { anomaly }) => `anomalies/${anomaly}/tree?event=${id}`,
	findings: (id, { anomaly }) => `anomalies/${anomaly}/findings?finding=${id}`,
	observations: () => 'changes#observations'
};

/** Text that a person typed, wherever in the record it stands; a single word is an identity or a state, but for the name. */
function textsOf(value: unknown): string[] {
	if (typeof value === 'string') return /\s/.test(value) ? [value] : [];
	if (typeof value !== 'object' || value === null) return [];
	return Object.values(value).flatMap(textsOf);
}

const AROUND = 70;

/** Records in which every word stands, conclusions and changes first. */
export function findIn(file: Investigation, asked: string): Found[] {
	const words = asked.toLowerCase().split(/\s+/).filter(Boolean);
	if (words.length === 0) return [];
	return Object.entries(PAGES).flatMap(([collection, page]) =>
		Object.entries(
			file[collection as keyof Investigation] as Record<string, Record<string, unknown>>
		).flatMap(([id, record]): Found[] => {
			const name = recordName(collection, record, id, file);
			const said = textsOf(record).join(' · ');
			const all = `${name} ${said}`.toLowerCase();
			if (!words.every((word) => all.includes(word))) return [];
			const beside = words.find((word) => !name.toLowerCase().includes(word));
			const at = beside === undefined ? -1 : said.toLowerCase().indexOf(beside);
			const from = Math.max(0, at - AROUND);
			const around =
				at < 0
					? ''
					: `${from > 0 ? '…' : ''}${said.slice(from, at + AROUND).trim()}${at + AROUND < said.length ? '…' : ''}`;
			return [{ name, path: page(id, record), around }];
		})
	);
}
