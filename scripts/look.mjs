/**
 * Pictures of pages, to judge how they look:
 *   node scripts/look.mjs <base-url> <out-dir> /path1 /path2 ...
 * Each path at 1440, 768 and 375 px, light and dark, whole page, as <out-dir>/<path>-<width>-<theme>.png.
 * Says on stderr what went wrong in a page. A server must be running (npm start).
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { findBrowser } from './browser.mjs';
import { say } from './setup.mjs';

const [baseUrl, folder, ...paths] = process.argv.slice(2);
if (!baseUrl || !folder || paths.length === 0) {
	say('Usage: node scripts/look.mjs <base-url> <out-dir> /path1 /path2 ...');
	process.exit(2);
}
const { chromium } = await import('playwright-core');
mkdirSync(folder, { recursive: true });
const browser = await chromium.launch(await findBrowser());
for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
	for (const width of [1440, 768, 375]) {
		const viewport = { width, height: width > 1000 ? 900 : 800 };
		const context = await browser.newContext({ baseURL: baseUrl, colorScheme, viewport });
		context.on('weberror', (error) => say(`${error.page()?.url()}: ${error.error().message}`));
		context.on('console', (message) => message.type() === 'error' && say(message.text()));
		const page = await context.newPage();
		for (const path of paths) {
			const name = path.replace(/[^A-Za-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'start';
			const file = join(folder, `${name}-${width}-${colorScheme}.png`);
			const answer = await page.goto(path, { waitUntil: 'networkidle' });
			if (!answer?.ok()) say(`${path} answered ${answer?.status()}`);
			await page.screenshot({ path: file, fullPage: true });
			console.log(file);
		}
		await context.close();
	}
}
await browser.close();
