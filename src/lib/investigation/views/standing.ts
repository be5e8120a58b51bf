import type { Investigation } from '../case';
import type { DispositionState } from '../schema/anomaly';
import { firstStepsOpen } from './evidence-list';
import { lookAgain } from './look-again';
import { unaccounted } from './parts';
import { makeSafe } from './record-sections';
import { holdsItsBuild, isOpen as isOpenChange } from './change-life';
import { asItStands } from './proof';

/** How one room stands: a fact in a few words, and how far it has come. */
export interface Standing {
	words: string;
	progress: 'untouched' | 'begun' | 'complete';
}

const count = (n: number, one: string, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;
const list = (...facts: (string | false)[]) => facts.filter((fact) => fact !== false).join(', ');

const isOpen = (state: DispositionState) => state === 'open';

/** One short line for each room on the line of work. Counts are facts, not badges. */
export function standing(file: Investigation): Record<Room, Standing> {
	const hazards = Object.values(file.hazards);
	const notSafe = hazards.filter((h) => h.state !== 'safe').length;
	const parts = Object.values(file.parts);
	const toAccount = unaccounted(file);
	const wind = file.weather['main']?.wind.length ?? 0;
	const evidence = Object.values(file.evidence).filter((item) => !item.withdrawn);
	const unplaced = evidence.filter((e) => e.kind === 'piece' && e.position === null).length;
	const pieces = evidence.filter((e) => e.kind === 'piece').length;
	const first = firstStepsOpen(file);
	const anomalies = Object.keys(file.anomalies);
	const concluded = anomalies.filter((a) => (file.conclusions[a]?.state ?? 'open') !== 'open').length;
	const again = anomalies.filter((a) => lookAgain(file, a) !== null).length;
	const settled = anomalies.length > 0 && concluded === anomalies.length && again === 0;
	const changes = Object.values(file.changes).map((change) => asItStands(file, change));
	const openChanges = changes.filter(isOpenChange);
	const holding = changes.filter(holdsItsBuild).length;

	return {
		record: {
			words:
				list(
					notSafe > 0 && `${notSafe} not known safe`,
					parts.length > 0 && count(parts.length, 'part'),
					toAccount > 0 && `${toAccount} unaccounted for`,
					wind > 0 && `wind at ${count(wind, 'height')}`
				) || 'begin here: make safe',
			progress: stage(
				hazards.length + parts.length + wind > 0,
				makeSafe(file).state === 'safe' && parts.length > 0 && toAccount === 0 && wind > 0
			)
		},
		evidence: {
			words: list(
				evidence.length > 0 ? count(evidence.length, 'item') : 'nothing kept yet',
				unplaced > 0 && `${unplaced} without position`,
				evidence.length > 0 && first > 0 && `${count(first, 'first step')} open`
			),
			progress: stage(evidence.length > 0, evidence.length > 0 && unplaced === 0 && first === 0)
		},
		ground: {
			words: file.site['main']?.pad ? count(pieces - unplaced, 'piece') + ' placed' : 'no pad position yet',
			progress: stage(
				Boolean(file.site['main']?.pad),
				Boolean(file.site['main']?.pad) && unplaced === 0 && pieces > 0
			)
		},
		anomalies: {
			words:
				anomalies.length === 0
					? 'none stated yet'
					: list(
							`${concluded} of ${anomalies.length} concluded`,
							again > 0 && `${again} to be looked at again`
						),
			progress: stage(anomalies.length > 0, settled)
		},
		changes: {
			words:
				changes.length === 0
					? 'none raised yet'
					: list(
							openChanges.length > 0 ? `${openChanges.length} open` : 'all closed',
							holding > 0 && `${holding} hold${holding === 1 ? 's' : ''} the next build`
						),
			progress: stage(changes.length > 0, changes.length > 0 && openChanges.length === 0)
		},
		report: {
			words: settled ? 'ready to read' : 'draft',
			progress: stage(anomalies.length > 0, settled)
		}
	};
}

const stage = (begun: boolean, complete: boolean): Standing['progress'] =>
	complete ? 'complete' : begun ? 'begun' : 'untouched';

export const ROOMS = ['record', 'evidence', 'ground', 'anomalies', 'changes', 'report'] as const;
export type Room = (typeof ROOMS)[number];

/** Branches of an anomaly's tree that still have no disposition: leaves that are open. */
export function openBranches(file: Investigation, anomaly: string): string[] {
	return Object.entries(file.events)
		.filter(
			([, e]) =>
				e.anomaly === anomaly &&
				(e.kind === 'basic' || e.kind === 'undeveloped') &&
				isOpen(e.disposition.state)
		)
		.map(([id]) => id);
}
