import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { expectAccessible, expectNoSidewaysScroll, withPage } from './support/page';

const record = {
	title: 'The canopy stayed in its bag',
	expected: 'open at 200 m',
	observed: 'in the bag on the ground',
	when: '',
	consequence: '',
	phase: 'descent',
	firstImpression: ''
};
const causes = Array.from({ length: 12 }, (_, i) => `<basic-event name="cause-${i}"/>`).join('');
const branches = Array.from({ length: 4 }, (_, i) => `<gate name="branch-${i}"/>`).join('');
/** Two tops; a spread that is not weighed. */
const xml = `<opsa-mef>
<define-fault-tree name="bag">
<define-gate name="stays"><label>Canopy stays in its bag</label><or>${branches}</or></define-gate>
${Array.from({ length: 4 }, (_, i) => `<define-gate name="branch-${i}"><nor>${causes.replaceAll('cause', `b${i}`)}</nor></define-gate>`).join('\n')}
<define-gate name="other"><basic-event name="b0-0"/></define-gate>
</define-fault-tree>
<model-data>
${Array.from({ length: 48 }, (_, i) => `<define-basic-event name="b${i % 4}-${Math.floor(i / 4)}"><label>part ${i} fails under load</label><float value="0.0${(i % 9) + 1}"/></define-basic-event>`).join('\n')}
</model-data>
</opsa-mef>`;
const file = (text: string, name = 'bag.xml') => ({
	name,
	mimeType: 'application/xml',
	buffer: Buffer.from(text)
});

describe('a tree and files', () => {
	it('a wrong file says why, a right one is looked at, read in, saved, printed, and taken back with one undo', async () => {
		await withPage({}, async (page) => {
			const id = await begin(page, 'Tree from a file');
			await operate(page, id, [['anomaly.state', { id: 'a1', record }]]);
			await page.goto(`/investigations/${id}/anomalies/a1/tree`);
			await page.getByText('Save, print or read a tree').click();
			const chosen = page.getByLabel('Open-PSA (XML) or open data (JSON)');
			const form = page.locator('details.files form');

			await chosen.setInputFiles(file(xml.slice(0, 300)));
			await form.getByText('Nothing was changed').waitFor();
			await form.getByText(/a part of it is missing/).waitFor();
			await expectAccessible(page);
			await chosen.setInputFiles(file('PK', 'bag.zip'));
			await form.getByText(/neither XML nor JSON/).waitFor();

			await chosen.setInputFiles(file(xml));
			await page.getByLabel('Top event of the file').selectOption('Canopy stays in its bag');
			await form.getByText(/holds 48 events, 9 gates/).waitFor();
			await form.getByText(/what hangs nowhere under the top: 'other'/).waitFor();
			await expectAccessible(page);
			await page.getByRole('button', { name: 'Read it in' }).click();
			await page.getByText('Read “bag.xml”: 48 events, 9 gates.').waitFor();
			const rows = page.locator('.tree-list li');
			// Top, four branches, what each is not, 48 causes, and what nobody has thought of.
			await expect.poll(() => rows.count()).toBe(58);

			// The keyboard: find an event, and back to the tree.
			await page.locator('.frame').focus();
			await page.keyboard.press('/');
			await page.keyboard.type('part 47');
			await page.keyboard.press('Enter');
			await expect.poll(() => page.locator('#event-notes h2').textContent()).toBe('part 47 fails under load');
			await page.keyboard.press('Escape');
			await expect.poll(() => page.evaluate(() => document.activeElement?.className)).toContain('frame');

			const saved = async (name: string) => {
				const [download] = await Promise.all([
					page.waitForEvent('download'),
					page.getByRole('button', { name, exact: true }).click()
				]);
				return readFileSync(await download.path(), 'utf8');
			};
			expect(await saved('Open-PSA (XML)')).toMatch(/<label>part 47 fails under load<\/label>/);
			expect(JSON.parse(await saved('Open data (JSON)'))).toMatchObject({ kind: 'tree', top: 'TOP' });
			expect((await saved('Table of events (CSV)')).split('\n')).toHaveLength(60);
			expect(await saved('Drawing (SVG)')).toMatch(/^<svg /);

			await page.getByRole('link', { name: 'Print on sheets' }).click();
			await page.getByText(/\d sheets, with type of/).waitFor();
			expect(await page.locator('.paper').count()).toBeGreaterThan(1);
			await expectAccessible(page);
			await page.getByLabel('On', { exact: true }).selectOption('one sheet');
			await page.getByText(/too small to read/).waitFor();
			expect(await page.locator('.paper').count()).toBe(1);
			await page.setViewportSize({ width: 375, height: 800 });
			await expectNoSidewaysScroll(page);
			await page.getByRole('link', { name: 'Back to the tree' }).click();

			await page.getByRole('button', { name: 'Undo' }).click();
			await expect.poll(() => rows.count()).toBe(2);
		});
	});
});
