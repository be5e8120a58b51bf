import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { field, fillIn, goTo, margin, press, textOf } from '../support/forms';
import { type Known, STORY, weighed } from './oracle';

export const view = async (page: Page, name: 'Tree' | 'Findings' | 'Calculations' | 'Conclusion') => {
	const link = page
		.getByRole('navigation', { name: 'Views of this anomaly' })
		.getByRole('link', { name: new RegExp(`^${name}`) });
	await link.click();
	await expect.poll(() => link.getAttribute('aria-current')).toBe('page');
};

/** From anywhere in the case to the tree of the story's anomaly. */
export async function openTree(page: Page): Promise<void> {
	await goTo(page, 'Anomalies');
	await page.getByRole('main').getByRole('link', { name: STORY.anomaly }).click();
	await page.getByRole('heading', { level: 1, name: STORY.anomaly }).waitFor();
}

/** Chooses an event in the tree's list form; its first place where it stands in several. */
export async function choose(page: Page, title: string): Promise<void> {
	await page
		.getByRole('list', { name: 'Fault tree' })
		.getByRole('button', { name: new RegExp(`^${title}`) })
		.first()
		.click();
	await margin(page).getByRole('heading', { level: 2, name: title }).waitFor();
}

/** Types into a field that keeps what was typed when it is left. */
export async function type(page: Page, label: string, value: string): Promise<void> {
	const control = field(margin(page), label);
	await control.fill(value);
	await control.press('Tab');
}

const whole = (p: number) => Math.round(100 * p);

/**
 * Every weight on the page is the one that the story's states give, to the printed per cent (give or take one where
 * the inputs were read off the page too). The top event is given, so its own is not asked.
 */
export async function expectWeights(page: Page, known: Known, within = 0): Promise<void> {
	const should = weighed(known);
	for (const name of ['air', 'shock', 'vent', 'pins', 'main', 'unthought'] as const) {
		const row = page
			.getByRole('list', { name: 'Fault tree' })
			.getByRole('button', { name: new RegExp(`^${STORY[name]}`) })
			.first();
		const shown = async () => {
			const [, low, digits] = /([<>]?)([\d.]+) %/.exec(await textOf(row)) ?? [];
			return low === '<' ? 0 : low === '>' ? 100 : Math.round(Number(digits));
		};
		await expect
			.poll(async () => Math.abs((await shown()) - whole(should[name])), {
				message: `${STORY[name]}: ${should[name]}, shown ${await shown()} %`
			})
			.toBeLessThanOrEqual(within);
	}
}

/** The departure, without a cause in it: a cause is noticed while it is typed. */
export async function state(page: Page): Promise<void> {
	await goTo(page, 'Anomalies');
	await press(page, 'State a departure');
	await field(page, 'What departed from the expected').fill('The nose cone came away due to weak pins');
	await page.getByText('brings a cause into the statement').waitFor();
	await fillIn(page, {
		'What departed from the expected': STORY.anomaly,
		Expected: 'nose cone and bay stay joined until the main opens at 200 m',
		Observed: 'they lay 90 m apart, the main still packed',
		When: 'about 12 s after launch',
		'Phase of flight': 'Apogee',
		Consequence: 'bay came down without a parachute',
		'Your first impression': 'pins too thin'
	});
	await press(page, 'State it');
	await page.getByRole('heading', { level: 1, name: STORY.anomaly }).waitFor();
}

async function addBelow(page: Page, under: string, titles: string[]): Promise<void> {
	await choose(page, under);
	await press(page, 'Add below');
	for (const title of titles) {
		await field(page, `Below “${under}”`).fill(title);
		await press(page, 'Add');
		await page.getByRole('list', { name: 'Fault tree' }).getByRole('button', { name: title }).waitFor();
	}
	await press(page, 'Close');
}

async function setGate(page: Page, at: string, gate: string): Promise<void> {
	await choose(page, at);
	await press(page, 'Gate');
	await fillIn(page, { [`Gate under “${at}”`]: gate });
	await press(page, 'Set the gate');
	await margin(page).getByText(`${gate}: all of these together`).waitFor();
}

