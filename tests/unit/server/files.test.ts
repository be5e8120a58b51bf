import { readFileSync } from 'node:fs';
import { Readable } from 'node:stream';
import ExifReader from 'exifreader';
import sharp from 'sharp';
import { beforeEach, describe, expect, it } from 'vitest';
import { asDownload, cleanName, nameFromTitle } from '$lib/server/files/names';
import { photoFacts } from '$lib/server/files/photo-facts';
import { pictureCopy } from '$lib/server/files/pictures';
import { readFile, receiveFile, showPicture } from '$lib/server/files/receive';
import { MemoryStore } from '$lib/server/storage/memory-store';

const openData = (path: string) => readFileSync(new URL(`../../open-data/${path}`, import.meta.url));
const FOLDER = 'investigations/one';

let store: MemoryStore;
beforeEach(async () => {
	store = new MemoryStore();
	await store.create(FOLDER, { who: 'Ada', operation: 'begin', args: null }, [
		{ collection: 'about', id: 'main', before: null, after: {} }
	]);
});

async function receive(name: string, content: Uint8Array | string, expectedBytes?: number) {
	const bytes = Buffer.from(content);
	const chunks: Buffer[] = [];
	for (let i = 0; i < bytes.length; i += 65_536) chunks.push(bytes.subarray(i, i + 65_536));
	const given = expectedBytes === undefined ? { name } : { name, expectedBytes };
	return receiveFile(store, FOLDER, Readable.from(chunks), given);
}

async function received(name: string, content: Uint8Array | string) {
	const result = await receive(name, content);
	if (!result.ok) throw new Error(result.error.message);
	return result.value;
}

async function refused(...args: Parameters<typeof receive>) {
	const result = await receive(...args);
	if (result.ok) throw new Error('it was kept');
	expect((await store.listFiles(FOLDER)).ok && (await store.listFiles(FOLDER))).toMatchObject({ value: [] });
	return result.error.message;
}

describe('a received file is known by its content', () => {
	it('reads what a phone photo says of time and place', async () => {
		// tests/open-data/README.md: taken 2018-07-25 16:34:23 local, 50.2996028 N, 14.8202944 E
		const photo = await received('IMG_1.jpg', openData('photos/phone-with-gps.jpg'));
		expect(photo).toMatchObject({ kind: 'photo', type: 'image/jpeg', width: 1012, height: 759, remark: '' });
		expect(photo.taken).toMatchObject({ localTime: '2018-07-25T16:34:23', zoneMinutes: 120 });
		expect(photo.taken!.latitude).toBeCloseTo(50.2996028, 6);
		expect(photo.taken!.longitude).toBeCloseTo(14.8202944, 6);
	});

	it('keeps a HEIC as it is and says how to see it', async () => {
		const bytes = openData('photos/phone.heic');
		const photo = await received('IMG_2.HEIC', bytes);
		expect(photo).toMatchObject({ kind: 'photo', taken: null });
		expect(photo.remark).toMatch(/add a JPEG beside it/);
		const kept = await readFile(store, FOLDER, photo.sha256);
		expect(kept.ok && kept.value.equals(bytes)).toBe(true);
	});

	it.each([
		['ELF', Buffer.concat([Buffer.from('7f454c4602010100', 'hex'), Buffer.alloc(100)])],
		['MZ', Buffer.concat([Buffer.from('MZ'), Buffer.alloc(200, 1)])],
		['script', Buffer.from('#!/bin/sh\nrm -rf ~\n')]
	])('refuses a program named .jpg (%s)', async (_, bytes) => {
		expect(await refused('holiday.jpg', bytes)).toMatch(/'holiday.jpg' is a program/);
	});

	it('refuses an empty file and says why it may be empty', async () => {
		expect(await refused('IMG_3.jpg', '')).toMatch(/is empty \(0 bytes\)/);
	});

	it('refuses a photo of 60 MB, whether or not its size was announced, and one that arrives in part', async () => {
		const big = Buffer.alloc(60 * 1024 * 1024);
		big.set(openData('photos/no-exif.jpg'));
		expect(await refused('big.jpg', big)).toMatch(/larger than 50 MB/);
		expect(await refused('big.jpg', big, big.length)).toMatch(/larger than 50 MB/);
		expect(await refused('half.csv', '1,2\n', 8)).toMatch(/Only 4 of 8 bytes/);
		expect(await refused('log.bin', big, 300 * 1024 * 1024)).toMatch(/300.0 MB, and the limit is 200.0 MB/);
	});

	it.each([
		'<svg xmlns="http://www.w3.org/2000/svg"/>',
		'<!DOCTYPE html><script>1</script>',
		'<?xml version="1.0"?><svg/>'
	])('makes %s inert', async (markup) => {
		expect(await received('drawing.svg', markup)).toMatchObject({ kind: 'text', type: 'text/plain' });
	});

	it('tells tables, texts, old encodings and unknown bytes apart', async () => {
		expect(await received('a.csv', 'time,alt\n0,1.5\n1,2.5\n2,3.5\n')).toMatchObject({
			kind: 'recording',
			type: 'text/csv'
		});
		expect(await received('a.igc', openData('recordings/skydrop-2019-04-15.igc'))).toMatchObject({
			kind: 'recording'
		});
		expect(await received('notes.txt', 'Found it by the fence, nose down.\n')).toMatchObject({
			kind: 'text',
			remark: ''
		});
		const latin1 = Buffer.from('t;T in °C\n1;20\n2;21\n3;22\n', 'latin1');
		expect((await received('b.csv', latin1)).remark).toMatch(/not UTF-8/);
		expect(await received('raw.bin', Buffer.from([0, 255, 3, 1, 254, 0, 9]))).toMatchObject({
			kind: 'other',
			type: 'application/octet-stream'
		});
		expect((await received('x.jpg', Buffer.from([0, 255, 3, 1, 254, 0, 9]))).remark).toMatch(/says picture/);
	});

	it('says so when a picture is cut off, and keeps it', async () => {
		const photo = await received('cut.jpg', openData('photos/phone-with-gps.jpg').subarray(0, 120_000));
		expect(photo.kind).toBe('photo');
		const shown = await showPicture(store, FOLDER, photo.sha256, 'thumbnail');
		expect(!shown.ok && shown.error.message).toMatch(/The original is kept/);
	});
});

