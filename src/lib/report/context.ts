import type { Investigation } from '$lib/investigation/case';
import { positions } from '$lib/investigation/views/positions';
import { formatQuantity } from '$lib/quantity/format';
import type { Quantity } from '$lib/quantity/quantity';
import type { HistoryEntry, Shown } from './discretion';
import { literal, quote } from './text';
import type { Weighed } from './weighed';

export interface ReportInput {
	/** The case and its history as `discreet` gives them. */
	file: Investigation;
	history: readonly HistoryEntry[];
	shown: Shown;
	rev: number;
	/** Moment at which the report is made, ISO 8601 UTC. */
	at: string;
	/** Each anomaly that could be weighed. */
	weighed: Readonly<Record<string, Weighed>>;
	/** Which figures the page will put in. */
	figures: { plan: boolean; trees: readonly string[]; calculations: readonly string[] };
	/** Attachments of which the page can show a picture. */
	pictures: readonly string[];
	/** Address of the investigation where the report stands beside the rooms ('/investigations/x'); '' where it stands alone. */
	base: string;
}

/** What every section writes with: the case, and how its records are named and linked. */
export class Context {
	readonly file: Investigation;
	/** Where each item lies. */
	readonly placed: ReturnType<typeof positions>;

	constructor(readonly input: ReportInput) {
		this.file = input.file;
		this.placed = positions(input.file);
	}

	/** One line that somebody typed. */
	line = literal;
	/** A longer text that somebody typed, set as a quotation; '' where there is none. */
	block = (text: string): string => (text.trim() === '' ? '' : quote(text));
	/** A link to where the record is kept; nothing where the report stands alone. */
	room(path: string, words = 'open in the case'): string {
		return this.input.base === '' ? '' : `[${words}](${this.input.base}/${path})`;
	}

	quantity = (q: Quantity | null): string =>
		q === null ? 'not measured' : formatQuantity({ ...q, unit: q.unit || '1' }, 'ratio');

	/** E7, F3, K2 with a link to it; what is gone is said to be gone. */
	cite = (id: string): string => {
		const { evidence, findings, calculations } = this.file;
		const [letter, record] = evidence[id]
			? (['E', evidence[id]] as const)
			: findings[id]
				? (['F', findings[id]] as const)
				: (['K', calculations[id]] as const);
		const withdrawn = evidence[id]?.withdrawn ? ' (withdrawn)' : '';
		return record
			? `[${letter}${record.number}](#${letter.toLowerCase()}${record.number})${withdrawn}`
			: '(no longer there)';
	};

	cites = (ids: readonly string[]): string => ids.map(this.cite).join(', ');
}

export const byNumber = <T extends { number: number }>(records: Readonly<Record<string, T>>): [string, T][] =>
	Object.entries(records).sort(([, a], [, b]) => a.number - b.number);

/** '2026-05-17 14:02' from what the case keeps; UTC moments say so. */
export const localMoment = (time: string): string => time.replace('T', ' ');
export const utcMoment = (iso: string): string =>
	iso === '' ? '' : `${iso.slice(0, 16).replace('T', ' ')} UTC`;
