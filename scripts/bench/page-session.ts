/**
 * The built server on a large case, and Chromium on its page. An answer is timed inside the page: from the moment of
 * the press, by the event's own timestamp, to the end of the frame that shows the answer.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type CDPSession, type JSHandle, type Page } from 'playwright-core';
import { findBrowser } from '../browser.mjs';
import { environmentOfAShell, root } from '../setup.mjs';
import { keepCase, openBenchStore, who } from './kept-case';
import { caseOfModel } from './large-case';
import { caseModel } from './tree-models';

export interface Session {
	page: Page;
	/** Address of the large case. */
	base: string;
	/** Processor time of the page's main thread since it was opened, ms. */
	cpuMs(): Promise<number>;
	end(): Promise<void>;
}

const name = 'large';
let session: Promise<Session> | undefined;

export const openSession = (items: number): Promise<Session> => (session ??= start(items));

export async function endSession(): Promise<void> {
	await (await session)?.end();
	session = undefined;
}

async function start(items: number): Promise<Session> {
	const folder = mkdtempSync(join(tmpdir(), 'witness-mark-bench-'));
	const store = await openBenchStore(folder);
	await keepCase(store, name, caseOfModel(items, caseModel()));
	await store.close();
	const server = spawn(process.execPath, [join(root, 'scripts/serve.mjs')], {
		env: {
			...environmentOfAShell(),
			WITNESS_MARK_PORT: '0',
			WITNESS_MARK_EXAMPLE: 'no',
			WITNESS_MARK_DATA: folder
		},
		stdio: ['ignore', 'pipe', 'inherit']
	});
	let browser: Browser | undefined;
	const end = async () => {
		await browser?.close();
		const gone = new Promise((done) => server.once('exit', done));
		if (server.exitCode === null && server.kill()) await gone;
		rmSync(folder, { recursive: true, force: true });
	};
	try {
		const url = await new Promise<string>((done, fail) => {
			let printed = '';
			server.once('exit', (code) => fail(new Error(`the server ended with ${code}`)));
			server.stdout.on('data', (chunk) => {
				printed += String(chunk);
				const address = /^(http:\/\/127\.0\.0\.1:\d+)\n/m.exec(printed)?.[1];
				if (address) done(address);
			});
		});
		browser = await chromium.launch(await findBrowser());
		const context = await browser.newContext({ baseURL: url, viewport: { width: 1440, height: 900 } });
		await context.addCookies([{ name: 'who', value: encodeURIComponent(who), url }]);
		const page = await context.newPage();
		page.on('pageerror', (error) => console.error(`In the page: ${error.message}`));
		const metrics: CDPSession = await context.newCDPSession(page);
		await metrics.send('Performance.enable', { timeDomain: 'threadTicks' });
		const cpuMs = async () => {
			const got = await metrics.send('Performance.getMetrics');
			return 1000 * (got.metrics.find((metric) => metric.name === 'TaskDuration')?.value ?? NaN);
		};
		return { page, base: `/investigations/${name}`, cpuMs, end };
	} catch (error) {
		await end();
		throw error;
	}
}

interface Armed {
	answered: Promise<number>;
}

/**
 * @param on     the event that a person's hand makes
 * @param act    makes it
 * @param makeShown  runs in the page before the press: makes the question 'is the answer on screen?'
 * @returns ms from the event to the end of the first frame that shows the answer
 */
export async function timed<A>(
	page: Page,
	on: 'pointerup' | 'keydown',
	act: () => Promise<void>,
	makeShown: (given: A) => () => boolean,
	given: A
): Promise<number> {
	// A person's hand comes to a page at rest.
	await page.waitForTimeout(150);
	const shown: JSHandle<() => boolean> = await page.evaluateHandle(
		makeShown as (given: unknown) => () => boolean,
		given as unknown
	);
	await page.evaluate(
		({ on, shown }) => {
			const isShown: () => boolean = shown;
			const armed = window as unknown as Armed;
			armed.answered = new Promise((done, fail) => {
				const pressed = ({ timeStamp }: Event) => {
					// A message sent from an animation frame arrives once that frame has been painted.
					const { port1, port2 } = new MessageChannel();
					port1.onmessage = () => done(performance.now() - timeStamp);
					const look = () => {
						if (isShown()) port2.postMessage(null);
						else if (performance.now() - timeStamp > 15_000) fail(new Error('no answer in 15 s'));
						else requestAnimationFrame(look);
					};
					requestAnimationFrame(look);
				};
				addEventListener(on, pressed, { capture: true, once: true });
			});
		},
		{ on, shown }
	);
	await act();
	return page.evaluate(() => (window as unknown as Armed).answered);
}
