import { readFileSync } from 'node:fs';
import ExifReader from 'exifreader';
import { beforeEach, describe, expect, it } from 'vitest';
import { asChanges } from '$lib/investigation/start';
import { rules } from '$lib/server/case-rules';
import { receiveFile } from '$lib/server/files/receive';
import { embedPicture, makeReport } from '$lib/server/report/gather';
import { standAlone } from '$lib/server/report/stand-alone';
import { MemoryStore } from '$lib/server/storage/memory-store';
import type { Change } from '$lib/server/storage/types';
import { ALL, heron, NOTHING } from '../report/heron';

/** Taken 2018-07-25, 50.2996028 N, 14.8202944 E, according to its own tags (tests/open-data/README.md). */
const PHOTO = readFileSync(new URL('../../open-data/photos/phone-with-gps.jpg', import.meta.url));
const ID = 'heron';

beforeEach(async () => {
	const store = new MemoryStore(rules);
	(globalThis as Record<symbol, unknown>)[Symbol.for('witness-mark.store')] = Promise.resolve(store);
	const folder = `investigations/${ID}`;
	const begun = { who: 'Jonna Ek', operation: 'begin', args: null };
	const all = asChanges(heron()) as Change[];
	const about = all.filter(({ collection }) => collection === 'about');
	expect(await store.create(folder, begun, about)).toMatchObject({ ok: true });
	const kept = await receiveFile(store, folder, chunksOf(PHOTO), { name: 'bulkhead-jonna.jpg' });
	if (!kept.ok) throw new Error(kept.error.message);
	const changes = all
		.filter(({ collection }) => collection !== 'about')
		.map((change) => ({
			...change,
			after: change.collection === 'attachments' ? { ...change.after, ...kept.value } : change.after
		}));
	const done = await store.commit(folder, { ...begun, baseRev: 1 }, { changes: changes });
	if (!done.ok) throw new Error(JSON.stringify(done.error));
});

async function* chunksOf(bytes: Buffer) {
	yield await Promise.resolve(bytes);
}

async function exported(shown: typeof ALL): Promise<string> {
	const made = await makeReport(ID, shown, { base: '', addressOf: embedPicture(ID) });
	if (!made.ok) throw new Error(made.error.message);
	return standAlone(made.value);
}

const pictures = (html: string) =>
	[...html.matchAll(/src="data:image\/jpeg;base64,([^"]+)"/g)].map((m) => Buffer.from(m[1]!, 'base64'));

describe('the report as one file', () => {
	it('holds its pictures without what the camera wrote into them', async () => {
		expect(ExifReader.load(PHOTO)['GPSLatitude']).toBeDefined();
		const [picture, ...more] = pictures(await exported(ALL));
		expect(more).toEqual([]);
		expect(picture!.subarray(0, 3)).toEqual(Buffer.from([0xff, 0xd8, 0xff]));
		expect(picture!.includes('Exif')).toBe(false);
		expect(picture!.includes('GPS')).toBe(false);
		expect(Object.keys(ExifReader.load(picture!)).filter((tag) => /GPS|Date|Make|Model/.test(tag))).toEqual(
			[]
		);
	});

	it('holds no name and no position unless ticked, in text, figures or file names', async () => {
		const words = (await exported(NOTHING)).replace(/base64,[^"')]+/g, '');
		expect(words).not.toMatch(/Jonna|\bEk\b|\bPer\b|Astrid|Lund/);
		expect(words).not.toMatch(/59\.40|14\.50|14\.51|50\.299|14\.820|Gullmoss|red house/);
		const all = await exported(ALL);
		for (const shown of ['Jonna Ek', '59.40123', 'Gullmoss']) expect(all).toContain(shown);
	});

	it('asks for nothing and runs nothing', async () => {
		const html = await exported(ALL);
		expect(html).not.toMatch(/<script|<link|<iframe|<object|<embed|<base|\son\w+\s*=/i);
		for (const [, address] of html.matchAll(
			/\b(?:src|srcset|xlink:href|poster|background)=["']?([^"'\s>]+)/gi
		))
			expect(address).toMatch(/^data:/);
		for (const [, address] of html.matchAll(/url\(([^)]*)\)/g)) expect(address).toMatch(/^['"]?(#|data:)/);
		for (const [, address] of html.matchAll(/href="([^"]*)"/g)) expect(address).toMatch(/^#/);
		expect(html).not.toMatch(/@import/);
		expect(html).toContain("default-src 'none'");
	});

	it('shows plan, tree and weights, each drawn', async () => {
		const html = await exported(ALL);
		expect(html.match(/<figure><div[^>]*><svg/g)!.length).toBeGreaterThanOrEqual(2);
		expect(html).toContain('Fault tree of A1');
		expect(html).toContain('The ground from above');
	});

	it('says so where there is no such investigation', async () => {
		expect(await makeReport('nowhere', ALL, { base: '', addressOf: embedPicture('nowhere') })).toMatchObject({
			ok: false,
			error: { kind: 'not-found' }
		});
	});
});
