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
		await margin.getByText('As typed:').waitFor();
		await fillIn(margin, { 'When one of them fails, how often does this take both?': '120 %' });
		await page.keyboard.press('Tab');
		await margin.getByText('A probability lies between 0 and 1').waitFor();
		await press(margin, 'Keep');
		await margin.getByText('A probability lies between 0 and 1').waitFor();
		await fillIn(margin, { 'When one of them fails, how often does this take both?': '20 %' });
		await page.keyboard.press('Tab');
		// What it would do stands there before it is kept; by hand as below.
		const does = margin.getByRole('status');
		await does.getByText('before the flight the top event stands at 18 %').waitFor();
		await does.getByText('were each to fail only by itself at 19 %').waitFor();
		await screenshot(page, 'common-cause-typed');
		await expectAccessible(page);
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

it('house events kept under the name of a phase are switched by one press, and back by undo', () =>
	withPage({ context: asWorker() }, async (page) => {
		const made = await makeCase(inject('baseUrl'), 'Phases');
		const { anomaly, events } = await makeTree(made, ['Nose cone came off']);
		const under = events['Nose cone came off']!;
		for (const title of ['Joint lets go', 'It happened in boost'])
			await made.do('event.add', { under, kind: title.includes('boost') ? 'house' : 'basic', title });
		await made.do('event.setGate', { event: under, type: 'priorityAnd' });
		await page.goto(`${made.path}/anomalies/${anomaly}/tree`);
		await page.getByText('“Nose cone came off” (priority AND) is weighed as a plain AND').waitFor();
		const settings = page.getByRole('region', { name: 'Phase or configuration' });
		const named = async (title: string) => {
			await press(settings, 'Keep how it is switched now');
			await fillIn(settings, { 'Phase or configuration': title });
			await expectAccessible(page);
			await keep(settings, 'Keep');
		};
		await named('descent');
		await press(page, 'Show as a list');
		const row = page.locator('.tree-list button', { hasText: 'It happened in boost' });
		await row.click();
		await page.getByLabel('On: it holds for this flight').check();
		await settings.getByText('Switched by hand').waitFor();
		await named('boost');
		await page.locator('#event-notes').getByText('On in “boost”').waitFor();
		await screenshot(page, 'settings');
		await expectAccessible(page);

		const pressed = (title: string) =>
			settings.getByRole('button', { name: title, exact: true }).getAttribute('aria-pressed');
		await press(settings, 'descent');
		await expect.poll(() => row.textContent()).toContain('off');
		await expect.poll(() => pressed('descent')).toBe('true');
		expect(await pressed('boost')).toBe('false');
		await press(page, 'Undo');
		await expect.poll(() => pressed('boost')).toBe('true');
		await page.setViewportSize({ width: 375, height: 800 });
		await expectNoSidewaysScroll(page);
		await screenshot(page, 'settings-phone');
	}));
