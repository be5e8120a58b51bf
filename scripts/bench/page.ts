/** The page on 200 pieces of evidence, 60 events and 80 findings: how soon what a person presses is answered. */
import type { Locator } from 'playwright-core';
import { endSession, openSession, type Session, timed } from './page-session';
import type { Check, Workload } from './workload';

const size = 200;

/** One press, again and again. `act` answers what it took, ms, and what proves that it was done. */
function press(
	what: string,
	begin: (session: Session) => Promise<void>,
	act: (session: Session) => Promise<[number, Check]>,
	runs = 15
): Workload {
	let session: Session;
	let elapsed = 0;
	const longest: number[] = [];
	const cpu: number[] = [];
	return {
		name: `page-${what}`,
		size,
		runs,
		async prepare() {
			session = await openSession(size);
			await begin(session);
		},
		async run() {
			const before = await session.cpuMs();
			const [ms, check] = await act(session);
			elapsed = ms;
			longest.push(ms);
			cpu.push((await session.cpuMs()) - before);
			return check;
		},
		elapsedMs: () => elapsed,
		finish() {
			const middle = cpu.sort((a, b) => a - b)[Math.floor(cpu.length / 2)] ?? NaN;
			// The first run warmed up.
			return { longestMs: Math.round(Math.max(...longest.slice(1))), mainThreadMs: Math.round(middle) };
		}
	};
}

/** As it stands once everything has been weighed: nothing moves under the pointer any more. */
const settled = (path: string) => async (session: Session) => {
	await visit(path)(session);
	await session.page.waitForTimeout(3000);
};

const work = ({ page }: Session) => page.getByRole('navigation', { name: 'Line of work' });
const room = (session: Session, name: string): Locator =>
	work(session).getByRole('link', { name: new RegExp(`^${name}`) });
const visit = (path: string) => async (session: Session) => {
	await session.page.goto(session.base + path, { waitUntil: 'networkidle' });
};

/** A room opened over the line of work; `full` counts what must stand there, at least so many. */
const opens = (name: string, full: string, least: number): Workload =>
	press(
		`room-${name.toLowerCase()}`,
		visit(name === 'Changes' ? '/evidence' : '/changes'),
		async (session) => {
			const { page } = session;
			const away = room(session, name === 'Changes' ? 'Evidence' : 'Changes');
			const link = room(session, name);
			const ms = await timed(
				page,
				'pointerup',
				() => link.click({ noWaitAfter: true }),
				({ full, least, path }) =>
					() =>
						location.pathname.endsWith(path) && document.querySelectorAll(full).length >= least,
				{ full, least, path: `/${name.toLowerCase()}` }
			);
			const count = await page.locator(full).count();
			await away.click();
			await page.waitForURL(/(changes|evidence)$/);
			return [ms, { shown: count }];
		}
	);

const view = (name: string, from: string, full: string, least: number): Workload =>
	press(`view-${name.toLowerCase()}`, visit(`/anomalies/a1/${from}`), async ({ page }) => {
		const views = page.getByRole('navigation', { name: 'Views of this anomaly' });
		const ms = await timed(
			page,
			'pointerup',
			() => views.getByRole('link', { name: new RegExp(`^${name}`) }).click({ noWaitAfter: true }),
			({ full, least }) =>
				() =>
					document.querySelectorAll(full).length >= least,
			{ full, least }
		);
		const count = await page.locator(full).count();
		await views.getByRole('link', { name: new RegExp(`^${from}`, 'i') }).click();
		await page.waitForURL(new RegExp(`${from}$`));
		return [ms, { shown: count }];
	});

let turn = 0;

