import type { Page } from 'playwright-core';
import { expect } from 'vitest';

const WHO = 'Ilse';

/** Begins an investigation as the first page does; the page is known as Ilse from then on. @returns its identity */
export async function begin(page: Page, title: string): Promise<string> {
	const base = new URL(page.url()).origin;
	await page.context().addCookies([{ name: 'who', value: WHO, url: base }]);
	const answer = await page.request.post('/?/begin', {
		form: { title, vehicle: '', vehicleName: 'Tern 4', flownAt: '', who: WHO },
		headers: { origin: base, accept: 'text/html' },
		maxRedirects: 0
	});
	return answer.headers()['location']!.split('/')[2]!;
}

interface Changed {
	id: string;
	after: unknown;
}

/** Does operations as the page itself would. @returns the records that each of them changed */
export async function operate(
	page: Page,
	id: string,
	operations: readonly [string, unknown][],
	baseRev = 1
): Promise<Changed[][]> {
	const origin = new URL(page.url()).origin;
	const changed: Changed[][] = [];
	for (const [operation, args] of operations) {
		const answer = await page.request.post(`/investigations/${id}/do`, {
			data: { operation, args, who: WHO, baseRev },
			headers: { origin }
		});
		const did = (await answer.json()) as {
			ok: boolean;
			rev: number;
			changes?: Changed[];
			problems?: unknown;
		};
		expect(did, `${operation}: ${JSON.stringify(did.problems)}`).toMatchObject({ ok: true });
		changed.push(did.changes ?? []);
		baseRev = did.rev;
	}
	return changed;
}
