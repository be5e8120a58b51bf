import { expect, it } from 'vitest';
import { expectAccessible, expectNoSidewaysScroll, withPage } from './support/page';

const PARTS = Array.from({ length: 24 }, (_, i) => `part number ${i + 1}`);

it('the list for the first hour of one’s own vehicle prints on one page, its parts on it, without controls', async () => {
	await withPage({}, async (page) => {
		await page.goto('/');
		await page.getByLabel('Title').fill('First hour');
		const another = page.getByLabel('Vehicle', { exact: true });
		if (await another.count()) await another.selectOption({ label: 'another vehicle' });
		await page.getByLabel('Name of the vehicle').fill('Dipper 1');
		await page.getByLabel('Build', { exact: false }).last().fill('build 1');
		await page.getByRole('button', { name: 'Begin' }).click();
		const who = page.getByRole('dialog');
		await who.getByRole('textbox').fill('Ada');
		await who.getByRole('button').first().click();
		await page.waitForURL(/\/record$/);

		await page.goto('/vehicles/dipper-1');
		const href = await page.getByRole('link', { name: 'What to do in the first hour' }).getAttribute('href');
		await page.evaluate(
			async ({ parts, build }) => {
				let baseRev = 1;
				for (const name of parts) {
					const record = { build, name, group: '', description: '', mass: '', uses: 0 };
					const response = await fetch('/vehicles/dipper-1/do', {
						method: 'POST',
						headers: { 'content-type': 'application/json' },
						body: JSON.stringify({ operation: 'vehiclePart.save', args: { record }, who: 'Ada', baseRev })
					});
					if (!response.ok) throw new Error(await response.text());
					baseRev++;
				}
			},
			{ parts: PARTS, build: new URL(href!, 'http://x').searchParams.get('build') }
		);
		await page.goto(href!);
		await page.getByRole('heading', { name: 'First hour: Dipper 1, build 1' }).waitFor();
		for (const name of PARTS) await page.getByText(name, { exact: true }).waitFor();
		await expectAccessible(page);
		await page.setViewportSize({ width: 375, height: 800 });
		await expectNoSidewaysScroll(page);
		const pdf = await page.pdf({ format: 'A4' });
		expect([...pdf.toString('latin1').matchAll(/\/Type\s*\/Page\b/g)]).toHaveLength(1);
		await page.emulateMedia({ media: 'print' });
		expect(await page.getByRole('button').count()).toBe(0);
	});
});
