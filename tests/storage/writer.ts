/**
 * A process that writes until it is killed; bundled by bundle.ts and run with plain node.
 * Arguments: data folder, how long to wait for a silent lock (ms). It prints one JSON line for all it knows:
 * {"open":rev}, {"ack":rev,"id":…,"n":…} after each acknowledgement, {"file":sha256}, {"refused":…}.
 */
import { randomBytes } from 'node:crypto';
import { writeSync } from 'node:fs';
import { Readable } from 'node:stream';
import { openLockedStore } from '../../src/lib/server/storage/locked-store';
import type { JsonObject } from '../../src/lib/server/storage/types';

const say = (value: unknown) => writeSync(1, `${JSON.stringify(value)}\n`);
const [, , root, waitMs = '15000'] = process.argv;
const folder = 'investigations/one';

const opened = await openLockedStore(root!, {
	waitMs: Number(waitMs),
	idleMs: 5,
	onWait: (message) => say({ message })
});
if (!opened.ok) {
	say({ refused: opened.error });
	process.exit(3);
}
const store = opened.value;
await store.create(folder, { who: 'writer', operation: 'begin', args: null }, [
	{ collection: 'evidence', id: 'start', before: null, after: { n: 0 } }
]);
const found = await store.open(folder);
if (!found.ok) {
	say({ refused: found.error });
	process.exit(4);
}
say({ open: found.value.rev, report: found.value.report });

/** Four at once, so that commits share syncs; large ones now and then, so that snapshots come often. */
await Promise.all(
	[0, 1, 2, 3].map(async (lane) => {
		const mine = new Map<string, JsonObject>();
		let { rev } = found.value;
		for (let n = 1; ; n++) {
			const id = `${process.pid}-${lane}-${n % 7}`;
			const after: JsonObject = { n, text: 'x'.repeat(n % 5 === 0 ? 20_000 : 50) };
			if (n % 9 === 0) {
				const bytes = randomBytes(100_000);
				const put = await store.putFile(folder, Readable.from([bytes]), { limitBytes: 1e6 });
				if (put.ok) say({ file: put.value.sha256 });
			}
			const done = await store.commit(
				folder,
				{ baseRev: rev, who: 'writer', operation: 'write', args: { lane, n } },
				{ changes: [{ collection: 'evidence', id, before: mine.get(id) ?? null, after }] }
			);
			if (!done.ok) {
				say({ refused: done.error });
				process.exit(5);
			}
			mine.set(id, after);
			({ rev } = done.value);
			say({ ack: rev, id, n });
		}
	})
);
