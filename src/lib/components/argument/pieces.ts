import { decibans, strengthOfEvidence } from '$lib/reasoning';
import type { Finding } from '$lib/investigation/schema/anomaly';
import type { AnomalyDesk } from '../anomaly/desk.svelte';
import { aloneWords, FINDING_STATES } from '../anomaly/words';

/** One piece of evidence and what leaving it out alone would take away from an event. */
export interface Piece {
	id: string;
	db: number;
	title: string;
	about: string;
	words: string;
	href: string;
}

/** The sign is linked to the event, or the tree makes it show the sign more often than it is there anyway. */
const speaksOf = (desk: AnomalyDesk, id: string, finding: Finding, event: string): boolean =>
	finding.links.some((link) => link.event === event) ||
	(!desk.events[event]?.residual && desk.alone(id, event).through.some(({ negated }) => !negated));

/** Some sign tells of the event. */
export const isLinked = (desk: AnomalyDesk, event: string): boolean =>
	desk.findings.some(([id, finding]) => speaksOf(desk, id, finding, event));

/** Where both numbers were sampled: the standard error of the decibans between them, as for two apart; else nothing. */
function sampledTo(now: number, error: number | undefined, without: number, its: number | undefined): string {
	if (error === undefined || its === undefined) return '';
	const relative = (p: number, of: number) => of / (p * (1 - p));
	const db = (10 / Math.LN10) * Math.hypot(relative(now, error), relative(without, its));
	return Number.isFinite(db) ? `; sampled to ± ${db.toPrecision(1)} dB` : '';
}

/** A factor below 2, where the published scale of words begins. */
const HARDLY = 10 * Math.log10(2);

/** How strongly a piece of evidence speaks for an event or, where the decibans are negative, for its opposite. */
export function strengthInWords(db: number): string {
	if (Math.abs(db) < HARDLY) return 'hardly any support';
	const words = Number.isFinite(db)
		? strengthOfEvidence(10 ** (Math.abs(db) / 10)).words
		: 'settles it alone';
	return db < 0 && Number.isFinite(db) ? `${words} for the opposite` : words;
}

/** What moved an event, the strongest first; what moves it by less than half a tenth of a deciban is left out. */
export function piecesOf(desk: AnomalyDesk, event: string): Piece[] {
	const now = desk.withAll(event);
	if (now === null) return [];
	return desk.contributions
		.flatMap((piece): Piece[] => {
			const without = desk.without(piece, event);
			const db = without === undefined ? 0 : decibans(now, without);
			if (Math.abs(db) < 0.05) return [];
			const finding = desk.file.findings[piece.id];
			const run = desk.file.calculations[piece.id];
			return [
				{
					id: piece.id,
					db,
					title: finding?.statement ?? run?.title ?? '',
					about:
						(finding
							? `F${finding.number}, ${FINDING_STATES[finding.state]}${speaksOf(desk, piece.id, finding, event) ? `; this alone shows it in ${aloneWords(desk.alone(piece.id, event))}` : ''}${piece.together.length > 0 ? `; one observation with ${piece.together.length} more` : ''}`
							: `calculation K${run?.number ?? ''}`) +
						sampledTo(now, desk.weights[event]?.standardError, without ?? NaN, piece.standardError?.[event]),
					words: strengthInWords(db),
					href: `${desk.address}/${finding ? `findings?finding=${piece.id}` : 'calculations'}`
				}
			];
		})
		.sort((a, b) => Math.abs(b.db) - Math.abs(a.db));
}

/** Signs of an event that nobody has looked for. */
export const unseenOf = (desk: AnomalyDesk, event: string): [string, Finding][] =>
	desk.findings.filter(([id, f]) => f.state === 'notExamined' && speaksOf(desk, id, f, event));
