import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { field, fillIn, margin, press, section, textOf } from '../support/forms';
import { view } from './anomaly';
import { STORY } from './oracle';

/** An ending waits for what stands in its way, and says what that is; what was written stays. */
export async function blocked(page: Page): Promise<void> {
	await view(page, 'Conclusion');
	// What the top event does not say yet is said where its link leads.
	await page.getByRole('link', { name: /clear it ?: The top event does not say yet/ }).click();
	const subject = field(page, 'Top event: what failed');
	await expect.poll(() => subject.evaluate((one) => one === document.activeElement)).toBe(true);
	await fillIn(page, {
		'Top event: what failed': 'Nose joint',
		'In what state': 'parts before the main opens',
		'What belongs to its tree, and what does not': 'nose, bay and pins'
	});
	await press(page.getByRole('main'), 'Keep');
	await view(page, 'Conclusion');
	const branches = section(page, 'Every branch');
	for (const name of ['vent', 'pins', 'main', 'unthought'] as const)
		await page.getByRole('link', { name: `clear it: "${STORY[name]}" is still open.` }).waitFor();
	const conclusion = section(page, 'Conclusion');
	await fillIn(conclusion, {
		'It ends': 'Probable cause',
		Conclusion: 'Trapped air pushed the nose cone off.'
	});
	await press(conclusion, 'Conclude');
	await conclusion
		.getByText(/4 things stand in the way/)
		.first()
		.waitFor();
	expect(await field(conclusion, 'Conclusion').inputValue()).toBe('Trapped air pushed the nose cone off.');
	await branches.getByRole('button', { name: STORY.vent }).click();
}

/** Every branch disposed of with a reason and on cited evidence; nothing is voted out. */
export async function dispositions(page: Page): Promise<void> {
	const branches = section(page, 'Every branch');
	const decide = async (title: string, decided: string, because: string, on: string | null) => {
		await branches.getByRole('button', { name: title }).click();
		await margin(page).getByRole('heading', { level: 2, name: title }).waitFor();
		await fillIn(margin(page), { Decided: decided, Because: because });
		if (on !== null) await margin(page).getByLabel('On: add').selectOption({ label: on });
		await press(margin(page), 'Decide');
	};
	await decide(STORY.main, 'Ruled out by evidence', 'the nose came off long before the ground', null);
	await margin(page).getByText('Cite the evidence or finding that rules it out.').waitFor();
	await margin(page)
		.getByLabel('On: add')
		.selectOption({ label: `F2 ${STORY.crack.says}` });
	await press(margin(page), 'Decide');
	await margin(page).getByText('Decided: ruled out by evidence').waitFor();
	await decide(STORY.vent, 'Likely', 'tape lies over the hole in the photo', `F1 ${STORY.tape.says}`);
	await margin(page).getByText('Decided: likely').waitFor();
	await decide(
		STORY.pins,
		'Contributed',
		'with stronger pins the nose would have stayed',
		'E3 piece: nose cone'
	);
	await margin(page).getByText('Decided: contributed').waitFor();
	await decide(STORY.unthought, 'Unlikely', 'what was seen fits the named causes', null);
	await margin(page).getByText('Decided: unlikely').waitFor();
	await branches
		.getByRole('combobox', { name: `Kind of cause: ${STORY.vent}` })
		.selectOption({ label: 'root' });
	await page.getByRole('heading', { name: 'Nothing stands in the way of a conclusion' }).waitFor();
}

/** The conclusion with its basis, its strongest counter-argument and what would reopen it. */
export async function concluded(page: Page): Promise<void> {
	const conclusion = section(page, 'Conclusion');
	await press(conclusion, 'Conclude');
	await conclusion.getByText('Write the strongest argument against it.').waitFor();
	await fillIn(conclusion, {
		'How good is the basis': 'Moderate',
		Conclusion:
			'Tape over the vent hole held the pad’s air in the bay; on the way up it pushed the nose cone off.',
		'Why the basis is as good as that':
			'two signs and the places of both pieces agree; the pins were not found',
		'The strongest argument against it': 'nobody measured what the pins hold',
		'What would reopen it': 'a pull test that shows the pins hold 300 N'
	});
	await press(conclusion, 'Conclude');
	await conclusion.getByText('Kept.').waitFor();
	await page.getByText('No change follows from this conclusion yet.').first().waitFor();
	await page.getByRole('link', { name: /^Anomalies.*1 of 1 concluded/ }).waitFor();
	expect(await textOf(conclusion)).toContain('Last written by Maren Holt');
}
