import type { Change } from '$lib/investigation/schema/change';
import { judge } from '$lib/investigation/views/change-life';
import { provesNoLonger } from '$lib/investigation/views/proof';
import { byNumber, type Context, localMoment, utcMoment } from './context';
import { anchor, blocks, literal, table } from './text';
import * as words from './words';

/** Part 4: what changes, for which build, against what number, and how far it has come. */
export function changes(c: Context): string {
	const all = byNumber(c.file.changes);
	if (all.length === 0) return 'No change has been raised.';
	return blocks(
		c.room('changes'),
		table(
			['No.', 'Part', 'Change', 'Build', 'Who, until', 'To be shown', 'Stands'],
			all.map(([, change]) => [
				`${anchor(`c${change.number}`)}C${change.number}`,
				c.line(change.part),
				`${c.line(change.title)}: ${change.oldValue ? `${c.line(change.oldValue)} → ` : ''}${c.line(change.newValue)}`,
				`${c.line(change.buildName) || 'every build'}${change.required ? ' (required)' : ''}`,
				[c.line(change.responsible), literal(localMoment(change.due))].filter(Boolean).join(', '),
				`${c.line(change.how)}${criterionText(c, change) && `: ${criterionText(c, change)}`}`,
				`**${provesNoLonger(c.file, change).length > 0 ? 'to be proved again' : change.state}**`
			])
		),
		...all.map(([, change]) => life(c, change))
	);
}

/** 'load at failure at least 45 N'. */
export function criterionText(c: Pick<Context, 'line' | 'quantity'>, { criterion }: Change): string {
	if (!criterion) return '';
	const upper = criterion.upper ? ` and ${c.quantity(criterion.upper)}` : '';
	return `${c.line(criterion.what)} ${words.CRITERION[criterion.is]} ${c.quantity(criterion.value)}${upper}`;
}

const VERDICT = {
	meets: 'meets it',
	mayNotMeet: 'may not meet it within its uncertainty',
	fails: 'does not meet it',
	notComparable: 'cannot be compared with it'
} as const;

function life(c: Context, change: Change): string {
	const anomaly = c.file.anomalies[change.anomaly];
	const cause = change.answers ? c.file.events[change.answers] : undefined;
	const again = provesNoLonger(c.file, change).map((fault) => c.line(fault));
	return blocks(
		`**C${change.number} ${c.line(change.title)}** answers ${anomaly ? `[A${anomaly.number}](#a${anomaly.number})` : 'an anomaly no longer there'}${cause ? `, cause [${c.line(cause.title)}](#event-${change.answers})` : ''}. Strength: ${words.RUNG[change.rung]}.`,
		change.newRisk && 'New risk that it brings:',
		c.block(change.newRisk),
		table(
			['Step', 'When', 'By', 'On what'],
			change.steps.map((step) => [
				step.state,
				utcMoment(step.at),
				c.line(step.by),
				[
					step.value &&
						`measured ${c.quantity(step.value)}${change.criterion && (step.state === 'verified' || step.state === 'reopened') ? `, ${VERDICT[judge(change.criterion, step.value).verdict]}` : ''}`,
					step.flight && `flight: ${c.line(step.flight)}`,
					step.turned && `the failure was ${words.TURNED[step.turned]}`,
					c.line(step.reason),
					c.cites(step.cites)
				]
					.filter(Boolean)
					.join('; ')
			])
		),
		again.length > 0 && `**To be proved again.** ${again.join(' ')}`
	);
}
