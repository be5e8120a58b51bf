import { join } from 'node:path';
import { Attachments } from './attachments';
import { isFull, type Disk } from './disk';
import { Folder } from './folder';
import type { HistoryFiles } from './history-files';
import { recover, repair, type Recovered } from './recover';
import { nothingToRestore, readOnly } from './refusals';
import { no, ok, type Answer, type Committed, type HistoryLine, type Refusal, type Rules } from './types';
import { deepFreeze } from './values';

/** A snapshot is due when the lines since the last one outweigh the state: its cost per commit stays level. */
const MIN_LINES_BYTES = 256_000;

export interface Settings {
	rules: Rules;
	disk: Disk;
	/** Why this process may no longer write (its lock was taken), or null. Asked before each acknowledgement. */
	guard: () => string | null;
	now: () => Date;
	/** Quiet time after which a snapshot is written, ms. */
	idleMs: number;
}

/** A folder in use: state in memory, history and files on disk, and the snapshot that follows now and then. */
export class OpenFolder {
	readonly folder: Folder;
	readonly history: HistoryFiles;
	readonly report: string[];
	/** What the rules say against the state as it was found. */
	problems: string[] = [];
	private savedRev: number;
	private linesBytes = 0;
	private saving: Promise<void> | null = null;
	private idle: NodeJS.Timeout | null = null;

	private constructor(
		id: string,
		readonly directory: string,
		private readonly recovered: Recovered,
		readonly files: Attachments,
		private readonly settings: Settings
	) {
		const { low, history, report, savedRev } = recovered;
		this.history = history;
		this.report = report;
		this.savedRev = savedRev;
		const sink = {
			append: (text: string, lines: readonly HistoryLine[]) => this.append(text, lines[0]!.rev),
			linesSince: async (rev: number) => (await history.lines(rev + 1, low.data.rev)).lines
		};
		this.folder = new Folder(id, low.data, sink, settings.rules, (sha256) => files.has(sha256), settings.now);
	}

	static async open(id: string, directory: string, settings: Settings): Answer<OpenFolder> {
		const { disk, rules } = settings;
		const recovered = await recover(disk, directory, (state) => rules.summary?.(id, state) ?? {});
		if ('kind' in recovered) return no(recovered);
		const files = await Attachments.open(disk, join(directory, 'files'));
		const open = new OpenFolder(id, directory, recovered, files, settings);
		if (recovered.damage) return ok(open);
		const { tooNew, upgrade = [], problems = [] } = rules.opened?.(id, open.folder.read().state) ?? {};
		if (tooNew !== undefined) return no({ kind: 'too-new', message: tooNew });
		open.problems = problems;
		if (upgrade.length > 0) {
			await open.save(); // the state before the upgrade stays among the backups
			const command = {
				baseRev: recovered.low.data.rev,
				who: 'Witness Mark',
				operation: 'upgrade the format',
				args: null
			};
			const done = await open.folder.commit(command, { changes: upgrade }, true);
			if (!done.ok) {
				await open.history.close();
				return no(done.error);
			}
		}
		return ok(open);
	}

	/** The refusal that a damaged folder gives to everything but reading its past. */
	get damaged(): Refusal | null {
		const { damage, low } = this.recovered;
		if (!damage) return null;
		const lastGoodRev = low.data.rev;
		const message =
			`${damage.message}. Nothing was changed. You can look at revision ${lastGoodRev}, the last good one, ` +
			'and go on from it (the damaged files are set aside), or bring the folder back from a backup.';
		return { kind: 'damaged', message, lastGoodRev };
	}

	/** Frozen lines, as far as they are acknowledged. */
	async lines(from: number, to: number): Answer<HistoryLine[]> {
		const { rev } = this.recovered.low.data;
		const { lines, damagedFile } = await this.history.lines(from, Math.min(to, rev));
		if (damagedFile !== null)
			return no({
				kind: 'damaged',
				message: `${damagedFile} is damaged after revision ${lines.at(-1)?.rev ?? from - 1}. Bring it back from a backup.`,
				lastGoodRev: rev
			});
		return ok(deepFreeze(lines));
	}

	/** Accepts the last good state; the folder has to be opened again after it. */
	async repair(who: string): Answer<Committed & { report: string[] }> {
		const { damage, low } = this.recovered;
		if (!damage) return no(nothingToRestore());
		const time = this.settings.now().toISOString();
		const by = { who, time };
		const { refusal, report } = await repair(this.settings.disk, this.directory, this.recovered, damage, by);
		await this.history.close();
		return refusal ? no(refusal) : ok({ rev: low.data.rev + 1, time, report });
	}

	/** Writes the snapshot if there is anything new. Failing for want of room is no harm: the history has it all. */
	save(): Promise<void> {
		this.saving ??= this.writeSnapshot().finally(() => (this.saving = null));
		return this.saving;
	}

	/** A sentence if the snapshot on disk cannot be read. */
	async verifySnapshot(): Promise<string[]> {
		try {
			await this.recovered.low.adapter.read();
			return [];
		} catch (error) {
			return [`${String(error)}. Closing the tool writes it anew.`];
		}
	}

	async close(): Promise<void> {
		if (this.idle) clearTimeout(this.idle);
		await this.folder.settled();
		if (!this.recovered.damage) {
			await this.saving;
			await this.save();
		}
		await this.history.close();
	}

	private async writeSnapshot(): Promise<void> {
		const { low } = this.recovered;
		const { rev } = low.data;
		if (rev === this.savedRev || this.history.fault !== null || this.settings.guard() !== null) return;
		try {
			await low.write();
			this.savedRev = rev;
			this.linesBytes = 0;
			this.history.rotate();
		} catch (error) {
			if (!isFull(error)) this.history.stop(`the state could not be saved (${String(error)})`);
		}
	}

	private async append(text: string, firstRev: number): Promise<Refusal | null> {
		const refusal = await this.history.append(text, firstRev);
		if (refusal) return refusal;
		// Asked after the sync: who takes the lock later than this reads our line, and it may be acknowledged.
		const lost = this.settings.guard();
		if (lost !== null) {
			this.history.stop(lost);
			return readOnly(lost);
		}
		this.linesBytes += text.length;
		if (this.linesBytes > Math.max(MIN_LINES_BYTES, this.recovered.low.data.bytes))
			setImmediate(() => void this.save());
		if (this.idle) this.idle.refresh();
		else this.idle = setTimeout(() => void this.save(), this.settings.idleMs).unref();
		return null;
	}
}
