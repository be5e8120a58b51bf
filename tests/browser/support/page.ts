import axe from 'axe-core';
import { mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
import { afterAll, expect, inject } from 'vitest';
import { findBrowser } from '../../../scripts/browser.mjs';

let browser: Promise<Browser> | undefined;

/** A name that means this machine to the browser of the tests, as a rebound name of a foreign site would. */
export const reboundName = 'rebound.invalid';

/** The browser of this test file, started at its first use and closed after its last test. */
export function theBrowser(): Promise<Browser> {
	// Other names lead nowhere: a page that asks for anything elsewhere fails instead of leaving a trace there.
	const names = `MAP ${reboundName} 127.0.0.1, MAP * ~NOTFOUND, EXCLUDE 127.*`;
	return (browser ??= findBrowser().then((found) =>
		chromium.launch({ ...found, args: [...found.args, `--host-resolver-rules=${names}`] })
	));
}
afterAll(async () => {
	await (await browser)?.close();
	browser = undefined;
});

export interface PageOptions {
	/** Where to go first; '/' unless given. */
	path?: string;
	/** The server to open; the one of all browser tests unless given. */
	baseUrl?: string;
	/** Viewport, colour scheme, cookies and so on, as playwright takes them. */
	context?: BrowserContextOptions;
	/** Problems that this test provokes, such as /status of 400/. Everything else still fails it. */
	allow?: RegExp[];
}

export interface WatchedPage {
	page: Page;
	/** Ends it; throws if anything went wrong in it on the way. */
	close(): Promise<void>;
	/** Ends it after a failure: says what the page looked like and what it complained of. */
	fail(): Promise<void>;
}

/**
 * A page in a fresh profile, not yet led anywhere, that notes whatever goes wrong in it: an error in the console or
 * the page, a violation of the content security policy, a request to another origin.
 */
export async function openPage(options: Omit<PageOptions, 'path'> = {}): Promise<WatchedPage> {
	const { baseUrl: baseURL = inject('baseUrl') } = options;
	const context = await (await theBrowser()).newContext({ baseURL, ...options.context });
	context.setDefaultTimeout(15_000);
	const problems: string[] = [];
	context.on('weberror', (error) => problems.push(`page error: ${error.error().message}`));
	context.on('console', (message) => {
		if (message.type() !== 'error' && message.type() !== 'warning') return;
		problems.push(`console ${message.type()}: ${message.text()} (${message.location().url})`);
	});
	context.on('request', (request) => {
		const url = request.url();
		const ours = url.startsWith(`${baseURL}/`) || /^(data|blob|about):/.test(url);
		if (!ours) problems.push(`request to another origin: ${url}`);
	});
	await context.exposeFunction('reportViolation', (text: string) => void problems.push(text));
	await context.addInitScript(() => {
		document.addEventListener('securitypolicyviolation', (e) => {
			const report = (window as unknown as { reportViolation: (text: string) => void }).reportViolation;
			report(
				`policy violation: ${e.effectiveDirective} ${e.blockedURI} ${e.sourceFile}:${e.lineNumber} ${e.sample}`
			);
		});
	});
	const page = await context.newPage();
	waitUntilAlive(page);
	return {
		page,
		async close() {
			// A last turn of the page's event loop, so that what it was about to report is in.
			if (!page.isClosed()) await page.evaluate(() => new Promise((done) => setTimeout(done)));
			await context.close();
			const unexpected = problems.filter(
				(problem) => !options.allow?.some((pattern) => pattern.test(problem))
			);
			if (unexpected.length) throw new Error(`in the page at ${baseURL}:\n${unexpected.join('\n')}`);
		},
		async fail() {
			const name = (expect.getState().currentTestName ?? 'test').replace(/[^A-Za-z0-9]+/g, '-').slice(0, 80);
			if (!page.isClosed()) console.error(`The page as it was: ${await screenshot(page, `failed-${name}`)}`);
			// What went wrong in the page is often why the test could not go on.
			if (problems.length) console.error(problems.join('\n'));
			await context.close();
		}
	};
}

/**
 * A page that was just loaded shows everything at once and answers a moment later, when its script has taken over.
 * Nobody is quicker than that but a test. The kit's own live region is there from then on.
 */
function waitUntilAlive(page: Page): void {
	const alive = () =>
		page.waitForFunction(
			() =>
				document.getElementById('svelte-announcer') !== null ||
				![...document.scripts].some((script) => script.textContent.includes('__sveltekit_'))
		);
	const [goto, reload] = [page.goto.bind(page), page.reload.bind(page)];
	page.goto = async (...args) => {
		const answer = await goto(...args);
		await alive();
		return answer;
	};
	page.reload = async (...args) => {
		const answer = await reload(...args);
		await alive();
		return answer;
	};
}

/** Opens a page at a path, hands it to the test, and fails if anything went wrong in it on the way. */
export async function withPage(options: PageOptions, use: (page: Page) => Promise<void>): Promise<void> {
	const watched = await openPage(options);
	try {
		await watched.page.goto(options.path ?? '/');
		await use(watched.page);
	} catch (error) {
		await watched.fail();
		throw error;
	}
	await watched.close();
}

/**
 * What axe-core finds on the page as it stands now, one line each.
 * @param rules  only these; all unless given
 */
export async function accessibilityFaults(page: Page, rules?: string[]): Promise<string[]> {
	if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source);
	return page.evaluate(async (only) => {
		const options = only ? { runOnly: { type: 'rule' as const, values: only } } : {};
		const { violations } = await (window as unknown as { axe: typeof axe }).axe.run(options);
		return violations.flatMap(({ id, help, nodes }) =>
			nodes.map((node) => `${id}: ${help}: ${node.html.slice(0, 200)} ${node.failureSummary ?? ''}`)
		);
	}, rules);
}

/** axe-core finds nothing on the page as it stands now. */
export async function expectAccessible(page: Page): Promise<void> {
	expect(await accessibilityFaults(page), `accessibility of ${page.url()}`).toEqual([]);
}

/** Nothing runs off the side of the page. */
export async function expectNoSidewaysScroll(page: Page): Promise<void> {
	const [content, view] = await page.evaluate(() => {
		const root = document.documentElement;
		return [root.scrollWidth, root.clientWidth] as const;
	});
	expect(content, `width of ${page.url()}`).toBeLessThanOrEqual(view);
}

/** A picture of the whole page, for a person to look at. @returns the file, in a folder for temporary files */
export async function screenshot(page: Page, name: string): Promise<string> {
	const folder = process.env['WITNESS_MARK_PICTURES'] ?? join(tmpdir(), 'witness-mark-pictures');
	mkdirSync(folder, { recursive: true });
	const file = join(folder, `${name}.png`);
	await page.screenshot({ path: file, fullPage: true });
	return file;
}
