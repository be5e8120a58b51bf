import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { rawRequest, startServer } from './support/server';

const HERE = { WITNESS_MARK_EXAMPLE: '' };
const PAGE = '/investigations/lantern-2-flight-3/record';

test('a new data folder has the example, marked as invented; who took it away does not get it back', async () => {
	const folder = mkdtempSync(join(tmpdir(), 'witness-mark-example-'));
	const first = await startServer({ ...HERE, WITNESS_MARK_DATA: folder });
	expect((await rawRequest(first.url)).body).toContain('The example: an invented flight.');
	expect((await rawRequest(first.url, { path: PAGE })).status).toBe(200);
	expect(await first.stop()).toBe(0);

	rmSync(join(folder, 'investigations/lantern-2-flight-3'), { recursive: true });
	const second = await startServer({ ...HERE, WITNESS_MARK_DATA: folder });
	expect((await rawRequest(second.url, { path: PAGE })).status).toBe(404);
	expect(await second.stop()).toBe(0);
	rmSync(folder, { recursive: true });
});

test('a folder that asks for none begins empty', async () => {
	const server = await startServer({ WITNESS_MARK_EXAMPLE: 'no' });
	expect((await rawRequest(server.url)).body).not.toContain('The example');
	expect(await server.stop()).toBe(0);
});
