import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { field, fillIn, goTo, group, keep, margin, openData, press, textOf } from '../support/forms';

/** Where things lay, in degrees: the pad and the nose cone as typed, the phone as its photo's tag says. */
const PAD = { lat: 50 + 17.8 / 60, lon: 14 + 49 / 60 };
const NOSE = { lat: 50 + 17 / 60 + 58.6 / 3600, lon: 14 + 49 / 60 + 13.1 / 3600 };
/** tests/open-data/README.md */
const PHONE = { lat: 50.2996028, lon: 14.8202944 };

/**
 * Distance and bearing over some hundred metres by the ellipsoid's radii of curvature; WGS 84: a = 6378137 m,
 * e² = 0.00669437999014 (NIMA TR8350.2, from memory). Good to a millimetre here, and not by the tool's own geodesics.
 */
function apart(from: typeof PAD, to: typeof PAD): { metres: number; bearing: number } {
	const rad = Math.PI / 180;
	const e2 = 0.00669437999014;
	const sin2 = Math.sin(((from.lat + to.lat) / 2) * rad) ** 2;
	const w = 1 - e2 * sin2;
	const north = ((6378137 * (1 - e2)) / w ** 1.5) * (to.lat - from.lat) * rad;
	const east = (6378137 / Math.sqrt(w)) * Math.sqrt(1 - sin2) * (to.lon - from.lon) * rad;
	return { metres: Math.hypot(north, east), bearing: (Math.atan2(east, north) / rad + 360) % 360 };
}
/** As the tool writes it: whole metres, three digits. */
const written = ({ metres, bearing }: ReturnType<typeof apart>) =>
	`${Math.round(metres)} m, ${String(Math.round(bearing)).padStart(3, '0')}°`;

const add = (page: Page, kind: string) =>
	page.getByRole('navigation', { name: 'Add evidence' }).getByRole('link', { name: kind }).click();

const row = (page: Page, title: string) => page.getByRole('row', { name: new RegExp(title) });

/** Two photos at once; the place of one is taken over because a person agrees to it. */
export async function photos(page: Page): Promise<void> {
	await goTo(page, 'Evidence');
	await page.getByRole('heading', { name: 'Nothing kept yet' }).waitFor();
	await add(page, 'Photos');
	await page
		.getByLabel('Choose photos')
		.setInputFiles([openData('photos/phone-with-gps.jpg'), openData('photos/with-gps.png')]);
	const first = page.getByRole('listitem').filter({ hasText: 'phone-with-gps.jpg' });
	await first.getByText('taken 2018-07-25 16:34:23').waitFor();
	await page.getByLabel(/^with-gps\.png/).fill('scratch on the rim of the bay tube');
	await page.getByLabel(/^phone-with-gps\.jpg/).fill('nose cone as it lay, from the east');
	// Nothing of it is taken over until somebody agrees.
	const place = first.getByRole('checkbox', { name: /^the phone was at 50\.29960° N, 14\.82029° E/ });
	expect(await place.isChecked()).toBe(false);
	await place.check();
	await keep(page, 'Keep 2 photos as evidence');
	expect(await textOf(row(page, 'nose cone as it lay'))).toContain(written(apart(PAD, PHONE)));
	expect(await textOf(row(page, 'scratch on the rim'))).toContain('no place');
	const thumbnail = row(page, 'nose cone as it lay').locator('img');
	await thumbnail.scrollIntoViewIfNeeded();
	await expect
		.poll(() => thumbnail.evaluate((image) => (image as HTMLImageElement).naturalWidth))
		.toBeGreaterThan(0);
}

