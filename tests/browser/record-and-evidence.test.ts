import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, inject, it } from 'vitest';
import { keep } from './support/forms';
import { expectAccessible, expectNoSidewaysScroll, withPage } from './support/page';
import { rawRequest } from './support/server';

const open = (name: string) => new URL(`../open-data/${name}`, import.meta.url).pathname;
const PHONE = open('photos/phone-with-gps.jpg');
/** A refusal answers 400, and the browser says so in its console. */
const allow = [/status of 400/];
const cookies = [{ name: 'who', value: 'Ada', url: inject('baseUrl') }];

/** Begins an investigation as a person would. @returns its address */
async function begin(page: Page, title: string): Promise<string> {
	await page.context().addCookies(cookies);
	await page.goto('/');
	await page.getByLabel('Title').fill(title);
	const another = page.getByLabel('Vehicle', { exact: true });
	if (await another.count()) await another.selectOption({ label: 'another vehicle' });
	await page.getByLabel('Name of the vehicle').fill('Harrier 2');
	await page.getByLabel('Flown at').fill('2031-05-17 14:02:10');
	await page.getByRole('button', { name: 'Begin' }).click();
	await page.waitForURL(/\/record$/);
	return new URL(page.url()).pathname.replace('/record', '');
}

describe('the record', () => {
	it('is typed in, refuses in words beside the field, and loses nothing that was typed', async () => {
		await withPage({ allow }, async (page) => {
			await begin(page, 'Record by hand');
			await page.getByRole('button', { name: 'Add something that can hurt' }).click();
			await page.getByLabel('What is it?').fill('second charge');
			await page.getByLabel('It is', { exact: true }).selectOption('safe');
			await page.getByRole('button', { name: 'Save' }).click();
			await page.getByText('Say when it was made safe.').first().waitFor();
			expect(await page.getByLabel('What is it?').inputValue()).toBe('second charge');
			expect(await page.getByLabel('Found or made safe by').inputValue()).toBe('Ada');
			await page.getByRole('button', { name: 'Now' }).click();
			expect(await page.getByLabel('When', { exact: true }).inputValue()).toMatch(
				/^\d{4}-\d\d-\d\d \d\d:\d\d$/
			);
			await keep(page, 'Save');
			await page.getByText('The one thing listed is safe.').waitFor();

			await page.getByRole('button', { name: 'Change site and access' }).click();
			await page.getByRole('group', { name: 'Pad' }).getByLabel('Given as').selectOption('typed');
			const place = page.getByLabel('Coordinates');
			await place.fill('95 N, 14.8 E');
			await page.getByRole('button', { name: 'Save' }).click();
			await page
				.getByText(/Latitude 95 is beyond the pole/)
				.first()
				.waitFor();
			expect(await place.getAttribute('aria-invalid')).toBe('true');
			expect(await place.inputValue()).toBe('95 N, 14.8 E');
			await place.fill('50° 17.80′ N 14° 49.05′ E');
			await page.getByLabel('Elevation of the pad').fill('640 ft');
			await page.getByText('640 ft = 195 m').waitFor();
			await keep(page, 'Save');
			await page.getByText('50.29667° N, 14.81750° E').waitFor();
		});
	});

	it('takes a sounding from a file after showing what was read, and a table out of order not at all', async () => {
		await withPage({ allow, context: { viewport: { width: 375, height: 800 } } }, async (page) => {
			await begin(page, 'Wind from a sounding');
			await page.getByRole('button', { name: 'Change weather' }).click();
			for (const [row, height, speed] of [
				[1, '300 m', '6'],
				[2, '500 ft', '4']
			] as const) {
				await page.getByLabel(`Height, row ${row}`).fill(height);
				await page.getByLabel(`Comes from, degrees, row ${row}`).fill('240');
				await page.getByLabel(`Speed, row ${row}`).fill(speed);
			}
			await page.getByRole('button', { name: 'Save' }).click();
			await page.getByText('Row 2: It is not above row 1').first().waitFor();
			expect(await page.getByLabel('Height, row 2').inputValue()).toBe('500 ft');
			await expectNoSidewaysScroll(page);

			await page.getByRole('button', { name: 'Paste a table or read a sounding' }).click();
			await page.locator('input[type=file]').setInputFiles(open('soundings/oun-2018-12-22-12z.txt'));
			await page.getByLabel('Only up to').fill('10000 ft');
			await page.getByText(/Read \d+ heights/).waitFor();
			await page.getByText(/above the height you named left out/).waitFor();
			await page.getByText('kept', { exact: true }).waitFor();
			await page.getByRole('button', { name: 'Take these heights' }).click();
			await keep(page, 'Save');
			await page.getByRole('link', { name: 'oun-2018-12-22-12z.txt' }).waitFor();
			// The long form is gone and its section is in sight; what stands above has kept its two lines.
			const top = () => page.locator('#weather-title').evaluate((title) => title.getBoundingClientRect().top);
			await expect.poll(async () => (await top()) > 0 && (await top()) < 700).toBe(true);
			expect((await page.locator('header.top').boundingBox())!.height).toBeLessThan(100);
			await expectNoSidewaysScroll(page);
			await expectAccessible(page);
		});
	});
});

