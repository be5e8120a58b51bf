import { networkInterfaces } from 'node:os';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { expectAccessible, expectNoSidewaysScroll, withPage } from './support/page';
import { rawRequest, startServer, type RunningServer } from './support/server';

/** Another address of this machine than the one the tool always has. Linux answers on all of 127.0.0.0/8. */
const elsewhere =
	process.platform === 'linux'
		? '127.0.0.2'
		: Object.values(networkInterfaces())
				.flatMap((entries) => entries ?? [])
				.find((entry) => !entry.internal && entry.family === 'IPv4')?.address;

let server: RunningServer;
let open: string;
let code: string;

beforeAll(async () => {
	if (!elsewhere) throw new Error('this machine has no second address to test the pairing with');
	server = await startServer({ WITNESS_MARK_ADDRESS: elsewhere });
	open = server.url.replace('127.0.0.1', elsewhere);
	code = /pair with the code ([A-Z2-9]{4}-[A-Z2-9]{4})/.exec(server.output())?.[1] ?? '';
});
afterAll(async () => {
	expect(await server.stop()).toBe(0);
});

const typed = (text: string, headers: Record<string, string> = { origin: open }) =>
	rawRequest(`${open}/pair`, {
		method: 'POST',
		headers: { 'content-type': 'application/x-www-form-urlencoded', ...headers },
		body: new URLSearchParams({ code: text }).toString()
	});

test('the code and the address stand in the window where it was started', () => {
	expect(code).toMatch(/^.{4}-.{4}$/);
	expect(server.output()).toContain(open);
});

test('an unpaired device gets neither pages nor assets nor data', async () => {
	const page = await rawRequest(`${open}/some/page?x=1`, { headers: { accept: 'text/html' } });
	expect([page.status, page.headers.location]).toEqual([303, '/pair?to=%2Fsome%2Fpage%3Fx%3D1']);
	for (const path of ['/mark.svg', '/', '/__data.json'])
		expect((await rawRequest(open + path)).status).toBe(401);
	const change = await rawRequest(open, { method: 'POST', headers: { origin: open }, body: 'a=b' });
	expect(change.status).toBe(401);
	const forged = await rawRequest(open, { headers: { cookie: `witness-mark-${new URL(open).port}=guess` } });
	expect(forged.status).toBe(401);
});

test('each way in answers to its own name only', async () => {
	for (const [door, host] of [
		[open, new URL(server.url).host],
		[server.url, new URL(open).host],
		[open, 'elsewhere.invalid']
	]) {
		expect((await rawRequest(door!, { headers: { host: host! } })).status).toBe(421);
	}
});

test('this machine itself needs no code', async () => {
	expect((await rawRequest(server.url)).status).toBe(200);
});

test('a foreign page cannot try codes', async () => {
	expect((await typed(code, { origin: 'http://elsewhere.invalid' })).status).toBe(403);
	expect((await typed(code, {})).status).toBe(403);
});

test('after pairing one is led to a page of ours only', async () => {
	const sent = { method: 'POST', headers: { origin: open }, body: `code=${code}` };
	for (const to of [
		'//elsewhere.invalid',
		'http://elsewhere.invalid',
		'/\\elsewhere.invalid',
		'javascript:alert(1)'
	]) {
		const { status, headers } = await rawRequest(`${open}/pair?to=${encodeURIComponent(to)}`, sent);
		expect([status, headers.location], to).toEqual([303, '/']);
	}
});

test('a person with a phone types the code and is in; a wrong one is told so', async () => {
	const context = { viewport: { width: 375, height: 700 } };
	await withPage({ baseUrl: open, context, allow: [/status of 403/] }, async (page) => {
		expect(await page.title()).toMatch(/^Pair this device/);
		await expectAccessible(page);
		await expectNoSidewaysScroll(page);
		await page.getByLabel('Pairing code').fill('wrong');
		await page.getByRole('button', { name: 'Pair' }).click();
		await page
			.getByRole('alert')
			.getByText(/not the code/)
			.waitFor();
		await expectAccessible(page);
		await page.getByLabel('Pairing code').fill(` ${code.toLowerCase().replace('-', ' ')}`);
		await page.getByRole('button', { name: 'Pair' }).click();
		await page.waitForURL(`${open}/`);
		expect(await page.title()).not.toMatch(/^Pair this device/);
		const [cookie] = await page.context().cookies();
		expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Lax' });
	});
});

test('guessing is slowed down, even with the right code at last', async () => {
	const answers: number[] = [];
	for (let i = 0; i < 8; i++) answers.push((await typed(`AAAA-AAA${i}`)).status);
	expect(answers.at(-1)).toBe(429);
	expect((await typed(code)).status).toBe(429);
});
