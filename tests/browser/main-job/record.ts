import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { field, fillIn, group, keep, openData, press, section, textOf } from '../support/forms';

/** From nothing: the first change asks who is working here. */
export async function begin(page: Page): Promise<void> {
	await page.goto('/');
	await page.getByText('Nothing has come back damaged yet').waitFor();
	await press(page, 'Begin');
	await page.getByText('Give the investigation a title').waitFor();
	await fillIn(page, {
		Title: 'Plover, flight 3',
		'Name of the vehicle': 'Plover',
		Build: 'build 1',
		'Flown at': '2031-05-17 14:02'
	});
	await press(page, 'Begin');
	const who = page.getByRole('dialog', { name: 'Who is working here?' });
	await press(who, 'Go on');
	await who.getByText('Write a name, initials or a role.').waitFor();
	await fillIn(who, { 'Your name, initials or role': 'Maren Holt' });
	await press(who, 'Go on');
	await page.waitForURL(/\/investigations\/[a-z0-9-]+\/record$/);
	expect(await page.title()).toContain('Record');
	await page.getByRole('button', { name: 'Working as Maren Holt' }).waitFor();
}

/** A charge nobody knows of is live; safe is said by name and time only. */
export async function makeSafe(page: Page): Promise<void> {
	const safe = section(page, 'Make safe');
	await safe.getByText('Treat everything as live.').waitFor();
	await press(safe, 'Add something that can hurt');
	await fillIn(safe, {
		'What is it?': 'second charge, forward bay',
		Kind: 'ejection charge',
		'It is': 'not known to be safe'
	});
	await safe.getByText('Treat it as live.').waitFor();
	await keep(safe);
	await safe.getByText('1 not known safe. The scene is not safe yet.').waitFor();
	await page.getByRole('link', { name: /^Record.*1 not known safe/ }).waitFor();

	await press(safe, 'Record as safe: second charge, forward bay');
	const madeBy = field(safe, 'Found or made safe by');
	expect(await madeBy.inputValue()).toBe('Maren Holt');
	await fillIn(safe, { 'Found or made safe by': 'Tove Lind', When: '' });
	await press(safe, 'Save');
	await safe.getByText('Say when it was made safe.').waitFor();
	await fillIn(safe, { When: '2026-05-17 15:10' });
	await keep(safe);
	await safe.getByText('The one thing listed is safe.').waitFor();
	await safe.getByText('Tove Lind, 2026-05-17 15:10').waitFor();
	await safe.getByText('There is one charge: was there a second?').waitFor();
	await press(safe, 'Yes, everything is listed');
	await safe.getByText(/^Maren Holt said that everything that can hurt is listed/).waitFor();
}

/** A list pasted, a part added by hand, and what came back of each. */
export async function parts(page: Page): Promise<void> {
	const vehicle = section(page, 'Vehicle, build and parts');
	await press(vehicle, 'Paste a list');
	await field(vehicle, 'One part a line: name; mass; uses; group').fill(
		'nose cone; 212 g; 3; forward\nbay tube; 0.62 kg; 3; forward\nshear pins; ; 1; forward'
	);
	await keep(vehicle, 'Add 3 parts');
	await press(vehicle, 'Add a part');
	await fillIn(vehicle, { Part: 'tether', Mass: '3.5 oz', 'Uses, with this flight': '5' });
	// 1 oz = 28.349 523 125 g, NIST SP 811 (2008), appendix B.8 (from memory).
	await vehicle.getByText(/3\.5\soz = (99\.2\d*\sg|0\.0992\d*\skg)/).waitFor();
	await keep(vehicle);
	for (const part of ['nose cone', 'bay tube', 'tether'])
		await field(vehicle, `What came back of ${part}`).selectOption({ label: 'recovered' });
	await field(vehicle, 'What came back of shear pins').selectOption({ label: 'missing' });
	await field(vehicle, 'What happens to nose cone').selectOption({ label: 'keep as evidence' });
	await vehicle.getByText('4 parts: 3 recovered and 1 missing.').waitFor();
}

/** The pad in degrees and minutes, its elevation in feet, declination, leave and who was told. */
export async function site(page: Page): Promise<void> {
	const part = section(page, 'Site and access');
	await press(part, 'Change site and access');
	const pad = group(part, 'Pad');
	await fillIn(pad, { 'Given as': 'coordinates', Coordinates: "50° 17.800' N, 14° 49.000' E" });
	// 17.8' = 0.29667°, 49' = 0.81667°: worked by hand.
	await pad.getByText('read as 50.29667° N, 14.81667° E').waitFor();
	await fillIn(pad, { 'Known to within': '5 m' });
	await fillIn(part, {
		'Name of the site': 'long meadow',
		'Elevation of the pad above sea level': '1132 ft',
		'Magnetic declination': '4.2 E',
		'Owner’s leave to enter': 'yes',
		'Power lines': 'no',
		Water: 'no',
		'Fire risk': 'yes',
		Access: 'gate on the north side'
	});
	await press(part, 'Add somebody');
	await fillIn(group(part, 'Who was told'), { Who: 'range', Name: 'Ida Brok', When: '2031-05-17 14:20' });
	await keep(part);
	const said = await textOf(part);
	for (const fact of ['50.29667° N, 14.81667° E', '1132 ft', '4.2° E', 'range (Ida Brok), 2031-05-17 14:20'])
		expect(said).toContain(fact);
}