/** Three basic events under two AND gates, one of them shared; undone and redone on the way. */
export async function tree(page: Page): Promise<void> {
	await press(page, 'Show as a list');
	await addBelow(page, STORY.anomaly, [STORY.air, STORY.shock]);
	await addBelow(page, STORY.air, [STORY.vent, 'shear pins weak']);
	await addBelow(page, STORY.shock, [STORY.main]);
	await choose(page, 'shear pins weak');
	await press(page, 'Rename');
	await fillIn(page, { 'Name of the failed state': STORY.pins });
	await field(page, 'Name of the failed state').press('Enter');
	await choose(page, STORY.pins);
	await press(page, 'Share');
	await fillIn(page, { [`Let “${STORY.pins}” also stand under`]: STORY.shock });
	await page.locator('form').getByRole('button', { name: 'Share' }).click();
	const places = page.getByRole('list', { name: 'Fault tree' }).getByRole('button', { name: STORY.pins });
	await expect.poll(() => places.count()).toBe(2);
	await press(page, 'Undo');
	await expect.poll(() => places.count()).toBe(1);
	await press(page, 'Redo');
	await expect.poll(() => places.count()).toBe(2);
	await setGate(page, STORY.air, 'AND');
	await setGate(page, STORY.shock, 'AND');
}

/** Starting weights in words or as typed; the numbers are those of the whole tree's states. */
export async function start(page: Page): Promise<void> {
	const often = 'How often this happens on a flight like this';
	for (const name of ['vent', 'pins', 'main', 'unthought'] as const) {
		await choose(page, STORY[name]);
		if (name === 'main') {
			await fillIn(margin(page), { [`${often}, in words`]: 'sometimes, 30 %' });
		} else {
			await type(page, often, `${100 * STORY.start[name]} %`);
		}
		await margin(page)
			.getByRole('combobox', { name: /^It rests on/ })
			.selectOption({ label: 'our own flights' });
		if (name === 'pins') await type(page, 'Namely', '2 of 31 flights of this joint');
	}
	await expectWeights(page, {});
	for (const title of [STORY.anomaly, STORY.air, STORY.shock]) {
		await choose(page, title);
		await page
			.getByRole('checkbox', { name: 'Each is an immediate cause, and together they are complete' })
			.check();
		if (title !== STORY.anomaly) await fillIn(margin(page), { 'This is the state of': 'the system' });
	}
	await page.waitForLoadState('networkidle');
}

/** A sign: which events show it, how often it is there anyway, what it rests on. */
async function sign(
	page: Page,
	says: string,
	link: [string, number],
	anyway: number,
	unthought: number,
	cites: string
) {
	await fillIn(page, { 'Sign that could be looked for': says });
	await press(page, 'Add');
	await margin(page).getByRole('heading', { level: 2, name: says }).waitFor();
	await fillIn(margin(page), { 'Add an event that shows this sign': link[0] });
	await type(page, link[0], `${100 * link[1]} %`);
	// The base rate is in it: 1 − (1 − base rate)(1 − p).
	await type(page, 'It is there anyway', `${100 * anyway} %`);
	await margin(page)
		.getByText(
			`= ${Number((100 * (1 - (1 - anyway) * (1 - link[1]))).toPrecision(2))} %, the base rate included`
		)
		.waitFor();
	await type(page, 'If nobody has thought of the cause', `${100 * unthought} %`);
	await margin(page).getByLabel('Evidence: add').selectOption({ label: cites });
	await margin(page)
		.getByRole('button', { name: /^Take off E/ })
		.waitFor();
}

/** Two signs; one is there and one is not, and at each press all weights follow. */
export async function findings(page: Page): Promise<void> {
	await view(page, 'Findings');
	await press(page, 'Add a sign to look for');
	const { tape, crack } = STORY;
	await sign(
		page,
		tape.says,
		[STORY.vent, tape.byVent],
		tape.anyway,
		tape.unthought,
		'E2 photo: scratch on the rim of the bay tube'
	);
	await sign(
		page,
		crack.says,
		[STORY.shock, crack.byShock],
		crack.anyway,
		crack.unthought,
		'E3 piece: nose cone'
	);
	await page.getByRole('radio', { name: 'Against causes' }).check();
	const column = (title: string) => page.getByRole('columnheader', { name: title });
	const before = weighed({});
	await expect.poll(() => textOf(column(STORY.vent))).toContain(` ${whole(before.vent)} %`);
	await page.getByRole('radio', { name: 'List' }).check();
	await page
		.getByRole('group', { name: `F1: ${tape.says}` })
		.first()
		.getByText('present')
		.click();
	await page
		.getByRole('group', { name: `F2: ${crack.says}` })
		.first()
		.getByText('absent', { exact: true })
		.click();
	await page.getByRole('radio', { name: 'Against causes' }).check();
	const after = weighed({ tape: true, crack: false });
	expect(whole(after.vent)).not.toBe(whole(before.vent));
	await expect.poll(() => textOf(column(STORY.vent))).toContain(` ${whole(after.vent)} %`);
	await view(page, 'Tree');
	await press(page, 'Show as a list');
	await expectWeights(page, { tape: true, crack: false });
	await choose(page, STORY.vent);
	await margin(page).getByText('F1, present').waitFor();
}
