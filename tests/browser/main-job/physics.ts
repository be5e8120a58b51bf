import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { fillIn, goTo, margin, press, section, textOf } from '../support/forms';
import { expectWeights, openTree } from './anomaly';
import { type Densities, STORY } from './oracle';

const SUPERSCRIPT = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** '2.31·10⁻⁵' as a number. */
function readNumber(written: string): number {
	const [mantissa = '', power = ''] = written.split('·10');
	const digits = [...power].map((sign) => (sign === '⁻' ? '-' : String(SUPERSCRIPT.indexOf(sign)))).join('');
	return Number(mantissa) * 10 ** Number(digits);
}

/**
 * Fall separation of the two pieces, begun from the plan with the case's own wind, places and drag; its answer then
 * weighs on the tree by the densities that stand on the page.
 */
export async function fallSeparation(page: Page): Promise<void> {
	await goTo(page, 'Ground');
	await press(page, 'choose E3 nose cone');
	await press(page, 'choose E4 bay tube with fins');
	await margin(page)
		.getByRole('link', { name: /Run a fall separation/ })
		.click();
	await page.getByRole('heading', { level: 1, name: 'Fall separation' }).waitFor();
	// What the case says stands there already: the apogee that was expected, the wind of the sounding, both pieces.
	const taken = margin(page).getByRole('listitem');
	await taken
		.filter({ hasText: /E3 nose cone/i })
		.first()
		.waitFor();
	await taken.filter({ hasText: 'What was expected' }).first().waitFor();
	const goesIn = page.getByRole('group', { name: 'What goes in' });
	await fillIn(goesIn, {
		'What this run answers': 'did they part in the air?',
		'It belongs to': `A1 ${STORY.anomaly}`
	});
	const explains = section(page, 'How well each scenario explains what was observed');
	await explains.getByText('Each tick to the left: ten times less well.').waitFor();
	await explains.getByRole('listitem').first().waitFor();
	await press(page, 'Keep this result');
	await page.getByRole('heading', { level: 1, name: 'K1 did they part in the air?' }).waitFor();

	const scenario = (words: string) =>
		explains.getByRole('listitem').filter({ hasText: new RegExp(`^\\s*${words}`) });
	await scenario('Parted in the air')
		.getByLabel('stands for', { exact: true })
		.selectOption({ label: STORY.air });
	await scenario('Parted at impact')
		.getByLabel('stands for', { exact: true })
		.selectOption({ label: STORY.shock });
	await press(explains, 'Let it weigh on the tree');
	await explains.getByText('It weighs on the tree').waitFor();

	const densities: number[] = [];
	for (const words of ['Parted in the air', 'Parted at impact', 'None of these']) {
		const found = /density (\S+) ±/.exec(await textOf(scenario(words)));
		densities.push(readNumber(found?.[1] ?? ''));
	}
	// 90 m apart up the wind: pieces that stay together until the ground do not lie like that.
	expect(densities[0]).toBeGreaterThan(100 * densities[1]!);

	await openTree(page);
	await press(page, 'Show as a list');
	await expectWeights(page, { tape: true, crack: false, densities: densities as unknown as Densities }, 1);
}
