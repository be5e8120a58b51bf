import { type Anomaly, FAULT_CLASSES, type TreeEvent } from '$lib/investigation/schema/anomaly';
import { FAULT_CLASS_WORDS } from '$lib/investigation/views/construction';
import { crossCheck } from '$lib/investigation/views/failure-modes';
import type { Context } from './context';
import { blocks, count, list, table } from './text';
import * as words from './words';

/** The top event in its parts, and what its tree is about. */
export function topStatement(c: Context, { subject, failedState, phase, boundary }: Anomaly): string {
	return blocks(
		subject &&
			failedState &&
			`Top event: ${c.line(subject)}, ${c.line(failedState)}; phase: ${words.PHASE[phase]}.`,
		boundary && boundary.length > 0 && 'Its tree is bounded so:',
		boundary && boundary.length > 0 && list(boundary.map((row) => c.line(row)))
	);
}

/** Of one part or of the system, of which class, and which classes were skipped with what reason. */
export const faultWords = (c: Context, { faultOf, faultClass, skipped }: TreeEvent): string[] => [
	...(faultOf ? [faultOf === 'component' ? 'state of one part' : 'state of the system'] : []),
	...(faultClass ? [FAULT_CLASS_WORDS[faultClass]] : []),
	...FAULT_CLASSES.flatMap((one) =>
		skipped?.[one] ? [`no ${FAULT_CLASS_WORDS[one]}: ${c.line(skipped[one])}`] : []
	)
];

/** Of each contributing factor: that it was there, that it changed what happened, that it matters again. */
export function factors(c: Context, held: readonly TreeEvent[]): string {
	const shown = held.flatMap(({ title, causeType, factor }) =>
		causeType === 'contributing' && factor ? [{ title, ...factor }] : []
	);
	if (shown.length === 0) return '';
	return table(
		['Contributing factor', 'It was there', 'It changed what happened', 'It matters for the next flight'],
		shown.map((one) => [one.title, one.existed, one.influenced, one.matters].map((text) => c.line(text)))
	);
}

/** Where each listed failure mode of a part stands in the trees, so that an omission shows. */
export function failureModes(c: Context): string {
	const rows = crossCheck(c.file);
	if (rows.length === 0) return 'No failure modes of the parts were listed to check the trees against.';
	const open = rows.filter(({ stands }) => stands === 'open').length;
	return blocks(
		open === 0
			? `${count(rows.length, 'failure mode')} of the parts, each placed in a tree or not applicable.`
			: `**${open} of ${count(rows.length, 'failure mode')} neither placed in a tree nor marked as not applicable.**`,
		table(
			['Part', 'Failure mode', 'Stands'],
			rows.map(({ part, mode, stands, event, title, notApplicable }) => [
				c.line(part),
				c.line(mode),
				stands === 'placed'
					? `[${c.line(title)}](#event-${event})`
					: stands === 'notApplicable'
						? `not applicable: ${c.line(notApplicable)}`
						: '**open**'
			])
		)
	);
}
