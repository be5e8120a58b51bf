import { join } from 'node:path';
import { Attachments } from './attachments';
import { chainProblems } from './checks';
import type { Disk } from './disk';
import { emptyFolder } from './recover';
import { Folder } from './folder';
import { HistoryFiles } from './history-files';
import { encodeLine } from './line';
import { badFile, notItsName } from './refusals';
import {
	no,
	ok,
	type Answer,
	type Change,
	type Command,
	type HistoryLine,
	type Refusal,
	type Rules
} from './types';

/** The first line of a folder that is not there yet. */
export async function firstLines(
	id: string,
	command: Omit<Command, 'baseRev'>,
	changes: readonly Change[],
	rules: Rules,
	now: () => Date
): Answer<readonly HistoryLine[]> {
	let lines: readonly HistoryLine[] = [];
	const sink = {
		append: (_text: string, made: readonly HistoryLine[]) => {
			lines = made;
			return Promise.resolve(null);
		},
		linesSince: () => Promise.resolve([])
	};
	const draft = new Folder(id, emptyFolder(), sink, rules, () => false, now);
	const made = await draft.commit({ ...command, baseRev: 0 }, { changes });
	return made.ok ? ok(lines) : no(made.error);
}

/** Writes lines and files into a directory that nobody sees yet, all of it synced. */
export async function writeDraft(
	disk: Disk,
	directory: string,
	lines: readonly HistoryLine[],
	files: ReadonlyMap<string, AsyncIterable<Uint8Array>>
): Promise<Refusal | null> {
	const problems = chainProblems(lines);
	if (problems.length > 0) return badFile(problems.join(' '));
	await disk.makeDirectory(join(directory, 'history'));
	const history = await HistoryFiles.open(disk, join(directory, 'history'));
	const refusal = await history.append(lines.map((line) => encodeLine(line).text).join(''), lines[0]!.rev);
	await history.close();
	if (refusal) return refusal;
	const attachments = await Attachments.open(disk, join(directory, 'files'));
	for (const [sha256, content] of files) {
		const put = await attachments.put(content, { limitBytes: Infinity });
		if (!put.ok) return put.error;
		if (put.value.sha256 !== sha256) return notItsName(sha256);
	}
	return null;
}
