import { randomUUID } from 'node:crypto';
import { existsSync, readFileSync, readlinkSync, statSync } from 'node:fs';
import { link, mkdir, readdir, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { connect, createServer, type AddressInfo, type Server } from 'node:net';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { codeOf } from './disk';
import { no, ok, type Answer } from './types';

const HEARTBEAT_MS = 2_000;

interface Owner {
	token: string;
	/** Token of the dead owner whose place this one took. */
	replaces: string | null;
	/** Answers with the token, on loopback. */
	port: number;
	pid: number;
	/** Ticks since boot at which the process began; null where the system does not say. */
	started: string | null;
	boot: string | null;
	host: string;
	/** Process and network namespaces: a pid or port means nothing outside its own. */
	space: string;
	since: string;
	about: string;
}

export interface Lock {
	/** A sentence if the lock was taken over, else null. Cheap: called for each commit. */
	check: () => string | null;
	release: () => Promise<void>;
}

export interface LockOptions {
	/** How long an owner that neither answers nor is gone may stay silent, ms. */
	waitMs?: number;
	/** Told once, when waiting begins. */
	onWait?: (message: string) => void;
	/** For the message to a second server, such as its address. */
	about?: string;
}

/**
 * Makes this process the only writer of a data folder. An owner that answers refuses us; one whose port refuses and
 * whose process is gone is replaced at once; one that is silent is replaced if it gives no sign for `waitMs`.
 * An owner that was only asleep finds out before it acknowledges anything (`check`).
 */
export async function acquireLock(
	root: string,
	options: LockOptions = {}
): Answer<Lock, { kind: 'locked'; message: string }> {
	const { waitMs = 15_000, onWait = () => {}, about = '' } = options;
	const directory = join(root, 'lock');
	await mkdir(directory, { recursive: true });
	const token = randomUUID();
	const server = await answerWith(token);
	const me = { ...whoAmI(), token, port: (server.address() as AddressInfo).port, about };
	const refuse = (owner: Owner | null) => {
		server.close();
		return no({ kind: 'locked' as const, message: inUse(owner) });
	};
	let silent: (Found & { from: number }) | undefined;
	for (;;) {
		const found = await read(directory);
		const newest = found.at(-1);
		const state = newest ? await judge(newest.owner) : 'gone';
		if (newest && state === 'alive') return refuse(newest.owner);
		if (newest && state === 'unclear') {
			if (!silent) onWait(`Waiting for the previous server's lock (up to ${Math.ceil(waitMs / 1000)} s)…`);
			if (silent?.text !== newest.text) silent = { ...newest, from: performance.now() };
			if (silent.beat !== newest.beat) return refuse(newest.owner); // it says nothing, but it lives
			if (performance.now() - silent.from < waitMs) {
				await new Promise((resolve) => setTimeout(resolve, 250));
				continue;
			}
		}
		const owner: Owner = { ...me, replaces: newest?.owner?.token ?? null };
		const number = await claim(directory, found, owner);
		if (number !== null) return ok(hold(directory, number, token, server));
	}
}

interface Found {
	name: string;
	text: string;
	owner: Owner | null;
	/** Time of its last sign of life. */
	beat: number;
}

const fileOf = (number: number) => `${String(number).padStart(6, '0')}.json`;

async function read(directory: string): Promise<Found[]> {
	const found: Found[] = [];
	for (const name of (await readdir(directory)).sort()) {
		const path = join(directory, name);
		const text = await readFile(path, 'utf8').catch(() => null);
		const beat = statSync(path, { throwIfNoEntry: false })?.mtimeMs;
		if (!/^\d{6}\.json$/.test(name) || text === null || beat === undefined) continue;
		let owner: Owner | null = null;
		try {
			owner = JSON.parse(text) as Owner;
		} catch {
			// Lock files appear whole; a broken one says nothing of its owner, who is then unclear.
		}
		found.push({ name, text, owner, beat });
	}
	return found;
}

/**
 * Takes the next number. Links appear whole and only once, so of many claimants one gets it; it steps back if
 * anyone else turned up meanwhile.
 */
async function claim(directory: string, judged: Found[], owner: Owner): Promise<number | null> {
	const number = Number(judged.at(-1)?.name.slice(0, 6) ?? 0) + 1;
	const name = fileOf(number);
	const draft = join(directory, `${owner.token}.tmp`);
	await writeFile(draft, JSON.stringify(owner), { flush: true });
	try {
		await link(draft, join(directory, name)).catch(async (error: unknown) => {
			if (codeOf(error) === 'EEXIST') throw error;
			await writeFile(join(directory, name), JSON.stringify(owner), { flag: 'wx', flush: true });
		});
	} catch (error) {
		if (codeOf(error) === 'EEXIST') return null;
		throw error;
	} finally {
		await rm(draft, { force: true });
	}
	const others = (await read(directory)).filter((other) => other.name !== name);
	if (others.some((other) => !judged.some(({ name, text }) => name === other.name && text === other.text))) {
		await rm(join(directory, name), { force: true });
		return null;
	}
	for (const other of others) await rm(join(directory, other.name), { force: true });
	return number;
}

function hold(directory: string, number: number, token: string, server: Server): Lock {
	const path = join(directory, fileOf(number));
	const next = join(directory, fileOf(number + 1));
	const inode = statSync(path).ino;
	const heartbeat = setInterval(() => {
		const now = new Date();
		utimes(path, now, now).catch(() => {}); // a lost lock is noticed by check()
	}, HEARTBEAT_MS).unref();
	const check = () => {
		if (statSync(path, { throwIfNoEntry: false })?.ino === inode && !isReplaced(next, token)) return null;
		return 'another Witness Mark has taken over this data folder';
	};
	return {
		check,
		async release() {
			clearInterval(heartbeat);
			const mine = check() === null;
			await new Promise((resolve) => server.close(resolve));
			if (mine) await rm(path, { force: true });
		}
	};
}

function isReplaced(next: string, token: string): boolean {
	if (!existsSync(next)) return false;
	try {
		return (JSON.parse(readFileSync(next, 'utf8')) as Owner).replaces === token;
	} catch {
		return true; // half-written on a file system without links: to stop is the safe side
	}
}

async function judge(owner: Owner | null): Promise<'alive' | 'gone' | 'unclear'> {
	if (!owner) return 'unclear';
	const me = whoAmI();
	if (owner.host !== me.host) return 'unclear';
	if (owner.boot !== null && me.boot !== null && owner.boot !== me.boot) return 'gone';
	if (owner.space !== me.space) return 'unclear';
	if ((await ask(owner.port)) === owner.token) return 'alive';
	return isRunning(owner) ? 'unclear' : 'gone';
}

function isRunning({ pid, started }: Owner): boolean {
	try {
		process.kill(pid, 0);
	} catch (error) {
		if (codeOf(error) === 'ESRCH') return false; // EPERM: it runs, as someone else
	}
	const found = statOf(pid);
	if (found && 'ZX'.includes(found.state)) return false; // dead, only not yet fetched by its parent
	return started === null || found === null || started === found.started;
}

/** What the port says within a second: a token, or '' for a refusal, silence or another's answer. */
function ask(port: number): Promise<string> {
	return new Promise((resolve) => {
		let said = '';
		const socket = connect({ host: '127.0.0.1', port, timeout: 1_000 });
		const end = () => {
			socket.destroy();
			resolve(said);
		};
		socket.setEncoding('utf8');
		socket.on('data', (text) => (said += String(text)));
		socket.on('data', () => said.length > 100 && end());
		socket.on('end', end).on('error', end).on('timeout', end);
	});
}

function answerWith(token: string): Promise<Server> {
	return new Promise((resolve, reject) => {
		const server = createServer((socket) => socket.on('error', () => {}).end(token));
		server.unref();
		server.once('error', reject);
		server.listen(0, '127.0.0.1', () => resolve(server));
	});
}

function whoAmI(): Omit<Owner, 'token' | 'replaces' | 'port' | 'about'> {
	return {
		pid: process.pid,
		started: statOf(process.pid)?.started ?? null,
		boot: tryTo(() => readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim()),
		host: hostname(),
		space: [`pid`, `net`].map((kind) => tryTo(() => readlinkSync(`/proc/self/ns/${kind}`))).join(' '),
		since: new Date().toISOString()
	};
}

/** Fields 3 and 22 of /proc/<pid>/stat; the name before them may hold spaces and brackets. */
function statOf(pid: number): { state: string; started: string } | null {
	const fields = tryTo(() => readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').pop()!.split(' '));
	return fields && { state: fields[0]!, started: fields[19]! };
}

function tryTo<T>(action: () => T): T | null {
	try {
		return action();
	} catch {
		return null; // not on this system
	}
}

function inUse(owner: Owner | null): string {
	const who = owner
		? ` (process ${owner.pid}${owner.host === hostname() ? '' : ` on ${owner.host}`}, since ${owner.since})`
		: '';
	return `This data folder is open in another Witness Mark${who}. Use that one${owner?.about ? ` (${owner.about})` : ''}, or stop it first.`;
}
