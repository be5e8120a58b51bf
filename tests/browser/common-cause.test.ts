import { expect, inject, it } from 'vitest';
import { fillIn, keep, press } from './support/forms';
import { asWorker, makeCase, makeTree } from './support/made-case';
import { expectAccessible, expectNoSidewaysScroll, screenshot, withPage } from './support/page';

it('two recorders on one battery are grouped beside one of them, and the top event shows what that does', () =>
	withPage({ context: asWorker(), allow: [/status of 400/] }, async (page) => {
		const made = await makeCase(inject('baseUrl'), 'Common cause');
		const { anomaly, top, events } = await makeTree(made, ['Recorder A is dead', 'Recorder B is dead']);
		await made.do('event.weigh', { event: events['Recorder B is dead'], weight: 0.1 });
		await made.do('event.add', { under: top, kind: 'basic', title: 'Glue lets go' });
		await page.goto(`${made.path}/anomalies/${anomaly}/tree`);
		await press(page, 'Show as a list');
		await page.locator('.tree-list button', { hasText: 'Recorder A is dead' }).click();
		const margin = page.locator('#event-notes');
		await press(margin, 'Say what could make it fail together with others');
		await press(margin, 'Keep');
		await margin.getByText('Name what they share').waitFor();
		await press(margin, 'one battery');
		await fillIn(margin, { 'Together with': 'Recorder B is dead' });
		await margin.getByText('“Recorder B is dead” starts at 10 %, this one at 5 %').waitFor();
		await screenshot(page, 'common-cause-form');
		await expectAccessible(page);
		await press(margin, 'Start it at 5 %');
		await fillIn(margin, { 'When one of them fails, how often does this take both?': '120 %' });
		await page.keyboard.press('Tab');
		await press(margin, 'Keep');
		await margin.getByText('A probability lies between 0 and 1').waitFor();
		await fillIn(margin, { 'When one of them fails, how often does this take both?': '20 %' });
		await page.keyboard.press('Tab');
		await keep(margin, 'Keep');

		await margin.getByText('it takes both in 20 % of the cases').waitFor();
		// Top event: 1 - .96² · .99 · .95² with it and 1 - .95⁴ without, worked by hand.
		await margin.getByText('Before the flight the top event stood at 18 %').waitFor();
		await margin.getByText('if each failed only by itself, at 19 %').waitFor();
		await screenshot(page, 'common-cause');
		await expectAccessible(page);
		await page.setViewportSize({ width: 375, height: 800 });
		await expectNoSidewaysScroll(page);
		await page.setViewportSize({ width: 1440, height: 900 });

		const rev = await made.rev();
		await press(margin, 'Take it back');
		await press(margin, 'Say what could make it fail together with others');
		expect(await made.rev()).toBe(rev + 1);
	}));