describe('photos', () => {
	it('several at once: those that can’t be taken say why and hold up none of the others', async () => {
		await withPage({ allow }, async (page) => {
			const address = await begin(page, 'Photos');
			await page.goto(`${address}/evidence?add=photo`);
			const program = Buffer.concat([Buffer.from([0x7f, 0x45, 0x4c, 0x46, 2, 1, 1]), Buffer.alloc(4000)]);
			const large = Buffer.alloc(60 * 1024 * 1024);
			large.set([0xff, 0xd8, 0xff, 0xe0]);
			await page.getByLabel('Choose photos').setInputFiles([
				{ name: 'empty.jpg', mimeType: 'image/jpeg', buffer: Buffer.alloc(0) },
				{ name: 'nose.jpg', mimeType: 'image/jpeg', buffer: program },
				{ name: 'phone.jpg', mimeType: 'image/jpeg', buffer: readFileSync(PHONE) },
				{ name: 'phone.heic', mimeType: 'image/heic', buffer: readFileSync(open('photos/phone.heic')) }
			]);
			await page.getByText("'empty.jpg' is empty (0 bytes)").waitFor();
			await page.getByText("'nose.jpg' is a program").waitFor();
			await page.getByText('add a JPEG beside it').first().waitFor();

			// A browser that does not know the type still hears why, though the file is refused on its way.
			const refused = await page.evaluate(
				async ({ to, size }) => {
					const body = new Uint8Array(size);
					body.set([0xff, 0xd8, 0xff, 0xe0]);
					const answer = await fetch(to, {
						method: 'PUT',
						body,
						headers: { 'content-type': 'application/octet-stream', 'x-file-name': 'big' }
					});
					return (await answer.json()) as { problems: { message: string }[] };
				},
				{ to: `${address}/files`, size: large.length }
			);
			expect(refused.problems[0]?.message).toMatch(/larger than 50 MB/);

			// Time and place are taken only where the person agrees.
			expect(await page.getByLabel(/take this time/).isChecked()).toBe(false);
			await page.getByLabel(/the phone was at 50.29960° N, 14.82029° E/).check();
			await page.getByPlaceholder('what it shows').first().fill('Nose as it lay');
			await keep(page, 'Keep 2 photos as evidence');
			await page.getByRole('link', { name: /E1 Nose as it lay/ }).click();
			await page.getByText(/50.29960° N, 14.82029° E.*from the photo phone.jpg/).waitFor();
			await page.getByRole('heading', { name: 'Not known yet' }).waitFor();
			await expectAccessible(page);

			const sha256 = createHash('sha256').update(readFileSync(PHONE)).digest('hex');
			await page.getByText(sha256).waitFor();
			const original = await rawRequest(`${inject('baseUrl')}${address}/files/${sha256}`);
			expect(original.headers['content-disposition']).toMatch(/^attachment; filename\*=UTF-8''phone.jpg/);
			expect(original.headers['content-type']).toBe('application/octet-stream');
			expect(original.headers['content-security-policy']).toMatch(/default-src 'none'; sandbox/);
			const copy = await rawRequest(`${inject('baseUrl')}${address}/files/${sha256}?size=thumbnail`);
			expect(copy.headers['content-type']).toBe('image/jpeg');
			expect((await rawRequest(`${inject('baseUrl')}${address}/files/..%2f..%2fstate.json`)).status).toBe(
				404
			);
		});
	});
});

describe('an item of evidence', () => {
	it('is corrected with a reason, its earlier version beside it; markup in it is text', async () => {
		await withPage({ allow }, async (page) => {
			const address = await begin(page, 'Correcting');
			await page.goto(`${address}/evidence?add=piece`);
			const title = '<img src=x onerror=alert(1)> ring';
			await page.getByLabel('In one line').fill(title);
			await page.getByLabel('Mass optional').fill('88 g');
			await page.getByRole('button', { name: 'Keep this item' }).click();
			await page.getByText('Say whether this was observed').first().waitFor();
			await page.getByLabel('This is').selectOption('observed');
			await keep(page, 'Keep this item');
			await page.getByRole('link', { name: title }).click();
			await page.getByRole('button', { name: 'Correct it' }).click();
			await page.getByLabel('Mass optional').fill('91 kPa');
			await page.getByLabel('Why it is corrected').fill('weighed again');
			await page.getByRole('button', { name: 'Keep the correction' }).click();
			await page
				.getByText(/is a pressure; a mass is needed/)
				.first()
				.waitFor();
			await page.getByLabel('Mass optional').fill('91 g');
			await keep(page, 'Keep the correction');
			const margin = page.getByLabel('Margin notes');
			await margin.getByText('“weighed again”').waitFor();
			expect(await margin.getByText(/^Mass:/).innerText()).toMatch(/88\s*g.*→.*91\s*g/);

			await page.getByRole('button', { name: 'Withdraw it' }).click();
			await page.getByLabel('Why it no longer counts').fill('from another flight');
			await page.locator('form').getByRole('button', { name: 'Withdraw it' }).click();
			await page.getByText(/Withdrawn by Ada: “from another flight”/).waitFor();
			await page.getByRole('button', { name: 'Bring it back' }).waitFor();
		});
	});

	it('a recorder that is wired to charges is not powered: the form says so and keeps what was typed', async () => {
		await withPage({ allow }, async (page) => {
			const address = await begin(page, 'First power-up');
			await page.goto(`${address}/evidence?add=reading`);
			await page.getByText('Nothing is powered while it is wired to charges.').waitFor();
			await page.getByLabel('In one line').fill('First power-up');
			await page.getByLabel('Recorder or instrument').fill('recorder A');
			await page.getByLabel('Is it wired to charges?').selectOption('yes');
			await page.getByLabel('Tones').fill('4, 1, 10');
			await page.getByRole('button', { name: 'Keep this item' }).click();
			await page.getByText('Never power a recorder that is still wired to charges').first().waitFor();
			expect(await page.getByLabel('Tones').inputValue()).toBe('4, 1, 10');
			await page.getByLabel('Is it wired to charges?').selectOption('no');
			await page.getByLabel('This is').selectOption('observed');
			await keep(page, 'Keep this item');
			await page.getByRole('link', { name: /E1 First power-up/ }).waitFor();
		});
	});
});
