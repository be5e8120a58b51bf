import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

/** Bundles a script of this folder with the sources that it uses, to be run with plain node. */
export async function bundle(script: string): Promise<{ path: string; dispose(): Promise<void> }> {
	const folder = await mkdtemp(join(tmpdir(), 'wm-bundle-'));
	await build({
		configFile: false,
		logLevel: 'error',
		ssr: { noExternal: true },
		build: {
			ssr: fileURLToPath(new URL(script, import.meta.url)),
			outDir: folder,
			minify: false,
			target: 'node20',
			rollupOptions: { output: { entryFileNames: 'script.mjs' } }
		}
	});
	return { path: join(folder, 'script.mjs'), dispose: () => rm(folder, { recursive: true }) };
}

/** A process that says what it has acknowledged, one JSON line each. */
export interface Talker {
	process: ChildProcess;
	/** All lines so far. */
	said: Record<string, unknown>[];
	/** Waits for a line. @throws if the process ends without it */
	hear(wanted: (line: Record<string, unknown>) => boolean): Promise<Record<string, unknown>>;
	/** Ends it at once (SIGKILL) and reads what it had said before. */
	kill(): Promise<void>;
	ended: Promise<unknown>;
}

export function start(script: string, args: string[]): Talker {
	const child = spawn(process.execPath, [script, ...args], { stdio: ['ignore', 'pipe', 'inherit'] });
	const said: Record<string, unknown>[] = [];
	const lines = createInterface({ input: child.stdout });
	const ended = Promise.all([once(lines, 'close'), once(child, 'exit')]);
	lines.on('line', (line) => {
		if (!line.endsWith('}')) return; // the kill cut the word off
		said.push(JSON.parse(line) as Record<string, unknown>);
		lines.emit('said');
	});
	return {
		process: child,
		said,
		ended,
		async hear(wanted) {
			let over = false;
			const end = ended.then(() => (over = true));
			for (;;) {
				const found = said.find(wanted);
				if (found) return found;
				if (over) throw new Error(`it ended without that; it said ${JSON.stringify(said.slice(-3))}`);
				await Promise.race([once(lines, 'said'), end]);
			}
		},
		async kill() {
			child.kill('SIGKILL');
			await ended;
		}
	};
}

/** Something that can be written to and killed: the store process here, the whole server elsewhere. */
export interface Victim<Ack> {
	/** Writes until it dies, calling `onAck` for each acknowledgement; must return when it is dead. */
	write(onAck: (ack: Ack) => void): Promise<void>;
	kill(): void;
}

/**
 * Kills a writer again and again at moments after its first acknowledgement (or, for `null`, during its start), and
 * hands what it acknowledged to `check` each time. Returns how many acknowledgements were checked.
 */
export async function killAgainAndAgain<Ack>(
	moments: readonly (number | null)[],
	begin: () => Promise<Victim<Ack>> | Victim<Ack>,
	check: (acknowledged: readonly Ack[]) => Promise<void>
): Promise<number> {
	const all: Ack[] = [];
	for (const moment of moments) {
		const victim = await begin();
		let timer: NodeJS.Timeout | undefined;
		const killIn = (ms: number) => (timer ??= setTimeout(() => victim.kill(), ms));
		if (moment === null) killIn(60 * Math.random());
		await victim.write((ack) => {
			all.push(ack);
			killIn(moment ?? 0);
		});
		clearTimeout(timer);
		await check(all);
	}
	return all.length;
}
