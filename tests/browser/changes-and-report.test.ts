import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import { emptyVehicle, FORMAT_VERSION, type VehicleFile } from '$lib/investigation/case';
import { asChanges } from '$lib/investigation/start';
import { exportArchive } from '$lib/server/archive/export';
import { rules } from '$lib/server/case-rules';
import { receiveFile } from '$lib/server/files/receive';
import { MemoryStore } from '$lib/server/storage/memory-store';
import type { Change } from '$lib/server/storage/types';
import { heron } from '../unit/report/heron';
import { fillIn, keep, press, textOf } from './support/forms';
import { expectAccessible, expectNoSidewaysScroll, theBrowser, withPage } from './support/page';

const folder = mkdtempSync(join(tmpdir(), 'witness-mark-zip-'));
const PHOTO = new URL('../open-data/photos/phone-with-gps.jpg', import.meta.url);
const format = { main: { version: FORMAT_VERSION } };
const CASE = '/investigations/heron-flight-4';

/** The small case of the report's tests with a real photo, and its vehicle, as another machine would export them. */
async function zipOfHeron(): Promise<Buffer> {
	const store = new MemoryStore(rules);
	const id = 'investigations/heron-flight-4';
	const begun = { who: 'Jonna Ek', operation: 'begin', args: null };
	const records = asChanges({ ...heron(), format }) as Change[];
	const isFirst = ({ collection }: Change) => collection === 'about';
	expect(await store.create(id, begun, records.filter(isFirst))).toMatchObject({ ok: true });
	async function* photo() {
		yield await Promise.resolve(readFileSync(PHOTO));
	}
	const kept = await receiveFile(store, id, photo(), { name: 'bulkhead.jpg' });
	if (!kept.ok) throw new Error(kept.error.message);
	const changes = records
		.filter((change) => !isFirst(change))
		.map((change) =>
			change.collection === 'attachments' ? { ...change, after: { ...change.after, ...kept.value } } : change
		);
	expect(await store.commit(id, { ...begun, baseRev: 1 }, { changes: changes })).toMatchObject({
		ok: true
	});
	const vehicle: VehicleFile = {
		...emptyVehicle(),
		format,
		vehicle: { main: { name: 'Heron', description: '' } },
		builds: {
			b2: { name: 'build 2', description: '', state: 'building' },
			b3: { name: 'build 3', description: '', state: 'building' }
		},
		parts: {
			q1: { build: 'b2', name: 'forward bulkhead', group: 'bay', description: '', mass: null, uses: 4 }
		}
	};
	await store.create('vehicles/heron', begun, asChanges(vehicle) as Change[]);
	const zip = await exportArchive(store, [id, 'vehicles/heron'], { now: new Date() });
	if (!zip.ok) throw new Error(zip.error.message);
	const parts: Uint8Array[] = [];
	for await (const part of zip.value) parts.push(part);
	return Buffer.concat(parts);
}

const asJonna = (over: BrowserContextOptions = {}): BrowserContextOptions => ({
	...over,
	storageState: {
		cookies: [
			{
				name: 'who',
				value: 'Jonna%20Ek',
				domain: '127.0.0.1',
				path: '/',
				expires: -1,
				httpOnly: false,
				secure: false,
				sameSite: 'Strict'
			}
		],
		origins: []
	}
});
const phone = { viewport: { width: 375, height: 800 } };

/** As a person meets it: loaded, and its script at work. */
const settled = (page: Page) => page.waitForLoadState('networkidle');

async function choose(page: Page, bytes: Buffer, name: string) {
	const file = join(folder, name);
	writeFileSync(file, bytes);
	await page.getByLabel('Zip of an investigation').setInputFiles(file);
	await page.getByRole('button', { name: 'Import' }).click();
}

let zip: Buffer;
beforeAll(async () => {
	zip = await zipOfHeron();
	// In, whichever test runs alone: the page of the first test then finds it here already.
	const answer = await fetch(`${inject('baseUrl')}/import`, {
		method: 'PUT',
		headers: {
			'content-type': 'application/zip',
			'sec-fetch-site': 'same-origin',
			origin: inject('baseUrl')
		},
		body: new Uint8Array(zip)
	});
	expect(await answer.json()).toMatchObject({ ok: true });
});

