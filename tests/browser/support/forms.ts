import type { Locator, Page } from 'playwright-core';

type Scope = Page | Locator;

const escaped = (text: string) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** A field by the words of its label, with or without the 'optional' that may stand behind them. */
export function field(scope: Scope, label: string): Locator {
	return scope.getByLabel(new RegExp(`^${escaped(label)}( optional)?$`));
}

/** Fills labelled fields in the order given: types into text fields, chooses options by their words. */
export async function fillIn(scope: Scope, values: Record<string, string>): Promise<void> {
	for (const [label, value] of Object.entries(values)) {
		const control = field(scope, label);
		const tag = await control.evaluate((element) => element.tagName);
		if (tag === 'SELECT') await control.selectOption({ label: value });
		else await control.fill(value);
	}
}

/** A button by its whole name. Where a part of it is for the ear only, a space may stand before a colon. */
export const button = (scope: Scope, name: string): Locator =>
	scope.getByRole('button', { name: new RegExp(`^${escaped(name).replace(/:/g, ' ?:')}$`) });

/** Presses a button by its whole name. */
export function press(scope: Scope, name: string): Promise<void> {
	return button(scope, name).click();
}

/** Presses the verb that saves a form and waits until the form is gone: what stands on the page now is kept. */
export async function keep(scope: Scope, verb = 'Save'): Promise<void> {
	// By the element, not by its name, which is another while it saves.
	const saves = await button(scope.locator('form'), verb).elementHandle();
	await saves.click();
	await saves.waitForElementState('hidden');
}

/** A titled part of a page. */
export const section = (page: Page, name: string): Locator => page.getByRole('region', { name, exact: true });

/** A titled group of fields. */
export const group = (scope: Scope, name: string): Locator => scope.getByRole('group', { name, exact: true });

/** What is said of the chosen thing, beside the sheet. */
export const margin = (page: Page): Locator => page.getByRole('complementary', { name: 'Margin notes' });

/** Goes to a room over the line of work, as a person does. */
export async function goTo(page: Page, room: string): Promise<void> {
	await page
		.getByRole('navigation', { name: 'Line of work' })
		.getByRole('link', { name: new RegExp(`^${room}`) })
		.click();
	await page.waitForURL(new RegExp(`/${room.toLowerCase()}$`));
	// The report's heading is the investigation's title.
	if (room !== 'Report') await page.getByRole('heading', { level: 1, name: room }).waitFor();
	else await page.getByRole('article').waitFor();
}

/** Visible text with its thin and hard spaces made plain, for comparing with what a person reads. */
export async function textOf(locator: Locator): Promise<string> {
	return (await locator.innerText()).replace(/[\u00a0\u2009\u202f]/g, ' ').replace(/\s+/g, ' ');
}

/** A file of tests/open-data. */
export const openData = (name: string): string =>
	new URL(`../../open-data/${name}`, import.meta.url).pathname;