const workloads: Workload[] = [
	opens('Record', 'section', 7),
	opens('Evidence', 'tbody tr', size),
	opens('Ground', '[data-item]', 20),
	opens('Anomalies', 'main strong', 1),
	opens('Changes', 'h1', 1),
	opens('Report', 'table', 3),
	view('Tree', 'findings', '[data-place]', 60),
	view('Findings', 'tree', 'main fieldset input[value=absent]', 80),
	view('Conclusion', 'tree', 'form', 1),
	press('choose-event', settled('/anomalies/a1/tree'), async ({ page }) => {
		const before = await page.locator('#event-notes h2').innerText();
		const [x, y, drawn] = await page.evaluate(
			({ turn, before }) => {
				const stage = document.querySelector('.frame')!.getBoundingClientRect();
				const boxes = [...document.querySelectorAll('[data-place]')]
					.map((group) => ({ group, box: group.getBoundingClientRect() }))
					.filter(({ box }) => box.left > stage.left && box.right < stage.right && box.top > stage.top)
					.filter(({ box }) => box.bottom < Math.min(stage.bottom, innerHeight))
					.filter(({ group }) => !group.textContent?.startsWith(before));
				const { box, group } = boxes[turn % boxes.length]!;
				return [box.left + 40, box.top + 10, group.querySelector('title')?.textContent ?? ''] as const;
			},
			{ turn: turn++, before }
		);
		const ms = await timed(
			page,
			'pointerup',
			() => page.mouse.click(x, y),
			(before) => () => document.querySelector('#event-notes h2')?.textContent !== before,
			before
		);
		const after = await page.locator('#event-notes h2').innerText();
		return [ms, { chosen: after, drawn }];
	}),
	press('set-finding', visit('/anomalies/a1/findings?finding=f9'), async ({ page }) => {
		await page.getByRole('radio', { name: 'Against causes' }).check();
		const notes = page.getByRole('complementary', { name: 'Margin notes' });
		// Another sign each time, which a person reads before turning it.
		const rows = page.locator('main tbody th button');
		await rows.nth((7 * turn++) % (await rows.count())).click();
		await page.waitForTimeout(1500);
		const before = await page.locator('main thead').innerText();
		const ms = await timed(
			page,
			'pointerup',
			() => notes.locator('header label:not(.on)').first().click(),
			(before) => () => document.querySelector<HTMLElement>('main thead')?.innerText !== before,
			before
		);
		const after = await page.locator('main thead').innerText();
		const first = (text: string) => /[<>]?[\d.]+\s?%/.exec(text)?.[0] ?? '';
		return [ms, { before: first(before), after: first(after), numbersChanged: before !== after }];
	}),
	press(
		'contributions',
		visit('/anomalies/a1/findings?finding=f9'),
		async ({ page }) => {
			const row = page.locator('main li').filter({ hasText: /^F10/ }).first();
			const before = (await row.locator('.tells').innerText()).trim();
			const ms = await timed(
				page,
				'pointerup',
				() =>
					row
						.locator('label')
						.nth(turn++ % 2)
						.click(),
				(before) => () => {
					const row = [...document.querySelectorAll('main li')].find((li) =>
						li.textContent?.startsWith('F10')
					);
					const now = row?.querySelector<HTMLElement>('.tells')?.innerText.trim();
					return now !== undefined && now !== before;
				},
				before
			);
			return [ms, { before, after: (await row.locator('.tells').innerText()).trim() }];
		},
		5
	),
	press('add-event', visit('/anomalies/a1/tree'), async ({ page }) => {
		const add = page.getByRole('button', { name: 'Add below', exact: true });
		if ((await add.getAttribute('aria-pressed')) !== 'true') await add.click();
		const title = `part ${turn++} lets go at the seam`;
		await page.getByLabel(/^Below/).fill(title);
		// As long as a person types it.
		await page.waitForTimeout(1500);
		const before = await page.locator('[data-place]').count();
		const ms = await timed(
			page,
			'pointerup',
			() => page.getByRole('button', { name: 'Add', exact: true }).click(),
			(before) => () => document.querySelectorAll('[data-place]').length > before,
			before
		);
		const check = { before, after: await page.locator('[data-place]').count() };
		// As large for the next one.
		await page.getByRole('button', { name: 'Undo' }).click();
		await page.waitForFunction((n) => document.querySelectorAll('[data-place]').length === n, before);
		return [ms, check];
	}),
	press('type-while-weighing', visit('/anomalies/a1/findings?finding=f9'), async ({ page }) => {
		const add = page.getByRole('button', { name: 'Add a sign to look for' });
		const field = page.getByLabel('Sign that could be looked for');
		if (!(await field.isVisible())) await add.click();
		await field.waitFor();
		const label = page.locator('main li').filter({ hasText: /^F10/ }).first().locator('label');
		await label.nth(turn++ % 2).click();
		await field.focus();
		const times: number[] = [];
		for (const key of 'soot on the rim') {
			const before = await field.inputValue();
			times.push(
				await timed(
					page,
					'keydown',
					() => page.keyboard.press(key),
					(before) => () =>
						[...document.querySelectorAll('input')].some((i) => i.value.length === before + 1),
					before.length
				)
			);
		}
		const typed = await field.inputValue();
		await field.fill('');
		return [times.sort((a, b) => a - b)[7]!, { typed, longestKeyMs: Math.round(times.at(-1)!) }];
	}),
	press('choose-on-plan', visit('/ground'), async ({ page }) => {
		// By the plan's own button of that item: marks may lie over one another.
		const items = page.locator('.ground [data-item]');
		const item = items.nth((turn++ * 7) % (await items.count()));
		const id = (await item.getAttribute('data-item')) ?? '';
		await item.focus();
		const notes = page.getByRole('complementary', { name: 'Margin notes' });
		const before = await notes.innerText();
		const ms = await timed(
			page,
			'keydown',
			() => page.keyboard.press('Enter'),
			(before) => () => document.querySelector<HTMLElement>('aside')?.innerText !== before,
			before
		);
		return [ms, { item: id, says: (await notes.innerText()).replace(/\s+/g, ' ').slice(0, 50) }];
	}),
	press('filter-evidence', visit('/evidence'), async ({ page }) => {
		const which = page.getByRole('navigation', { name: 'Which items' });
		const before = await page.locator('tbody tr').count();
		const ms = await timed(
			page,
			'pointerup',
			() =>
				which
					.getByRole('link')
					.nth(turn++ % 2 === 0 ? 2 : 0)
					.click({ noWaitAfter: true }),
			(before) => () => document.querySelectorAll('tbody tr').length !== before,
			before
		);
		return [ms, { before, after: await page.locator('tbody tr').count() }];
	}),
	press('add-moment', visit('/record'), async ({ page }) => {
		const part = page.getByRole('region', { name: 'Timeline and clocks', exact: true });
		await part.getByRole('button', { name: 'Add a moment' }).click();
		await part.getByLabel('What happened').fill(`seen at look ${turn++}`);
		await part.getByLabel(/after launch/i).fill(`${60 + turn} s`);
		const before = await part.locator('tbody tr').count();
		const ms = await timed(
			page,
			'pointerup',
			() => part.getByRole('button', { name: 'Save', exact: true }).click(),
			(before) => () =>
				document.querySelector('.saved [role=status]')?.textContent?.trim().startsWith('Saved') === true &&
				document.querySelectorAll('#timeline tbody tr').length > before,
			await page.locator('#timeline tbody tr').count()
		);
		return [ms, { before, after: await part.locator('tbody tr').count() }];
	})
];
export default workloads;
export const end = endSession;
