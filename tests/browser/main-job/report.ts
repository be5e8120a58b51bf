import { readFileSync } from 'node:fs';
import { strFromU8, unzipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { goTo, press, textOf } from '../support/forms';
import { openPage } from '../support/page';
import { startServer } from '../support/server';
import { STORY } from './oracle';

/** The file behind a link that saves one. */
async function download(page: Page, link: string): Promise<Buffer> {
	const [saved] = await Promise.all([
		page.waitForEvent('download'),
		page.getByRole('link', { name: link }).click()
	]);
	return readFileSync(await saved.path());
}

/** The whole investigation stands on one page; names and positions only where they are asked for. */
export async function read(page: Page): Promise<void> {
	await goTo(page, 'Report');
	const article = page.getByRole('article');
	const told = await textOf(article);
	for (const words of [
		'second charge, forward bay',
		'bay tube with fins',
		'oun-2018-12-22-12z.txt',
		STORY.vent,
		STORY.crack.says,
		'did they part in the air?',
		'Tape over the vent hole held the pad’s air in the bay',
		'nobody measured what the pins hold',
		'2 of 31 flights of this joint',
		'Pins that hold the vented bay',
		'291 ± 8 N',
		'joined until the main opened at 200 m'
	])
		expect(told).toContain(words);
	// The plan and the tree are drawn in it.
	await article.getByRole('img', { name: /^Plan of the ground/ }).waitFor();
	await article.getByRole('img', { name: /tree/i }).first().waitFor();
	expect(told).not.toMatch(/Maren|Tove|long meadow|50\.29/);
	await page.getByRole('checkbox', { name: 'Names of people' }).check();
	await page.getByText('Each person stands by name.').waitFor();
	await page.getByRole('checkbox', { name: 'Positions' }).check();
	await page.getByText('Coordinates and the site’s name are in it.').waitFor();
	await expect.poll(() => textOf(article)).toMatch(/long meadow[^]*50\.29/);
	expect(await textOf(article)).toContain('Maren Holt');
	await page.getByRole('checkbox', { name: 'Names of people' }).uncheck();
	await page.getByText('A person stands by role,').waitFor();
	await page.getByRole('checkbox', { name: 'Positions' }).uncheck();
	await page.getByText('Coordinates and the site’s name are left out').waitFor();
}

/** One HTML file that asks for nothing; its pictures are copies without what the camera wrote. */
export async function html(page: Page): Promise<void> {
	const saved = (await download(page, 'Save as one HTML file')).toString('utf8');
	expect(saved).toContain(STORY.anomaly);
	expect(saved).not.toMatch(/Maren|Tove|long meadow|50\.29/);
	expect(saved).not.toMatch(/<script|(?:src|href|action|poster|data)\s*=\s*["']?\s*(?:https?:)?\/\//i);
	expect(saved).not.toMatch(/url\(\s*["']?\s*(?:https?:)?\/\//i);
	const pictures = [...saved.matchAll(/data:image\/[a-z]+;base64,([A-Za-z0-9+/=]+)/g)].map(([, base64]) =>
		Buffer.from(base64!, 'base64').toString('latin1')
	);
	expect(pictures.length).toBeGreaterThanOrEqual(2);
	// The marks with which EXIF and XMP begin in JPEG, PNG and WebP.
	for (const picture of pictures)
		expect(picture).not.toMatch(/Exif\0|eXIf|EXIF|http:\/\/ns\.adobe\.com\/xap/);
	const asked: string[] = [];
	const context = page.context();
	const alone = await context.newPage();
	alone.on('request', (request) => asked.push(request.url()));
	await alone.route('**/stand-alone.html', (route) =>
		route.fulfill({ body: saved, contentType: 'text/html; charset=utf-8' })
	);
	await alone.goto('/stand-alone.html');
	await alone.getByText(STORY.anomaly).first().waitFor();
	const loaded = alone
		.locator('img')
		.evaluateAll((all) => all.map((img) => (img as HTMLImageElement).naturalWidth));
	expect(Math.min(...(await loaded))).toBeGreaterThan(0);
	expect(asked.filter((url) => !url.startsWith('data:'))).toEqual([alone.url()]);
	await alone.close();
}

const contents = (zip: Buffer) => unzipSync(new Uint8Array(zip));
interface Document {
	id: string;
	rev: number;
	state: unknown;
	history: unknown[];
	files: { sha256: string }[];
}
/** The document in a zip; the files that it lists are in no order. */
function investigationIn(files: Record<string, Uint8Array>): Document {
	const read = JSON.parse(strFromU8(files['investigation.json']!)) as Document;
	read.files.sort((a, b) => (a.sha256 < b.sha256 ? -1 : 1));
	return read;
}

/** The zip says that it holds positions, and comes into an empty folder elsewhere exactly as it was. */
export async function zip(page: Page): Promise<void> {
	await page.getByText('It contains all positions and names').waitFor();
	const saved = await download(page, 'Export the investigation as a zip');
	const files = contents(saved);
	expect(strFromU8(files['manifest.json']!)).toContain('It contains positions');
	const original = readFileSync(new URL('../../open-data/photos/phone-with-gps.jpg', import.meta.url));
	expect(Object.values(files).some((bytes) => original.equals(bytes))).toBe(true);

	const elsewhere = await startServer();
	const there = await openPage({ baseUrl: elsewhere.url });
	try {
		await there.page.goto('/');
		await there.page.getByRole('link', { name: 'Import from a zip' }).click();
		await there.page
			.getByLabel('Zip of an investigation')
			.setInputFiles({ name: 'plover.zip', mimeType: 'application/zip', buffer: saved });
		await press(there.page, 'Import');
		await there.page.getByText('It is in.').waitFor();
		await there.page.getByText('every hash checked').first().waitFor();
		await there.page.getByRole('link', { name: 'Plover, flight 3' }).click();
		await goTo(there.page, 'Report');
		await goTo(page, 'Report');
		// The minute in which each was made is its own.
		const read = async (one: Page) =>
			(await textOf(one.getByRole('article'))).replace(/made [\d-]+ [\d:]+ UTC/, '');
		expect(await read(there.page)).toBe(await read(page));
		const again = contents(await download(there.page, 'Export the investigation as a zip'));
		expect(investigationIn(again)).toEqual(investigationIn(files));
		expect(Object.keys(again).sort()).toEqual(Object.keys(files).sort());
		await goTo(there.page, 'Changes');
		await there.page.getByRole('link', { name: 'Pins that hold the vented bay' }).waitFor();
	} catch (error) {
		await there.fail();
		throw error;
	} finally {
		await elsewhere.stop();
	}
	await there.close();
}
