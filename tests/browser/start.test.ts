import { createServer, type AddressInfo } from 'node:net';
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { rawRequest, startServer, tryToStart } from './support/server';

test('it makes its data folder, prints the address last, and ends cleanly when asked', async () => {
	const parent = mkdtempSync(join(tmpdir(), 'witness-mark-start-'));
	const folder = join(parent, 'new', 'data');
	const server = await startServer({ WITNESS_MARK_DATA: folder });
	expect(server.output().trimEnd().split('\n').at(-1)).toBe(server.url);
	expect(server.output()).toContain(folder);
	expect(existsSync(folder)).toBe(true);
	expect(readdirSync(folder).filter((name) => name.startsWith('.write-test'))).toEqual([]);
	expect((await rawRequest(server.url)).status).toBe(200);
	expect(await server.stop()).toBe(0);
	rmSync(parent, { recursive: true });
});

test('a taken port is said in words', async () => {
	const other = createServer().listen(0, '127.0.0.1');
	await new Promise((done) => other.once('listening', done));
	const { port } = other.address() as AddressInfo;
	const result = await tryToStart({ WITNESS_MARK_PORT: String(port) });
	other.close();
	expect(result).toMatchObject({ ok: false, exitCode: 1 });
	if (!result.ok)
		expect(result.output).toMatch(new RegExp(`^Port ${port} .* is taken: .*WITNESS_MARK_PORT\\.\\n$`));
});

test('a data folder that cannot be written is said in words', async () => {
	const parent = mkdtempSync(join(tmpdir(), 'witness-mark-start-'));
	const file = join(parent, 'a-file');
	writeFileSync(file, 'not a folder');
	const result = await tryToStart({ WITNESS_MARK_DATA: join(file, 'data') });
	rmSync(parent, { recursive: true });
	expect(result).toMatchObject({ ok: false, exitCode: 1 });
	if (!result.ok)
		expect(result.output).toMatch(/^The data folder .* can't be written .*WITNESS_MARK_DATA\.\n$/);
});

// Where even the folder above refuses by saying that there is none: a folder nobody can make, without an end.
test.runIf(existsSync('/proc/self'))('a data folder that cannot be made is said in words', async () => {
	const result = await tryToStart({ WITNESS_MARK_DATA: '/proc/nope/data' });
	expect(result).toMatchObject({ ok: false, exitCode: 1 });
	if (!result.ok)
		expect(result.output).toMatch(/^The data folder \/proc\/nope\/data can't be written .*\.\n$/);
});

test.each([
	['WITNESS_MARK_PORT', 'eighty'],
	['WITNESS_MARK_PORT', '65536'],
	['WITNESS_MARK_PORT', '-1'],
	['WITNESS_MARK_ADDRESS', '0.0.0.0'],
	['WITNESS_MARK_ADDRESS', '::'],
	['WITNESS_MARK_ADDRESS', 'laptop'],
	['WITNESS_MARK_ADDRESS', '192.0.2.1'] // TEST-NET-1 of RFC 5737: no machine has it
])('%s=%s is refused in words', async (name, value) => {
	const result = await tryToStart({ [name]: value });
	expect(result).toMatchObject({ ok: false, exitCode: 1 });
	if (!result.ok)
		expect(result.output).toMatch(new RegExp(`^[^\\n]*${value.replace(/[.]/g, '\\.')}[^\\n]*\\.\\n$`));
});