/** One piece by coordinates, one by distance and bearing from the first. */
export async function pieces(page: Page): Promise<void> {
	await add(page, 'Found piece');
	await fillIn(page, {
		'In one line: what is it?': 'nose cone',
		'Damage, as it lay': 'tip in the soil, shoulder whole, joint clean',
		Mass: '212 ± 1 g',
		'Mass over drag area as it fell': '6 to 12 kg/m²'
	});
	const where = group(page, 'Where');
	await fillIn(where, { 'Given as': 'coordinates', Coordinates: '50°17\'58.6"N 14°49\'13.1"E' });
	const { metres } = apart(PAD, NOSE);
	await where.getByText(`${Math.round(metres)} m from the pad`).waitFor();
	await fillIn(where, { 'Known to within': '4 m', 'The circle holds it in': '68 % of cases' });
	await page.getByRole('checkbox', { name: 'nose cone' }).check();
	await fillIn(page, { 'This is': 'observed' });
	await keep(page, 'Keep this item');
	expect(await textOf(row(page, 'E3 nose cone'))).toContain(written(apart(PAD, NOSE)));

	await add(page, 'Found piece');
	await fillIn(page, {
		'In one line: what is it?': 'bay tube with fins',
		'Damage, as it lay': 'forward rim scratched lengthways',
		Mass: '0.62 kg',
		'Mass over drag area as it fell': '25 to 60 kg/m²'
	});
	await fillIn(where, { 'Given as': 'distance and bearing' });
	await fillIn(where, {
		'Measured from': 'E3 nose cone',
		Distance: '295 ± 6 ft',
		'Bearing, degrees': '158',
		'±': '2',
		North: 'magnetic'
	});
	// 295 ft × 0.3048 = 89.92 m.
	await where.getByText(/295 ± 6\s?ft = 89\.9/).waitFor();
	await page.getByRole('checkbox', { name: 'bay tube' }).check();
	await fillIn(page, { 'This is': 'observed' });
	await keep(page, 'Keep this item');
	await page.getByRole('link', { name: /^Evidence.*4 items/ }).waitFor();
}

/** What the recorder gave on its first power-up, only once nothing is wired to it; and what was looked for in vain. */
export async function readingAndAbsence(page: Page): Promise<void> {
	await add(page, 'Reading');
	await fillIn(page, {
		'In one line: what is it?': 'tones of the recorder',
		'Kind of reading': 'recorder at first power-up',
		'Recorder or instrument': 'flight recorder, forward bay',
		'Is it wired to charges?': 'no, they are parted from it',
		'Tones, as counted': '1, then 9, then 8, then 3; pause; again'
	});
	await press(page, 'Add a value');
	const values = group(page, 'Values, each with its unit');
	await fillIn(values, { Quantity: 'peak height', Value: '1983 ft' });
	// 1983 ft × 0.3048 = 604.4 m.
	await values.getByText(/1983\s?ft = 604\.4\s?m/).waitFor();
	await fillIn(page, { 'This is': 'observed' });
	await keep(page, 'Keep this item');
	await row(page, 'tones of the recorder').waitFor();

	await add(page, 'Absence');
	await fillIn(page, {
		'In one line: what is it?': 'no pin was found in the joint',
		'What was looked for': 'sheared stubs of the pins in the bay rim',
		'How thoroughly': 'taken apart and looked at',
		'Chance of seeing it, had it been there': '95 %'
	});
	await page.getByRole('checkbox', { name: 'shear pins' }).check();
	await fillIn(page, { 'This is': 'observed' });
	await keep(page, 'Keep this item');
	await page.getByRole('link', { name: /^Evidence.*6 items/ }).waitFor();
}

/** A correction needs a reason, and what stood before stays to be seen. */
export async function correction(page: Page): Promise<void> {
	await page.getByRole('link', { name: 'E3 nose cone' }).click();
	await page.getByRole('heading', { level: 1, name: 'E3 nose cone' }).waitFor();
	await press(page, 'Correct it');
	await fillIn(page, { Mass: '221 ± 1 g' });
	await press(page, 'Keep the correction');
	await page.getByText('What you typed is still there').waitFor();
	expect(await field(page, 'Mass').inputValue()).toBe('221 ± 1 g');
	await fillIn(page, { 'Why it is corrected': 'read again, digits swapped' });
	await keep(page, 'Keep the correction');
	const history = margin(page).getByRole('region').or(margin(page)).last();
	await history.getByText('“read again, digits swapped”').waitFor();
	await history.getByText(/212 ± 1\s?g/).waitFor();
	expect(await textOf(page.getByRole('main'))).toContain('221 ± 1 g');
}

/** On the plan both pieces stand where they were measured; two chosen say how far apart they are. */
export async function ground(page: Page): Promise<void> {
	await goTo(page, 'Ground');
	const plan = page.getByRole('group', { name: /^Plan\. Arrow keys/ });
	await plan
		.getByRole('button', { name: /nose cone/ })
		.first()
		.waitFor();
	const placed = page.getByRole('region', { name: 'What lies where' });
	await press(placed, 'choose E3 nose cone');
	await plan.getByRole('button', { name: /bay tube with fins/ }).click();
	const said = await textOf(margin(page));
	// 89.92 m by 158° magnetic, 4.2° E declination: 162° true.
	expect(said).toContain('90 m apart');
	expect(said).toContain('E4 lies at bearing 162° true from E3');
	expect(await textOf(placed)).toContain('E1 nose cone as it lay, from the east');
	await margin(page).getByText('Run a fall separation').waitFor();
	await page.getByRole('link', { name: /^Ground.*2 pieces placed/ }).waitFor();
}
