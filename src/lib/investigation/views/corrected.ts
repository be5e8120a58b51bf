import type { Investigation } from '../case';
import type { InTheWay } from './in-the-way';
import { changedSince } from './proof';
import { eventsOf, isBranch } from './tree';

/** Why a sign is to be looked at again: evidence that it rests on says something else than when it was looked at. */
export const signAsksAgain = (file: Investigation, finding: string): string[] =>
	changedSince(file, file.findings[finding]?.said);

/** [S12] What rests on evidence that was corrected is looked at again: signs first, then what was decided. */
export function restsOnCorrected(file: Investigation, anomaly: string): InTheWay[] {
	const signs = Object.entries(file.findings).flatMap(([id, finding]): InTheWay[] => {
		const why = finding.anomaly === anomaly ? signAsksAgain(file, id) : [];
		if (why.length === 0) return [];
		const message = `F${finding.number} (“${finding.statement}”) is to be looked at again. ${why.join(' ')}`;
		return [{ rule: 'finding', message, where: { view: 'findings', finding: id }, blocks: true }];
	});
	const decided = eventsOf(file, anomaly).flatMap(([id, event]): InTheWay[] => {
		const why = isBranch(event) ? changedSince(file, event.disposition.said) : [];
		if (why.length === 0) return [];
		const message = `“${event.title}” was decided on what has changed. ${why.join(' ')} Decide anew.`;
		return [
			{ rule: 'branch', message, where: { view: 'conclusion', event: id, field: 'state' }, blocks: true }
		];
	});
	return [...signs, ...decided];
}