describe('what a photo says of itself', () => {
	const facts = async (exif: Parameters<ReturnType<typeof sharp>['withExif']>[0]) =>
		photoFacts(
			await sharp({ create: { width: 8, height: 8, channels: 3, background: '#a33' } })
				.jpeg()
				.withExif(exif)
				.toBuffer()
		);

	it('takes the zone that the photo states, and leaves it open where there is none', async () => {
		const time = { DateTimeOriginal: '2031:05:04 10:00:00' };
		expect(await facts({ IFD2: { ...time, OffsetTimeOriginal: '-07:00' } })).toMatchObject({
			localTime: '2031-05-04T10:00:00',
			zoneMinutes: -420,
			zoneFrom: 'tag',
			position: null,
			problems: []
		});
		expect(await facts({ IFD2: time })).toMatchObject({ zoneMinutes: null, zoneFrom: null });
	});

	it.each(['0000:00:00 00:00:00', '    :  :     :  :  ', '2031:02:31 10:00:00', 'yesterday'])(
		'%j is no time',
		async (text) => {
			expect(await facts({ IFD2: { DateTimeOriginal: text } })).toMatchObject({ localTime: null });
		}
	);

	it('refuses a position that is not whole, in words, instead of guessing', async () => {
		const north = { GPSLatitudeRef: 'N', GPSLatitude: '50/1 10/1 0/1' };
		for (const broken of [north, { ...north, GPSLongitude: '7/1 0/1 0/1' }]) {
			const read = await facts({ IFD3: broken });
			expect(read.position).toBeNull();
			expect(read.problems).toEqual([expect.stringMatching(/GPS longitude .*by hand/)]);
		}
		const whole = await facts({ IFD3: { ...north, GPSLongitudeRef: 'W', GPSLongitude: '7/1 3000/100 0/1' } });
		expect(whole.position).toMatchObject({ longitudeDeg: -7.5 });
	});
});

describe('copies for the screen', () => {
	it('carry no EXIF, no position, and stand upright', async () => {
		const original = await sharp({ create: { width: 60, height: 20, channels: 3, background: '#a33' } })
			.jpeg()
			.withExif({
				IFD0: { Orientation: '6', Make: 'Invented' },
				IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '50/1 10/1 0/1' }
			})
			.withMetadata({ orientation: 6 })
			.toBuffer();
		const copy = await pictureCopy(original, 100);
		if (!copy.ok) throw new Error(copy.error.message);
		expect(await sharp(copy.value).metadata()).toMatchObject({ width: 20, height: 60, format: 'jpeg' });
		expect(copy.value.includes('Exif')).toBe(false);
	});

	it('of a real photo with a position hold none', async () => {
		const copy = await pictureCopy(openData('photos/phone-with-gps.jpg'), 320);
		if (!copy.ok) throw new Error(copy.error.message);
		expect(Object.keys(ExifReader.load(copy.value)).filter((name) => name.startsWith('GPS'))).toEqual([]);
		expect(photoFacts(copy.value)).toMatchObject({ position: null, localTime: null });
	});
});

describe('names', () => {
	it.each([
		['C:\\photos\\IMG 1.jpg', 'IMG 1.jpg'],
		['../../etc/passwd', 'passwd'],
		['a\u202egpj.exe', 'agpj.exe'],
		['cafe\u0301.jpg', 'café.jpg'],
		['a\u0000b\n.csv', 'ab.csv'],
		['', 'unnamed'],
		['..', 'unnamed']
	])('%j becomes %j', (given, expected) => expect(cleanName(given)).toBe(expected));

	it('keeps 200 characters and the ending', () => {
		const name = cleanName('🚀'.repeat(300) + '.jpeg');
		expect([...name]).toHaveLength(200);
		expect(name.endsWith('….jpeg')).toBe(true);
	});

	it.each([
		['Heron <b>7</b>, flight 1', 'Heron b 7 b, flight 1'],
		['27/09 \\ second <>', '27 09 second'],
		['Lantern 2, flight 3', 'Lantern 2, flight 3'],
		['</>', 'untitled']
	])('the title %j becomes %j', (title, expected) => expect(nameFromTitle(title)).toBe(expected));

	it('travel in a header without breaking out of it', () => {
		expect(asDownload('naïve "x"\r\n.csv')).toBe("attachment; filename*=UTF-8''na%C3%AFve%20%22x%22.csv");
	});
});
