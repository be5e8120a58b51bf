import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { expect, inject, test } from 'vitest';
import { expectAccessible, expectNoSidewaysScroll, reboundName, theBrowser, withPage } from './support/page';
import { rawRequest } from './support/server';

const baseUrl = inject('baseUrl');
const ownHost = new URL(baseUrl).host;
const port = new URL(baseUrl).port;
const anAsset = '/mark.svg';

test('the first page has a title, a main heading and no accessibility faults', async () => {
	await withPage({}, async (page) => {
		expect(await page.title()).toMatch(/Witness Mark/);
		expect(await page.locator('h1').count()).toBe(1);
		await expectAccessible(page);
	});
});

test('the first page fits a phone', async () => {
	await withPage({ context: { viewport: { width: 375, height: 700 } } }, expectNoSidewaysScroll);
});

test.each([
	['a page', '/'],
	['an asset', anAsset],
	['an unknown address', '/nothing-here']
])('%s carries the security headers', async (_what, path) => {
	const { headers } = await rawRequest(baseUrl + path);
	expect(headers['x-content-type-options']).toBe('nosniff');
	expect(headers['x-frame-options']).toBe('DENY');
	expect(headers['cross-origin-resource-policy']).toBe('same-origin');
	expect(headers['cross-origin-opener-policy']).toBe('same-origin');
	expect(headers['referrer-policy']).toBe('same-origin');
});

test('the policy of pages allows scripts and style elements with a nonce only', async () => {
	const policies = await Promise.all([rawRequest(baseUrl), rawRequest(baseUrl)]);
	const [first, second] = policies.map(({ headers }) => String(headers['content-security-policy']));
	expect(first).toMatch(/default-src 'self'/);
	expect(first).toMatch(/script-src 'self' 'nonce-[^']+'(;|$)/);
	expect(first).toMatch(/frame-ancestors 'none'/);
	expect(first?.replace(/style-src-attr 'unsafe-inline'/, '')).not.toMatch(/unsafe|\*|https?:/);
	expect(first).not.toBe(second); // a nonce is used once
});

test('an inline script without the nonce does not run, and the check for it would have failed the test', async () => {
	const inject = withPage({}, async (page) => {
		await page.evaluate(() => {
			const script = document.createElement('script');
			script.textContent = 'document.title = "injected"';
			document.body.append(script);
		});
		expect(await page.title()).not.toBe('injected');
	});
	await expect(inject).rejects.toThrow(/policy violation: script-src-elem inline/);
});

test('a request elsewhere fails the test that makes it', async () => {
	const ask = withPage({}, (page) =>
		page.evaluate(() => fetch('http://elsewhere.invalid/').then(undefined, () => {})).then(() => {})
	);
	await expect(ask).rejects.toThrow(/request to another origin|policy violation: connect-src/);
});

test.each([['/'], [anAsset]])('a foreign name that points here is refused for %s', async (path) => {
	for (const host of [
		'elsewhere.invalid',
		`elsewhere.invalid:${port}`,
		`${ownHost}.elsewhere.invalid`,
		'127.0.0.1:1'
	]) {
		expect((await rawRequest(baseUrl + path, { headers: { host } })).status, host).toBe(421);
	}
});

test('localhost is led to the one canonical origin, path and all', async () => {
	const { status, headers } = await rawRequest(`${baseUrl}/a/b?c=d`, {
		headers: { host: `localhost:${port}` }
	});
	expect([status, headers.location]).toEqual([308, `${baseUrl}/a/b?c=d`]);
	const tricky = await rawRequest(baseUrl, {
		path: '//elsewhere.invalid/x',
		headers: { host: `localhost:${port}` }
	});
	expect(tricky.headers.location).toBe(`${baseUrl}/elsewhere.invalid/x`);
	const whole = await rawRequest(baseUrl, { path: 'http://elsewhere.invalid/', headers: { host: ownHost } });
	expect(whole.status).toBe(400);
});

const foreign: [string, Record<string, string>][] = [
	['a foreign Origin', { origin: 'http://elsewhere.invalid' }],
	[
		'a foreign Origin with a form',
		{ origin: 'http://elsewhere.invalid', 'content-type': 'application/x-www-form-urlencoded' }
	],
	['a foreign Origin with JSON', { origin: 'http://elsewhere.invalid', 'content-type': 'application/json' }],
	['no Origin at all', {}],
	['an opaque Origin', { origin: 'null' }],
	['our Origin on https', { origin: `https://${ownHost}` }],
	['another port of this machine', { origin: 'http://127.0.0.1:1' }],
	['a cross-site fetch that claims our Origin', { origin: baseUrl, 'sec-fetch-site': 'cross-site' }],
	['a same-site fetch', { origin: baseUrl, 'sec-fetch-site': 'same-site' }]
];
test.each(foreign)('a change with %s is refused', async (_what, headers) => {
	for (const method of ['POST', 'PUT', 'PATCH', 'DELETE']) {
		const { status, body } = await rawRequest(baseUrl, { method, headers, body: 'a=b' });
		expect(status, method).toBe(403);
		expect(body).toMatch(/nothing was changed/);
	}
});

test.each([[{ origin: baseUrl }], [{ origin: baseUrl, 'sec-fetch-site': 'same-origin' }]])(
	'a change from our own page passes the check: %o',
	async (own) => {
		const headers = { ...own, 'content-type': 'application/x-www-form-urlencoded' };
		// There is nothing to post to at this address, and that is what the answer says.
		expect(
			(await rawRequest(`${baseUrl}/nothing-here`, { method: 'POST', headers, body: 'a=b' })).status
		).toBe(404);
	}
);

test('a command over 1 MB is refused', async () => {
	const headers = { origin: baseUrl, 'content-type': 'application/json' };
	const body = new Uint8Array(1024 * 1024 + 1);
	const declared = await rawRequest(baseUrl, { method: 'POST', headers, body });
	expect(declared.status).toBe(413);
	expect(declared.body).toMatch(/larger than 1 MB/);
});

test('a browser that is led here under a foreign name sees no page', async () => {
	const page = await (await theBrowser()).newPage();
	const answer = await page.goto(`http://${reboundName}:${port}/`);
	expect(answer?.status()).toBe(421);
	await page.close();
});

test('a form on a foreign page that posts here is refused', async () => {
	const types = ['application/x-www-form-urlencoded', 'multipart/form-data', 'text/plain'];
	const trap = createServer((_req, res) => {
		const forms = types.map(
			(type) => `<form method="post" enctype="${type}" action="${baseUrl}/"><button>${type}</button></form>`
		);
		res.setHeader('content-type', 'text/html').end(forms.join(''));
	});
	await new Promise<void>((done) => trap.listen(0, '127.0.0.1', done));
	const page = await (await theBrowser()).newPage();
	for (const type of types) {
		await page.goto(`http://127.0.0.1:${(trap.address() as AddressInfo).port}/`);
		const [answer] = await Promise.all([page.waitForResponse(`${baseUrl}/`), page.getByText(type).click()]);
		expect(answer.status(), type).toBe(403);
	}
	await page.close();
	trap.close();
});
