import type { Investigation } from '../case';
import type { Evidence } from '../schema/evidence';
import { hasResult, isTest } from './predictions';

/** Something that a decision can cite, as people know it. */
export interface Citable {
	id: string;
	kind: 'evidence' | 'finding' | 'calculation';
	/** E7, F3, K2. */
	label: string;
	title: string;
	/** Of evidence: a piece, a test. */
	sort?: Evidence['kind'];
	/** Withdrawn evidence no longer counts: it stays where it was cited, and is not offered again. */
	withdrawn: boolean;
}

/** The record behind a cited identity, or null where it is gone. */
export function cited(file: Investigation, id: string): Citable | null {
	const item = file.evidence[id];
	if (item)
		return {
			id,
			kind: 'evidence',
			label: `E${item.number}`,
			title: item.title,
			sort: item.kind,
			withdrawn: item.withdrawn != null
		};
	const finding = file.findings[id];
	if (finding)
		return { id, kind: 'finding', label: `F${finding.number}`, title: finding.statement, withdrawn: false };
	const run = file.calculations[id];
	if (run) return { id, kind: 'calculation', label: `K${run.number}`, title: run.title, withdrawn: false };
	return null;
}

/** Whether something cited can show anything: a test once its result is in, a sign once it was looked at. */
export function shows(file: Investigation, id: string): boolean {
	const item = file.evidence[id];
	if (item) return !item.withdrawn && (!isTest(item) || hasResult(item));
	const finding = file.findings[id];
	return finding ? finding.state !== 'notExamined' : file.calculations[id] !== undefined;
}

/** 'E7 Nose', and that it is withdrawn where it is. */
export const citedWords = ({ label, title, withdrawn }: Citable): string =>
	`${label} ${title}${withdrawn ? ' (withdrawn)' : ''}`;

/** As it is offered to be cited: 'E7 test: pull test of the joint'. */
export const offeredWords = ({ label, title, sort }: Citable): string =>
	`${label} ${sort ? `${sort}: ` : ''}${title}`;

/** Evidence that still counts, what was tested and measured first: it verifies most. */
export function citableEvidence(file: Investigation): Citable[] {
	const rank = (kind: string) => ['test', 'measurement', 'reading'].indexOf(kind) >>> 0;
	return Object.entries(file.evidence)
		.filter(([, item]) => !item.withdrawn)
		.sort(([, a], [, b]) => rank(a.kind) - rank(b.kind) || a.number - b.number)
		.map(([id]) => cited(file, id)!);
}

/** Every calculation kept, by number. */
export const citableCalculations = (file: Investigation): Citable[] =>
	Object.entries(file.calculations)
		.sort(([, a], [, b]) => a.number - b.number)
		.map(([id]) => cited(file, id)!);

/** All that a decision in this anomaly may cite: its findings and calculations, then the evidence that still counts. */
export function citables(file: Investigation, anomaly: string): Citable[] {
	const ids = [
		...Object.keys(file.findings).filter((id) => file.findings[id]!.anomaly === anomaly),
		...Object.keys(file.calculations).filter((id) => file.calculations[id]!.anomaly === anomaly),
		...Object.keys(file.evidence)
	];
	return ids.map((id) => cited(file, id)!).filter(({ withdrawn }) => !withdrawn);
}
