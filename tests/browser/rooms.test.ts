import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { asWorker, makeCase } from './support/made-case';
import { accessibilityFaults, withPage } from './support/page';
import { startServer, type RunningServer } from './support/server';
import { smallTargets } from './support/targets';

/*
 * Every screen that a link leads to: in light on a desk and in dark on a phone. The walk begins at the first page and
 * goes on along links; of screens that differ by their identity only it takes a few.
 */
let server: RunningServer;
beforeAll(async () => {
	server = await startServer({ WITNESS_MARK_EXAMPLE: 'yes' });
});
afterAll(() => server?.stop());

const DESK = { width: 1280, height: 900 };
const PHONE = { width: 375, height: 760 };
/** What hangs on colours and room; the other rules see the same page in dark and on a phone. */
const LOOKS = ['color-contrast', 'link-in-text-block', 'scrollable-region-focusable'];
/** Screens of one kind that are looked at. */
const OF_A_KIND: Record<string, number> = { '/investigations/*/evidence/*': 2, '/methods/*': 20 };

/** Identities and choices left out: what is left is the kind of screen. */
function kindOf(url: URL): string {
	const path = url.pathname
		.replace(/^\/(investigations|vehicles|methods)\/[^/]+/, '/$1/*')
		.replace(/\/(evidence|anomalies|calculations)\/(?!new\b)[^/]+/, '/$1/*')
		.replace(/\/causes\/[^/]+/, '/causes/*');
	// What is begun or chosen makes another screen; filters and pages of a list do not.
	const chosen = ['add', 'calculation', 'raise', 'change'].find((name) => url.searchParams.has(name));
	if (chosen === undefined) return path;
	return `${path} ${chosen === 'add' || chosen === 'calculation' ? url.searchParams.get(chosen) : chosen}`;
}

/** Links of the page to screens of its own, without those that save a file. */
const linksOf = (page: Page): Promise<string[]> =>
	page
		.locator('a[href]:not([download])')
		.evaluateAll((links) => links.map((a) => (a as HTMLAnchorElement).href));

async function lookAt(page: Page): Promise<string[]> {
	const faults: string[] = [];
	if (!/\S · Witness Mark$/.test(await page.title())) faults.push(`title: ${await page.title()}`);
	const headings = await page.locator('h1').count();
	if (headings !== 1) faults.push(`${headings} main headings`);
	faults.push(...(await accessibilityFaults(page)));
	await page.setViewportSize(PHONE);
	await page.emulateMedia({ colorScheme: 'dark' });
	const over = await page.evaluate(
		() => document.documentElement.scrollWidth - document.documentElement.clientWidth
	);
	if (over > 0) faults.push(`${over} px run off the side of a phone`);
	const onPhone = await accessibilityFaults(page, LOOKS);
	faults.push(...onPhone.map((fault) => `dark, phone: ${fault}`));
	faults.push(...(await smallTargets(page)));
	await page.setViewportSize(DESK);
	await page.emulateMedia({ colorScheme: 'light' });
	return faults.map((fault) => `${new URL(page.url()).pathname}${new URL(page.url()).search}: ${fault}`);
}

/** Walks from the paths along their links as far as they lead within `inside`. @returns kinds seen, faults found */
async function walk(page: Page, from: readonly string[], inside: RegExp) {
	const faults: string[] = [];
	const seen: Record<string, number> = {};
	const waiting = from.map((path) => `${server.url}${path}`);
	const met = new Set(waiting);
	for (let href = waiting.shift(); href !== undefined; href = waiting.shift()) {
		const kind = kindOf(new URL(href));
		const times = (seen[kind] ?? 0) + 1;
		if (times > (OF_A_KIND[kind] ?? 1)) continue;
		seen[kind] = times;
		await page.goto(href);
		faults.push(...(await lookAt(page)));
		for (const link of await linksOf(page)) {
			const url = new URL(link);
			url.hash = '';
			const next = url.href;
			if (url.origin !== server.url || met.has(next) || !inside.test(url.pathname)) continue;
			// Files; and an anomaly itself, which leads to its tree.
			if (/\/(files|export)(\/|$)|\/anomalies\/[^/]+$/.test(url.pathname)) continue;
			met.add(next);
			waiting.push(next);
		}
	}
	return { faults, kinds: Object.keys(seen) };
}

const context = asWorker('Ada', { viewport: DESK, colorScheme: 'light' });

test('every screen of the example, light and dark, on a desk and on a phone', async () => {
	await withPage({ baseUrl: server.url, context }, async (page) => {
		const { faults, kinds } = await walk(page, ['/'], /./);
		expect(faults).toEqual([]);
		const rooms = ['record', 'evidence', 'ground', 'anomalies', 'changes', 'report'];
		for (const room of [
			...rooms,
			'evidence/*',
			'anomalies/*/tree',
			'anomalies/*/conclusion',
			'calculations/*'
		])
			expect(kinds).toContain(`/investigations/*/${room}`);
		expect(kinds).toContain('/vehicles/*');
	});
}, 240_000);

test('every room of an investigation in which nothing stands yet', async () => {
	const empty = await makeCase(server.url, 'Nothing yet');
	await withPage({ baseUrl: server.url, context }, async (page) => {
		const { faults, kinds } = await walk(page, [`${empty.path}/record`], new RegExp(`^${empty.path}/`));
		expect(faults).toEqual([]);
		expect(kinds).toContain('/investigations/*/report');
	});
});

test('an address that leads nowhere says so', () =>
	withPage({ baseUrl: server.url, context, allow: [/status of 404/] }, async (page) => {
		for (const path of ['/nothing-here', '/investigations/nowhere/record', '/methods/nothing']) {
			await page.goto(path);
			expect(await lookAt(page), path).toEqual([]);
			await page
				.getByRole('link', { name: /Investigations|first page|Witness Mark/ })
				.first()
				.waitFor();
		}
	}));
