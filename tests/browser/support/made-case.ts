import type { BrowserContextOptions } from 'playwright-core';
import { rawRequest } from './server';

/** A browser on which somebody has said who works there. */
export const asWorker = (name = 'Ada', over: BrowserContextOptions = {}): BrowserContextOptions => ({
	...over,
	storageState: {
		cookies: [
			{
				name: 'who',
				value: encodeURIComponent(name),
				domain: '127.0.0.1',
				path: '/',
				expires: -1,
				httpOnly: false,
				secure: false,
				sameSite: 'Strict'
			}
		],
		origins: []
	}
});

/** An investigation that somebody else works on too, over the same addresses as a page does. */
export interface MadeCase {
	/** '/investigations/…' */
	path: string;
	/** Does one operation. @returns identities of what it changed; throws with the words of a refusal */
	do(operation: string, args: unknown): Promise<string[]>;
	/** Does one operation that is to be refused. @returns what is said */
	refusal(operation: string, args: unknown): Promise<string>;
	/** Number of the last line of its history: the same as before where nothing was kept. */
	rev(): Promise<number>;
}

interface Answer {
	ok: boolean;
	changes?: { id: string }[];
	problems?: { message: string }[];
}

export async function makeCase(baseUrl: string, title: string): Promise<MadeCase> {
	const form = { who: 'Ada', title, vehicleName: title, flownAt: '2031-05-17T14:02', zoneMinutes: '120' };
	const begun = await rawRequest(baseUrl, {
		method: 'POST',
		path: '/?/begin',
		headers: { origin: baseUrl, 'content-type': 'application/x-www-form-urlencoded' },
		body: new URLSearchParams(form).toString()
	});
	const path = /\/investigations\/[a-z0-9-]+/.exec(begun.headers.location ?? begun.body)?.[0];
	if (path === undefined) throw new Error(`not begun: ${begun.status} ${begun.body}`);

	async function rev(): Promise<number> {
		const { body } = await rawRequest(baseUrl, { path: `${path}/record/__data.json` });
		// Values stand in a flat list; the first one says at which place each field is.
		const { nodes } = JSON.parse(body) as { nodes: ({ data?: unknown[] } | null)[] };
		for (const node of nodes) {
			const at = (node?.data?.[0] as { rev?: number } | undefined)?.rev;
			if (at !== undefined) return node!.data![at] as number;
		}
		throw new Error(`no revision in ${body.slice(0, 200)}`);
	}
	async function send(operation: string, args: unknown): Promise<Answer> {
		const { body } = await rawRequest(baseUrl, {
			method: 'POST',
			path: `${path}/do`,
			headers: { origin: baseUrl, 'content-type': 'application/json' },
			body: JSON.stringify({ who: 'Ben', baseRev: await rev(), operation, args })
		});
		return JSON.parse(body) as Answer;
	}
	const said = ({ problems = [] }: Answer) => problems.map(({ message }) => message).join(' ');
	return {
		path,
		rev,
		async do(operation, args) {
			const answer = await send(operation, args);
			if (!answer.ok) throw new Error(`${operation}: ${said(answer)}`);
			return answer.changes!.map(({ id }) => id);
		},
		async refusal(operation, args) {
			const answer = await send(operation, args);
			if (answer.ok) throw new Error(`${operation} was not refused`);
			return said(answer);
		}
	};
}

/** A departure with basic events under its top: identities of the anomaly, its top, and the events by title. */
export async function makeTree(made: MadeCase, titles: readonly string[]) {
	const record = {
		title: 'The nose cone came away',
		expected: 'joined until 200 m',
		observed: 'lay apart',
		when: '',
		consequence: '',
		phase: 'notKnown',
		firstImpression: ''
	};
	const [anomaly, top] = await made.do('anomaly.state', { record });
	const events: Record<string, string> = {};
	for (const title of titles) {
		const changed = await made.do('event.add', { under: top, kind: 'basic', title });
		events[title] = changed.find((id) => id !== top)!;
	}
	return { anomaly: anomaly!, top: top!, events };
}
