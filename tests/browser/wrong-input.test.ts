import { mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { asWorker, makeCase, makeTree, type MadeCase } from './support/made-case';
import { field, fillIn, group, keep, margin, press, section } from './support/forms';
import { expectAccessible, withPage } from './support/page';

const folder = mkdtempSync(join(tmpdir(), 'witness-mark-wrong-'));
afterAll(() => rmSync(folder, { recursive: true }));

let made: MadeCase;
beforeAll(async () => {
	made = await makeCase(inject('baseUrl'), 'Wrong input');
});

/** Opens a page of the case; what the test does there leaves nothing behind, as many lines as the history had. */
const keepsNothing = (path: string, use: (page: Page) => Promise<void>) =>
	withPage({ path: `${made.path}${path}`, context: asWorker(), allow: [/status of 4\d\d/] }, async (page) => {
		const before = await made.rev();
		await use(page);
		expect(await made.rev()).toBe(before);
	});

/** What a screen reader says of a field beyond its name. */
async function describedBy(control: Locator): Promise<string> {
	const ids = ((await control.getAttribute('aria-describedby')) ?? '').split(' ').filter(Boolean);
	const said = await Promise.all(ids.map((id) => control.page().locator(`[id="${id}"]`).innerText()));
	return said.join(' ');
}

/** The message stands beside the field, tied to it for a screen reader, and what was typed is still in it. */
async function expectRefused(control: Locator, typed: string, words: RegExp) {
	await expect.poll(() => control.getAttribute('aria-invalid')).toBe('true');
	expect(await describedBy(control)).toMatch(words);
	expect(await control.inputValue()).toBe(typed);
}

describe('what is typed', () => {
	it('a position beyond the pole', () =>
		keepsNothing('/evidence?add=piece', async (page) => {
			await fillIn(page, { 'In one line: what is it?': 'fin can', 'This is': 'observed' });
			await fillIn(group(page, 'Where'), { 'Given as': 'coordinates', Coordinates: '95 N, 14.8 E' });
			await press(page, 'Keep this item');
			await expectRefused(field(page, 'Coordinates'), '95 N, 14.8 E', /beyond the pole/);
			expect(await field(page, 'In one line: what is it?').inputValue()).toBe('fin can');
		}));

	it('a choice made before the page’s script has taken over', () =>
		keepsNothing('/record', async (page) => {
			let go = () => {};
			const held = new Promise<void>((done) => (go = done));
			await page.route('**/_app/**/*.js', async (route) => {
				await held;
				await route.continue();
			});
			const shown = page.goto(`${made.path}/evidence?add=piece`, { waitUntil: 'commit' });
			const given = field(group(page, 'Where'), 'Given as');
			await given.selectOption({ label: 'coordinates' });
			expect(await field(page, 'Coordinates').count()).toBe(0);
			go();
			await shown;
			await field(page, 'Coordinates').waitFor();
			expect(await given.inputValue()).toBe('typed');
		}));

	it('degrees and minutes without letters: what was assumed is said, and put right by a press', () =>
		keepsNothing('/evidence?add=piece', async (page) => {
			const where = group(page, 'Where');
			await fillIn(where, { 'Given as': 'coordinates', Coordinates: '33 30.0 70 15.0' });
			await where.getByText('No letter says which half of the globe: taken as N E.').waitFor();
			await where.getByText('read as 33.50000° N, 70.25000° E').waitFor();
			await expectAccessible(page);
			await press(where, 'S W');
			await where.getByText('read as 33.50000° S, 70.25000° W').waitFor();
			expect(await field(where, 'Coordinates').inputValue()).toBe('33 30.0 S, 70 15.0 W');
			expect(await where.getByText('No letter says').count()).toBe(0);
		}));

	it.each([
		['Mass', '5 m', /mass/i],
		['Mass over drag area as it fell', '5 kg', /kg/]
	])('%s in a wrong unit: %s', (label, typed, words) =>
		keepsNothing('/evidence?add=piece', async (page) => {
			await fillIn(page, { 'In one line: what is it?': 'fin can', 'This is': 'observed', [label]: typed });
			await press(page, 'Keep this item');
			await expectRefused(field(page, label), typed, words);
		})
	);

	it('a distance in kilograms', () =>
		keepsNothing('/evidence?add=piece', async (page) => {
			await fillIn(page, { 'In one line: what is it?': 'fin can', 'This is': 'observed' });
			await fillIn(group(page, 'Where'), { 'Given as': 'distance and bearing' });
			await fillIn(group(page, 'Where'), { Distance: '5 kg', 'Bearing, degrees': '400' });
			await press(page, 'Keep this item');
			await expectRefused(field(page, 'Distance'), '5 kg', /length/);
			await expectRefused(field(page, 'Bearing, degrees'), '400', /360/);
		}));

	it('two fields refused in the same words: both are marked, and the form stays usable', () =>
		keepsNothing('/record', async (page) => {
			const when = section(page, 'When and in which direction');
			await when.getByRole('button', { name: /^Change/ }).click();
			const rail = { 'Rail pointed towards, degrees': '400', 'Rail above the horizon, degrees': '-5' };
			await fillIn(when, rail);
			await press(when, 'Save');
			for (const [label, typed] of Object.entries(rail))
				await expectRefused(field(when, label), typed, /between 0 and 360/);
			await when.getByRole('button', { name: 'Save', exact: true }).waitFor();
		}));

	it('a part with a negative mass', () =>
		keepsNothing('/record', async (page) => {
			await press(page, 'Paste a list');
			await page.getByLabel('One part a line').fill('booster tube; -640 g');
			await press(page, 'Add 1 part');
			await page.getByText('can’t be negative').first().waitFor();
		}));

	it('a wind table out of order', () =>
		keepsNothing('/record', async (page) => {
			const weather = section(page, 'Weather');
			await press(weather, 'Change weather');
			const rows = [
				['300 m', '240', '6 m/s'],
				['100 m', '220', '4 m/s']
			];
			for (const [i, [height, from, speed]] of rows.entries()) {
				await weather.getByLabel(`Height, row ${i + 1}`).fill(height!);
				await weather.getByLabel(`Comes from, degrees, row ${i + 1}`).fill(from!);
				await weather.getByLabel(`Speed, row ${i + 1}`).fill(speed!);
			}
			await press(weather, 'Save');
			await expectRefused(weather.getByLabel('Height, row 2'), '100 m', /order|above|higher|rise/i);
			expect(await weather.getByLabel('Speed, row 2').inputValue()).toBe('4 m/s');
		}));

	it('a probability of 1.2, as a chance of seeing it and as a starting weight', async () => {
		const { events, anomaly } = await makeTree(made, ['vent hole closed']);
		await keepsNothing('/evidence?add=absence', async (page) => {
			await fillIn(page, {
				'In one line: what is it?': 'no soot',
				'What was looked for': 'soot',
				'This is': 'observed'
			});
			await fillIn(page, { 'Chance of seeing it, had it been there': '1.2' });
			await press(page, 'Keep this item');
			await expectRefused(field(page, 'Chance of seeing it, had it been there'), '1.2', /0 and 1|100 %/);
		});
		await keepsNothing(`/anomalies/${anomaly}/tree?event=${events['vent hole closed']}`, async (page) => {
			await margin(page).getByRole('heading', { level: 2, name: 'vent hole closed' }).waitFor();
			const often = field(margin(page), 'How often this happens on a flight like this');
			await often.fill('1.2');
			await often.press('Tab');
			await expectRefused(often, '1.2', /0 and 1|100 %/);
		});
	});

	it('an event put under what stands beneath it', async () => {
		const { anomaly, events } = await makeTree(made, ['pins shear early', 'load above the pins']);
		const [pins, load] = [events['pins shear early']!, events['load above the pins']!];
		await withPage(
			{
				path: `${made.path}/anomalies/${anomaly}/tree?event=${pins}`,
				context: asWorker(),
				allow: [/status of 4\d\d/]
			},
			async (page) => {
				const other = page.getByRole('combobox', { name: 'Let “pins shear early” also stand under' });
				await press(page, 'Share');
				await other.selectOption({ label: 'load above the pins' });
				// Meanwhile somebody else puts the load beneath the pins: now it would go round in a circle.
				const [top] = (await made.do('event.share', { event: load, under: pins })).filter(
					(id) => id !== load
				);
				expect(top).toBeDefined();
				const before = await made.rev();
				await page.locator('form').getByRole('button', { name: 'Share' }).click();
				await page
					.getByText(/would run in a circle: pins shear early → load above the pins → pins shear early/)
					.first()
					.waitFor();
				expect(await made.rev()).toBe(before);
				// With the newest tree on the page it is not even offered any more.
				await expect.poll(() => page.getByRole('option', { name: 'load above the pins' }).count()).toBe(0);
			}
		);
		expect(await made.refusal('event.share', { event: pins, under: load })).toMatch(/beneath|circle/i);
	});
});

describe('files', () => {
	it('an empty photo, programs with the name of a photo, a photo of 60 MB: each says why', () =>
		keepsNothing('/evidence?add=photo', async (page) => {
			const huge = join(folder, 'huge.jpg');
			writeFileSync(huge, Buffer.from([0xff, 0xd8, 0xff, 0xe0]));
			truncateSync(huge, 60 * 1024 * 1024);
			const files: [string, Buffer][] = [
				['empty.jpg', Buffer.alloc(0)],
				['elf.jpg', Buffer.concat([Buffer.from('\x7fELF\x02\x01\x01', 'latin1'), Buffer.alloc(200)])],
				['mz.jpg', Buffer.concat([Buffer.from('MZ\x90\x00', 'latin1'), Buffer.alloc(200)])]
			];
			const paths = files.map(([name, bytes]) => {
				writeFileSync(join(folder, name), bytes);
				return join(folder, name);
			});
			await page.getByLabel('Choose photos').setInputFiles([...paths, huge]);
			const list = page.getByRole('list', { name: 'Files on their way' });
			for (const [name, words] of [
				['empty.jpg', /empty|0 bytes|nothing in it/i],
				['elf.jpg', /program/i],
				['mz.jpg', /program/i],
				['huge.jpg', /60 MB: more than 50 MB/]
			] as const) {
				const alert = list.getByRole('listitem').filter({ hasText: name }).getByRole('alert');
				await alert.waitFor();
				expect(await alert.innerText(), name).toMatch(words);
			}
			await press(page, 'Keep this photo as evidence');
			await page.getByText('Choose at least one photo.').waitFor();
		}));

	it('half a zip, and a zip that is none', () =>
		keepsNothing('/record', async (page) => {
			await page.goto('/import');
			const chooser = page.getByLabel('Zip of an investigation');
			const whole = readFileSync(new URL('../../examples/lantern-2-flight-3.zip', import.meta.url));
			for (const [buffer, words] of [
				[whole.subarray(0, whole.length / 2), /its end is missing/],
				[Buffer.from('a letter'), /not a (whole )?zip/]
			] as const) {
				await chooser.setInputFiles({ name: 'case.zip', mimeType: 'application/zip', buffer });
				await press(page, 'Import');
				await expect.poll(() => describedBy(chooser)).toMatch(words);
				expect(await chooser.getAttribute('aria-invalid')).toBe('true');
			}
			await page.goto('/');
			expect(await page.getByRole('link', { name: 'case' }).count()).toBe(0);
		}));
});

describe('markup', () => {
	const SCRIPT = '<script>window.ran = true</script>';
	const IMAGE = '<img src=x onerror="window.ran = true">';

	it('is text wherever it stands, and nothing in it runs', async () => {
		const bad = await makeCase(inject('baseUrl'), `Markup ${IMAGE}`);
		const context = asWorker(IMAGE);
		await withPage({ path: `${bad.path}/record`, context }, async (page) => {
			const site = section(page, 'Site and access');
			await press(site, 'Change site and access');
			await fillIn(group(site, 'Pad'), { 'Given as': 'coordinates', Coordinates: '50.3 N, 14.8 E' });
			await fillIn(site, {
				'Name of the site': SCRIPT,
				Access: `**bold** ${IMAGE} [link](javascript:window.ran=1)`
			});
			await keep(site);
			await page.goto(`${bad.path}/evidence?add=piece`);
			await fillIn(page, {
				'In one line: what is it?': `${SCRIPT}${IMAGE}`,
				'This is': 'observed',
				Notes: IMAGE
			});
			await fillIn(group(page, 'Where'), { 'Given as': 'coordinates', Coordinates: '50.301 N, 14.801 E' });
			await keep(page, 'Keep this item');
			await page.getByRole('link', { name: `E1 ${SCRIPT}${IMAGE}` }).click();
			await page.getByRole('heading', { level: 1, name: `E1 ${SCRIPT}${IMAGE}` }).waitFor();
			const { anomaly } = await makeTree(bad, [IMAGE]);
			for (const path of [
				'evidence',
				'ground',
				`anomalies/${anomaly}/tree`,
				'report?names=on&positions=on'
			]) {
				await page.goto(`${bad.path}/${path}`);
				await page
					.getByText(/<img src=x onerror=/)
					.first()
					.waitFor();
				expect(await page.evaluate(() => 'ran' in window), path).toBe(false);
				expect(await page.locator('img[src="x"]').count(), path).toBe(0);
				expect(await page.locator('a[href^="javascript:"]').count(), path).toBe(0);
			}
		});
	});
});