/** To the second, with the direction of the rail as a compass read it. */
export async function flight(page: Page): Promise<void> {
	const part = section(page, 'When and in which direction');
	await press(part, 'Change when and in which direction');
	await fillIn(part, {
		'Date and time of launch': '2031-05-17 14:02:10',
		Zone: '+02:00',
		'Rail pointed towards, degrees': '210',
		North: 'magnetic, as a compass reads',
		'Rail above the horizon, degrees': '86'
	});
	await keep(part);
	const said = await textOf(part);
	expect(said).toContain('2031-05-17 14:02:10 (UTC+02:00)');
	expect(said).toContain('towards 210° magnetic, rail 86° above the horizon');
}

/** A sounding file as a weather service printed it, read, looked at, taken, then saved with the surface values. */
export async function weather(page: Page): Promise<void> {
	const part = section(page, 'Weather');
	await press(part, 'Paste a table or read a sounding');
	await part.getByLabel('Choose a sounding file').setInputFiles(openData('soundings/oun-2018-12-22-12z.txt'));
	await fillIn(part, { 'Only up to': '3000 m' });
	const read = part.getByRole('status').filter({ hasText: 'heights' });
	await read.getByText('above sea level').waitFor();
	await keep(part, 'Take these heights into the table');
	// The line of the file: 1219 m, 7.2 °C, 350°, 9 knots, which are 4.63 m/s; the table keeps tenths.
	const heights = part.getByRole('textbox', { name: /^Height, row/ });
	const typed = await heights.evaluateAll((all) =>
		all.map((input) => Math.round(parseFloat((input as HTMLInputElement).value)))
	);
	const row = typed.indexOf(1219) + 1;
	const cell = async (name: string) =>
		parseFloat(await part.getByLabel(`${name}, row ${row}`, { exact: true }).inputValue());
	expect(await cell('Comes from, degrees')).toBe(350);
	expect(await cell('Speed')).toBeCloseTo(4.63, 1);
	expect(await cell('Temperature')).toBe(7.2);
	await fillIn(part, {
		'Temperature at the site': '59 °F',
		Pressure: '29.09 inHg',
		'This pressure is': 'as read at the site'
	});
	await part.getByText(/59\s°F = 15(\.0+)?\s°C/).waitFor();
	await keep(part);
	const said = await textOf(part);
	expect(said).toMatch(/29\.09 inHg, at the site/);
	expect(said).toContain('1219 m 350° 4.6 m/s 7.2 °C');
	await part.getByRole('link', { name: 'oun-2018-12-22-12z.txt' }).waitFor();
	await page.getByRole('link', { name: /^Record.*wind at \d+ heights/ }).waitFor();
}

export async function expected(page: Page): Promise<void> {
	const part = section(page, 'What was expected');
	for (const [what, value] of [
		['apogee above the pad', '2100 ± 120 ft'],
		['descent rate under main', '6 m/s'],
		['time from apogee to landing', '55 ± 5 s']
	] as const) {
		await press(part, 'Add a value');
		await fillIn(part, {
			What: what,
			Value: value,
			'Where the number comes from': 'own sheet before the flight'
		});
		await keep(part);
		await part.getByRole('row', { name: new RegExp(what) }).waitFor();
	}
}

/** A clock that runs ahead, and a moment read on it: the tool puts it on true time. */
export async function timeline(page: Page): Promise<void> {
	const part = section(page, 'Timeline and clocks');
	await press(part, 'add a clock');
	await fillIn(part, {
		'Whose clock, which device': 'Tove’s phone',
		Kind: 'phone',
		Zone: '+02:00',
		'Ahead of true time by': '75 ± 2 s'
	});
	await keep(part);
	await part.getByRole('row', { name: /Tove’s phone/ }).waitFor();

	await press(part, 'Add a moment');
	await fillIn(part, { 'What happened': 'puff at the nose, two pieces from then on' });
	await fillIn(group(part, 'When'), { Time: 'read on a clock', 'As it stood on that clock': '14:03:37' });
	await fillIn(part, { 'Seen, heard or recorded by': 'Tove Lind', 'How sure that it happened': 'likely' });
	await keep(part);
	// 14:03:37 on a clock 75 s ahead is 14:02:22, 12 s after the launch at 14:02:10: worked by hand.
	const row = await textOf(part.getByRole('row', { name: /puff at the nose/ }));
	expect(row).toContain('+12');
	expect(row).toContain('14:02:22');
	expect(row).toContain('± 2');
	await page.getByText('Nothing: the record is complete.').waitFor();
}
