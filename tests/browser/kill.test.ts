import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { FileStore } from '$lib/server/storage/file-store';
import { killAgainAndAgain, type Victim } from '../storage/processes';
import { rawRequest, startServer, tryToStart, type RunningServer } from './support/server';

const form = { 'content-type': 'application/x-www-form-urlencoded' };

async function post(server: RunningServer, path: string, headers: Record<string, string>, body: string) {
	return rawRequest(server.url, { method: 'POST', path, headers: { ...headers, origin: server.url }, body });
}

/** A server with one investigation; several people add hazards to it until it dies. */
async function victim(dataFolder: string, investigation: string): Promise<Victim<string>> {
	const server = await startServer({ WITNESS_MARK_DATA: dataFolder });
	expect(server.output()).not.toContain('Waiting');
	const addHazards = async (lane: number, onAck: (id: string) => void) => {
		for (let n = 1; ; n++) {
			const what = `charge ${server.pid}-${lane}-${n}`;
			const record = { what, kind: 'charge', state: 'notKnown', by: '', at: '', evidence: null, note: '' };
			const sent = { who: 'Ada', baseRev: 1, operation: 'hazard.save', args: { record } };
			const answer = await post(
				server,
				`/investigations/${investigation}/do`,
				{ 'content-type': 'application/json' },
				JSON.stringify(sent)
			).catch(() => null);
			if (answer === null) return; // the server is dead
			expect(answer).toMatchObject({ status: 200 });
			onAck(what);
		}
	};
	return {
		write: async (onAck) => void (await Promise.all([1, 2, 3].map((lane) => addHazards(lane, onAck)))),
		kill: () => void server.stop('SIGKILL')
	};
}

test('kill -9 of the whole server loses nothing that it had answered, and the next start is free at once', async () => {
	const dataFolder = mkdtempSync(join(tmpdir(), 'witness-mark-kill-'));
	const first = await startServer({ WITNESS_MARK_DATA: dataFolder });
	const typed = new URLSearchParams({
		who: 'Ada',
		title: 'Killed while writing',
		vehicleName: 'Heron',
		flownAt: '2031-05-04T10:00',
		zoneMinutes: '0'
	});
	const begun = await post(first, '/?/begin', form, typed.toString());
	const investigation = /\/investigations\/([a-z0-9-]+)/.exec(begun.headers.location ?? begun.body)?.[1];
	if (investigation === undefined) throw new Error(`${begun.status} ${begun.body}`);
	expect(await first.stop()).toBe(0);

	const folder = `investigations/${investigation}`;
	const answered = await killAgainAndAgain(
		[0, 20, 40, 80, 120],
		() => victim(dataFolder, investigation),
		async (acknowledged) => {
			const store = await FileStore.open(dataFolder);
			const opened = await store.open(folder);
			if (!opened.ok) throw new Error(opened.error.message);
			const kept = new Set(Object.values(opened.value.state['hazards'] ?? {}).map(({ what }) => what));
			expect(acknowledged.filter((what) => !kept.has(what))).toEqual([]);
			expect(await store.verify(folder)).toMatchObject({ ok: true, value: { problems: [] } });
			await store.close();
		}
	);
	expect(answered).toBeGreaterThan(5);
	rmSync(dataFolder, { recursive: true });
});

test('a second server on the same data folder is refused in words', async () => {
	const server = await startServer();
	await rawRequest(server.url);
	const second = await tryToStart({ WITNESS_MARK_DATA: server.dataFolder });
	expect(second).toMatchObject({ ok: false, exitCode: 1 });
	if (!second.ok) expect(second.output).toMatch(/open in another Witness Mark \(process \d+/);
	expect(await server.stop()).toBe(0);
});
