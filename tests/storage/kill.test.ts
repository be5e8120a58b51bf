import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openLockedStore } from '$lib/server/storage/locked-store';
import { bundle, killAgainAndAgain, start, type Victim } from './processes';

const FOLDER = 'investigations/one';
type Ack = { ack: number; id: string; n: number } | { file: string };
let script: Awaited<ReturnType<typeof bundle>>;

beforeAll(async () => {
	script = await bundle('writer.ts');
});
afterAll(() => script.dispose());

/** A writer process on a data folder. */
function writer(root: string): Victim<Ack> {
	const talker = start(script.path, [root]);
	return {
		async write(onAck) {
			let told = 0;
			const tell = () => {
				for (; told < talker.said.length; told++) {
					const line = talker.said[told]!;
					if ('refused' in line) throw new Error(JSON.stringify(line));
					if ('ack' in line || 'file' in line) onAck(line as Ack);
				}
			};
			talker.process.stdout!.on('data', () => setImmediate(tell));
			await talker.ended;
			tell();
		},
		kill: () => void talker.process.kill('SIGKILL')
	};
}

/** Opens what the dead writer left, at once, and looks for all that it had acknowledged. */
async function expectNothingLost(root: string, acknowledged: readonly Ack[]) {
	const opened = await openLockedStore(root, {
		waitMs: 0,
		onWait: () => expect.fail('the lock was not free')
	});
	if (!opened.ok) throw new Error(opened.error.message);
	const store = opened.value;
	try {
		const history = await store.history(FOLDER);
		if (!history.ok) {
			expect(acknowledged).toEqual([]); // killed before the folder was there
			return;
		}
		const kept = new Map(history.value.map((line) => [line.rev, line]));
		for (const ack of acknowledged) {
			if ('file' in ack) expect(await store.hasFile(FOLDER, ack.file)).toBe(true);
			else expect(kept.get(ack.ack)?.changes).toMatchObject([{ id: ack.id, after: { n: ack.n } }]);
		}
		const found = await store.verify(FOLDER);
		expect(found).toMatchObject({ ok: true, value: { problems: [] } });
	} finally {
		await store.close();
	}
}

describe('kill -9', () => {
	it.concurrent.each([1, 2])(
		'at 50 random moments loses nothing that was acknowledged (lane %i of 2)',
		async () => {
			let checked = 0;
			for (let n = 0; n < 5; n++) {
				const root = await mkdtemp(join(tmpdir(), 'wm-kill-'));
				// Two of ten during the start, while it recovers from the last; the others among commits and snapshots.
				const moments = Array.from({ length: 10 }, (_, i) => (i % 5 === 4 ? null : Math.random() ** 2 * 80));
				const check = (acknowledged: readonly Ack[]) => expectNothingLost(root, acknowledged);
				checked += await killAgainAndAgain(moments, () => writer(root), check);
				await rm(root, { recursive: true });
			}
			expect(checked).toBeGreaterThan(40);
		},
		100_000
	);
});