describe('a zip through the page', () => {
	it('says what is wrong with half a zip, an altered one and no zip, and takes a whole one', () =>
		withPage({ path: '/import', context: asJonna(), allow: [/status of 400/] }, async (page) => {
			await settled(page);
			await page.getByRole('button', { name: 'Import' }).click();
			await page.getByText('Choose the zip of an investigation first.').waitFor();
			await choose(page, zip.subarray(0, zip.length / 2), 'half.zip');
			await page.locator('.problem').waitFor();
			const altered = Buffer.from(zip);
			const at = 2000; // in the history
			altered.writeUInt8(altered.readUInt8(at) ^ 0xff, at);
			for (const [bytes, name] of [
				[altered, 'altered.zip'],
				[Buffer.from('not a zip at all'), 'letter.zip']
			] as const) {
				await choose(page, bytes, name);
				await page.waitForFunction(() => document.querySelector('.problem')?.textContent);
				expect((await page.locator('.problem').textContent())!.length).toBeGreaterThan(20);
			}
			await expectAccessible(page);
			await choose(page, zip, 'heron.zip');
			await page.getByText('was here already, to the last change').first().waitFor();
			expect(await page.getByRole('link', { name: 'Heron, flight 4' }).getAttribute('href')).toBe(
				`${CASE}/record`
			);
		}));
});

describe('a change from proposed to verified', () => {
	it('is raised, made, and verified only by what meets its number', () =>
		withPage({ path: `${CASE}/changes`, context: asJonna(), allow: [/status of 400/] }, async (page) => {
			await settled(page);
			await page.getByRole('button', { name: 'Raise a change' }).click();
			await page.getByRole('button', { name: 'Raise', exact: true }).click();
			await page.getByText('Say how it will be verified.').waitFor();
			await expectAccessible(page);
			await page.getByLabel('What changes, in one line').fill('Vent hole in the bay');
			await page.getByLabel('Part or procedure').fill('electronics bay');
			await page.getByLabel('Becomes').fill('two holes of 3 mm');
			await page.getByLabel('Who does it').fill('Per');
			await page.getByLabel('For', { exact: true }).selectOption({ label: 'Heron, build 3' });
			await page.getByLabel('How it will be verified').fill('vacuum test of the closed bay');
			await page.getByLabel('Measured', { exact: true }).fill('lag behind the outside');
			await page.getByLabel('is', { exact: true }).selectOption('atMost');
			await page.getByLabel('value', { exact: true }).fill('2 hPa');
			await page.getByRole('button', { name: 'Raise', exact: true }).click();
			const margin = page.getByRole('complementary', { name: 'Margin notes' });
			await margin.getByRole('heading', { name: 'Vent hole in the bay' }).waitFor();
			for (const verb of ['Accept', 'Mark as made']) {
				// A double press opens the form, and is not taken for one of its own buttons.
				await margin.getByRole('button', { name: verb, exact: true }).dblclick();
				await margin.locator('form').getByRole('button', { name: verb, exact: true }).click();
				await margin.locator('form').waitFor({ state: 'detached' });
			}
			await margin.getByRole('button', { name: 'Verify', exact: true }).click();
			await margin.getByLabel('Measured').fill('30 mbar');
			await margin.getByText('does not meet it').waitFor();
			await margin.getByText('It does not meet what was set.').waitFor();
			await expectAccessible(page);
			await margin.getByRole('button', { name: 'Keep as failed' }).click();
			await margin.getByRole('listitem').getByText('measured 30 mbar: does not meet it').waitFor();
			await expectAccessible(page);
		}));
});

it('an observation is noted, and comes up with the vehicle', () =>
	withPage({ path: `${CASE}/changes`, context: asJonna(), allow: [/status of 400/] }, async (page) => {
		await settled(page);
		await page.getByRole('button', { name: 'Note an observation' }).click();
		await page.getByRole('button', { name: 'Note it' }).click();
		await page.getByText('Say what was noticed.', { exact: true }).waitFor();
		await page.getByLabel('What was noticed').fill('rail button worn on one side');
		await page.getByLabel('Evidence that shows it: add').selectOption({ label: 'E1 piece: Body and fins' });
		await expectAccessible(page);
		await page.getByRole('button', { name: 'Note it' }).click();
		await page.getByText('to watch on the next flight, E1').last().waitFor();
		await page.goto('/vehicles/heron');
		await page.getByText('rail button worn on one side').waitFor();
	}));

it('a part that was listed in the investigation only is put into the list of its build too', () =>
	withPage({ path: `${CASE}/record`, context: asJonna() }, async (page) => {
		await settled(page);
		const parts = page.getByRole('region', { name: 'Vehicle, build and parts' });
		await press(parts, 'Add a part');
		await fillIn(parts, { Part: 'rail button' });
		await keep(parts);
		await parts.getByText('Not in the parts list of build 2 yet: rail button.').waitFor();
		await parts.getByRole('button', { name: 'Put them there too' }).press('Enter');
		await parts.getByText('They stand in the parts list of build 2 now.').waitFor();
		await expectAccessible(page);
		await parts.getByRole('button', { name: 'Take them out of it again' }).click();
		await parts.getByRole('button', { name: 'Put them there too' }).click();
		await parts.getByRole('link', { name: 'parts list of build 2' }).click();
		await page.getByRole('cell', { name: /^rail button/ }).waitFor();
	}));

