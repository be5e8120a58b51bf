import { encodeLine, NO_LINE } from './line';
import { noRevision } from './refusals';
import { no, ok, type HistoryLine, type Records, type Refusal, type Result, type Rules } from './types';
import { deepFreeze, dictionary, replay, sameValue, wholeAsChanges } from './values';

/** Whether lines follow each other without gap or exchange, in sentences. */
export function chainProblems(lines: readonly HistoryLine[]): string[] {
	if (lines.length === 0) return ['The history is empty.'];
	let last = { rev: 0, crc: NO_LINE };
	for (const line of lines) {
		const follows = line.rev === last.rev + 1 && line.prev === last.crc;
		if (!follows && !(line.baseline && line.rev > last.rev))
			return [`The history breaks between revisions ${last.rev} and ${line.rev}.`];
		last = { rev: line.rev, crc: encodeLine(line).crc };
	}
	return [];
}

/** Whether a history is whole and leads to a state, in sentences. */
export function historyProblems(lines: readonly HistoryLine[], state: Records): string[] {
	const leads = sameValue(replay(dictionary(), lines), state);
	return [...chainProblems(lines), ...(leads ? [] : ['The history does not lead to the present state.'])];
}

/** The state that the lines up to `rev` make, frozen. */
export function stateFrom(lines: readonly HistoryLine[], rev: number): Result<Records, Refusal> {
	return lines.at(-1)?.rev === rev ? ok(deepFreeze(replay(dictionary(), lines))) : no(noRevision(rev));
}

/** A sentence for each file that a state names and that is not there. */
export function absentFiles(rules: Rules, state: Records, isHere: (sha256: string) => boolean): string[] {
	const named = rules.filesNamed?.(wholeAsChanges(state)) ?? [];
	return named.filter((sha256) => !isHere(sha256)).map((sha256) => `The file ${sha256} is missing.`);
}
