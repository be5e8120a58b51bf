import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { request, type IncomingHttpHeaders } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { environmentOfAShell, root } from '../../../scripts/setup.mjs';

export interface RunningServer {
	/** The address to open. */
	url: string;
	dataFolder: string;
	pid: number;
	/** Everything that was printed so far, stdout and stderr. */
	output(): string;
	/** Asks it to stop as a person would (SIGTERM) or without asking (SIGKILL), and waits for its end. */
	stop(signal?: 'SIGTERM' | 'SIGKILL'): Promise<number | null>;
}

export type StartResult =
	{ ok: true; server: RunningServer } | { ok: false; exitCode: number | null; output: string };

/**
 * Starts the built server as `npm start` does, on a free port. It must have been built (`setUp({ build: true })`):
 * not here, where a source that changed meanwhile would replace the build under other running servers.
 * @param env settings on top: WITNESS_MARK_DATA, WITNESS_MARK_ADDRESS, ... A data folder of its own (removed at
 * the end) unless one is named.
 */
export async function tryToStart(env: Record<string, string> = {}): Promise<StartResult> {
	const ownFolder = env['WITNESS_MARK_DATA'] ? undefined : mkdtempSync(join(tmpdir(), 'witness-mark-data-'));
	const dataFolder = env['WITNESS_MARK_DATA'] ?? ownFolder!;
	const child = spawn(process.execPath, [join(root, 'scripts/serve.mjs')], {
		env: {
			...environmentOfAShell(),
			WITNESS_MARK_PORT: '0',
			WITNESS_MARK_EXAMPLE: 'no',
			WITNESS_MARK_DATA: dataFolder,
			...env
		},
		stdio: ['ignore', 'pipe', 'pipe']
	});
	let output = '';
	child.stderr.on('data', (chunk) => (output += String(chunk)));
	const exited = new Promise<number | null>((done) => child.once('exit', done)).finally(() => {
		if (ownFolder) rmSync(ownFolder, { recursive: true, force: true });
	});
	const url = new Promise<string>((done) =>
		child.stdout.on('data', (chunk) => {
			output += String(chunk);
			const address = /^(http:\/\/127\.0\.0\.1:\d+)\n/m.exec(output)?.[1];
			if (address) done(address);
		})
	);
	const first = await Promise.race([url, exited]);
	if (typeof first !== 'string') return { ok: false, exitCode: first, output };
	return {
		ok: true,
		server: {
			url: first,
			dataFolder,
			pid: child.pid!,
			output: () => output,
			stop(signal = 'SIGTERM') {
				child.kill(signal);
				return exited;
			}
		}
	};
}

/** @throws if it does not start, with what it printed */
export async function startServer(env: Record<string, string> = {}): Promise<RunningServer> {
	const result = await tryToStart(env);
	if (!result.ok) throw new Error(`the server ended with ${result.exitCode}:\n${result.output}`);
	return result.server;
}

export interface RawAnswer {
	status: number;
	headers: IncomingHttpHeaders;
	body: string;
}

/** A request with any header as given, also those that fetch keeps for itself (Host, Origin, Sec-Fetch-Site). */
export function rawRequest(
	url: string,
	options: {
		method?: string;
		path?: string;
		headers?: Record<string, string>;
		body?: string | Uint8Array;
	} = {}
): Promise<RawAnswer> {
	return new Promise((done, fail) => {
		const { path, method = 'GET', body } = options;
		const headers = {
			...(body === undefined ? {} : { 'content-length': Buffer.byteLength(body) }),
			...options.headers
		};
		const sent = request(url, { method, headers, ...(path === undefined ? {} : { path }) }, (answer) => {
			let text = '';
			answer.setEncoding('utf8').on('data', (chunk: string) => (text += chunk));
			answer.on('end', () => done({ status: answer.statusCode ?? 0, headers: answer.headers, body: text }));
		});
		sent.once('error', fail);
		sent.end(body);
	});
}