describe('clearing a build', () => {
	it('is refused while a change holds it, and done by name', () =>
		withPage(
			{ path: '/vehicles/heron?build=b3', context: asJonna(), allow: [/status of 400/] },
			async (page) => {
				await settled(page);
				const margin = page.getByRole('complementary', { name: 'Margin notes' });
				await margin.getByRole('link', { name: /Vent hole in the bay/ }).waitFor();
				await margin.getByRole('button', { name: 'Clear to fly' }).click();
				await margin.locator('form').getByRole('button', { name: 'Clear to fly' }).click();
				await margin.getByText('was concluded, but is to be looked at again. Say why').waitFor();
				const [charge, again] = await margin.getByLabel('Why it may fly all the same').all();
				await charge!.fill('the charge is at the bottom of the lake');
				await again!.fill('its next test is planned');
				await margin.locator('form').getByRole('button', { name: 'Clear to fly' }).click();
				await margin.getByText('is reopened, not verified.').waitFor();
				await margin.getByRole('checkbox').check();
				await margin.getByLabel('Who accepts the risk').fill('Jonna Ek');
				await margin.getByLabel('Which risk').fill('the recorder may see apogee late');
				await margin.getByLabel('Until when').fill('flight 5 only');
				await expectAccessible(page);
				await margin.locator('form').getByRole('button', { name: 'Clear to fly' }).click();
				await margin.getByText('by Jonna Ek: stands').waitFor();
				expect(await textOf(margin)).toContain(
					'“second charge in the forward bay” is not recovered; cleared all the same: the charge is at the bottom of the lake'
				);
				await expectAccessible(page);
			}
		));

	it('fits a phone', () =>
		withPage({ path: '/vehicles/heron', context: asJonna(phone) }, async (page) => {
			await settled(page);
			await expectNoSidewaysScroll(page);
			await page.goto(`${CASE}/changes`);
			await settled(page);
			await expectNoSidewaysScroll(page);
			await expectAccessible(page);
		}));
});

describe('the report', () => {
	it('shows names and positions only when ticked', () =>
		withPage({ path: `${CASE}/report`, context: asJonna() }, async (page) => {
			await settled(page);
			const text = () => page.locator('article').innerText();
			expect(await text()).not.toMatch(/Jonna|59\.401/);
			await expectAccessible(page);
			await page.getByLabel('Names of people').check();
			await page.waitForURL(/names/);
			await page.getByText('Each person stands by name.').waitFor();
			expect(await text()).toContain('Jonna Ek');
			expect(await text()).not.toContain('59.401');
		}));

	it('fits a phone and prints', () =>
		withPage(
			{ path: `${CASE}/report`, context: asJonna({ ...phone, colorScheme: 'dark' }) },
			async (page) => {
				await expectNoSidewaysScroll(page);
				await expectAccessible(page);
				// 24 by 24 CSS pixels: WCAG 2.2, 2.5.8, from memory.
				const links = await page
					.locator('article a')
					.evaluateAll((all) =>
						all.flatMap((a) => [...a.getClientRects()].map(({ width, height }) => Math.min(width, height)))
					);
				expect(links.length).toBeGreaterThan(20);
				expect(Math.min(...links)).toBeGreaterThanOrEqual(24);
				await page.emulateMedia({ media: 'print' });
				expect(await page.getByRole('button', { name: 'Print' }).isVisible()).toBe(false);
				expect(await page.getByRole('navigation', { name: 'Line of work' }).isVisible()).toBe(false);
				expect(await page.locator('h1').evaluate((h1) => getComputedStyle(h1).color)).toBe('rgb(29, 38, 48)');
			}
		));

	it('as one file needs nothing else: no request, nothing blocked, no script', async () => {
		const saved = await fetch(`${inject('baseUrl')}${CASE}/report/export`);
		const file = join(folder, 'report.html');
		writeFileSync(file, await saved.text());
		const context = await (await theBrowser()).newContext();
		const asked: string[] = [];
		const complaints: string[] = [];
		context.on('request', (request) => asked.push(request.url().slice(0, 40)));
		context.on('console', (message) => complaints.push(message.text()));
		const page = await context.newPage();
		await page.goto(`file://${file}`);
		expect(asked.filter((url) => !/^(file|data):/.test(url))).toEqual([]);
		expect(asked.filter((url) => url.startsWith('file:'))).toHaveLength(1);
		expect(complaints).toEqual([]);
		expect(
			await page.locator('img').evaluateAll((all) => all.map((img) => (img as HTMLImageElement).naturalWidth))
		).toEqual([1012]);
		expect(await page.evaluate(() => getComputedStyle(document.querySelector('h1')!).fontSize)).toBe('26px');
		await context.close();
	});
});
