import type { Investigation, InvestigationCollection } from '../case';
import { referencesOf } from '../references';

/** One place that names an item of evidence. */
export interface Use {
	/** 'The finding F3 "Soot on the ring"': begins a sentence. */
	words: string;
	/** Where it stands, below the investigation's own address. */
	href: string;
	/** True where it rests on the item, so that the item can't be withdrawn under it; a record of the past does not. */
	holds: boolean;
}

/** Everything that names an item: what rests on it, and past runs and steps that read it. */
export function usesOf(file: Investigation, itemId: string): Use[] {
	const uses: Use[] = [];
	const past = () => false;
	const each = <C extends InvestigationCollection>(
		collection: C,
		describe: (record: Investigation[C][string], id: string) => [words: string, href: string],
		holds: (record: Investigation[C][string]) => boolean = () => true,
		names = (record: Investigation[C][string]) =>
			referencesOf(collection, record).some((r) => r.collection === 'evidence' && r.id === itemId)
	) => {
		for (const [id, record] of Object.entries(file[collection]) as [string, Investigation[C][string]][]) {
			if (collection === 'evidence' && id === itemId) continue;
			if (!names(record)) continue;
			const [words, href] = describe(record, id);
			uses.push({ words, href, holds: holds(record) });
		}
	};
	each('hazards', (h) => [`The hazard "${h.what}"`, 'record#make-safe']);
	each('timeline', (t) => [`The moment "${t.what}"`, 'record#timeline']);
	each(
		'evidence',
		(e, id) => [`The position of E${e.number} "${e.title}"`, `evidence/${id}`],
		(e) => e.withdrawn === null,
		({ position }) => position?.kind === 'bearing' && position.from === itemId
	);
	each(
		'evidence',
		(e, id) => [`The photo E${e.number} "${e.title}"`, `evidence/${id}`],
		past,
		(e) => e.kind === 'photo' && e.shows === itemId
	);
	each('findings', (f) => [`The finding F${f.number} "${f.statement}"`, `anomalies/${f.anomaly}/findings`]);
	each('observations', (o) => [`The observation O${o.number} "${o.statement}"`, 'changes#observations']);
	each(
		'events',
		(e) => [`The disposition of "${e.title}"`, `anomalies/${e.anomaly}/tree`],
		undefined,
		(e) => e.disposition.cites.includes(itemId)
	);
	each(
		'events',
		(e) => [`What turned out of "${e.title}"`, `anomalies/${e.anomaly}/conclusion`],
		undefined,
		(e) => e.truth?.cites.includes(itemId) ?? false
	);
	each('conflicts', (c) => [`The conflict "${c.what}"`, 'evidence#conflicts'], past);
	each(
		'calculations',
		(k) => [`The calculation "${k.title}"`, k.anomaly ? `anomalies/${k.anomaly}/calculations` : 'ground'],
		past,
		(k) => k.sources.some((s) => s.collection === 'evidence' && s.id === itemId)
	);
	each(
		'changes',
		(c) => [`The change C${c.number} "${c.title}"`, 'changes'],
		past,
		(c) => c.steps.some((step) => step.cites.includes(itemId))
	);
	return uses;
}
