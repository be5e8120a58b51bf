import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { localPath } from '$lib/server/access/gate';
import { hostOf, isLoopback, judgeHost, originOf } from '$lib/server/access/hosts';
import { bodyLimits, inMegabytes, limitBody, limitOf } from '$lib/server/access/limits';
import { isOwnRequest } from '$lib/server/access/origin';
import { pairPage } from '$lib/server/access/pair-page';
import { newCode, Pairing } from '$lib/server/access/pairing';

const local = { address: '127.0.0.1', port: 4870, open: false };
const onNetwork = { address: '192.168.7.20', port: 4870, open: true };

describe('hosts', () => {
	test.each([
		[local, '127.0.0.1:4870', 'own'],
		[local, 'localhost:4870', 'alias'],
		[local, 'LOCALHOST:4870', 'alias'],
		[local, '[::1]:4870', 'alias'],
		[local, '127.0.0.1', 'foreign'],
		[local, '127.0.0.1:4871', 'foreign'],
		[local, 'localhost.elsewhere.invalid:4870', 'foreign'],
		[local, '192.168.7.20:4870', 'foreign'],
		[local, '', 'foreign'],
		[local, undefined, 'foreign'],
		[onNetwork, '192.168.7.20:4870', 'own'],
		[onNetwork, 'localhost:4870', 'foreign'],
		[onNetwork, '127.0.0.1:4870', 'foreign'],
		[{ ...local, port: 80 }, '127.0.0.1', 'own'],
		[{ ...local, port: 80 }, 'localhost', 'alias']
	] as const)('%o judges the Host %s as %s', (door, host, verdict) => {
		expect(judgeHost(host, door)).toBe(verdict);
	});

	test('an IPv6 address stands in brackets', () => {
		const door = { address: 'fd00::5', port: 4870, open: true };
		expect(originOf(door)).toBe('http://[fd00::5]:4870');
		expect(judgeHost(hostOf(door), door)).toBe('own');
	});

	test('loopback addresses are told from others', () => {
		expect(['127.0.0.1', '127.8.9.10', '::1', '::ffff:127.0.0.1'].every(isLoopback)).toBe(true);
		expect(['192.168.7.20', '1127.0.0.1', '::2', 'fd00::127.0.0.1', '', undefined].some(isLoopback)).toBe(
			false
		);
	});
});

describe('origin', () => {
	const own = 'http://127.0.0.1:4870';
	test('reading is free, any other method needs our own page', () => {
		for (const method of ['GET', 'HEAD', 'OPTIONS'])
			expect(isOwnRequest(method, new Headers(), own)).toBe(true);
		for (const method of ['POST', 'PUT', 'PATCH', 'DELETE', 'PROPFIND', 'anything']) {
			expect(isOwnRequest(method, new Headers(), own)).toBe(false);
			expect(isOwnRequest(method, new Headers({ origin: own }), own)).toBe(true);
		}
	});
	test('what the browser says about the site outweighs the Origin', () => {
		for (const site of ['cross-site', 'same-site', 'none', 'SAME-ORIGIN', '']) {
			expect(isOwnRequest('POST', new Headers({ origin: own, 'sec-fetch-site': site }), own)).toBe(false);
		}
		expect(isOwnRequest('POST', new Headers({ 'sec-fetch-site': 'same-origin' }), own)).toBe(true);
	});
});

describe('paths to go to after pairing', () => {
	test('never lead to another origin', () => {
		const hostile = fc
			.array(fc.constantFrom('/', '\\', 'x', ':', '@', '?', '#', '\t', '\n', ' ', '.', 'http:'))
			.map((c) => c.join(''));
		fc.assert(
			fc.property(fc.oneof(hostile, fc.string()), (path) => {
				expect(new URL(localPath(path), 'http://127.0.0.1:4870').origin).toBe('http://127.0.0.1:4870');
			}),
			{ numRuns: 2000 }
		);
	});
	test('keep a path of ours', () => {
		expect(localPath('/case/7?tab=ground#piece')).toBe('/case/7?tab=ground#piece');
		expect(localPath(null)).toBe('/');
	});
});

describe('pairing', () => {
	const code = 'K7QF-2MRD';
	const client = '192.168.7.31';
	const cookieOf = (answer: ReturnType<Pairing['try']>) => (answer.ok ? answer.cookie.split(';')[0] : '');

	test('codes are eight unmistakable characters and differ', () => {
		const codes = Array.from({ length: 200 }, newCode);
		for (const each of codes) expect(each).toMatch(/^[A-HJ-NP-Z2-9]{4}-[A-HJ-NP-Z2-9]{4}$/);
		expect(new Set(codes).size).toBe(200);
	});

	test.each(['K7QF-2MRD', 'k7qf2mrd', ' k7qf 2mrd ', 'K7QF–2MRD'])('"%s" is the code', (text) => {
		expect(new Pairing(4870, code).try(text, client, 0).ok).toBe(true);
	});

	test.each(['', 'K7QF', 'K7QF-2MRE', 'K7QF-2MRD-2MRD', 'К7QF-2MRD' /* a Cyrillic К */])(
		'"%s" is not',
		(text) => {
			expect(new Pairing(4870, code).try(text, client, 0)).toEqual({
				ok: false,
				reason: 'wrong',
				seconds: 0
			});
		}
	);

	test('a paired device is known by its cookie among others, another is not', () => {
		const pairing = new Pairing(4870, code);
		const cookie = cookieOf(pairing.try(code, client, 0));
		expect(pairing.knows(`theme=dark; ${cookie}; who=x`)).toBe(true);
		expect(pairing.knows(undefined)).toBe(false);
		expect(pairing.knows('witness-mark-4870=')).toBe(false);
		expect(pairing.knows(cookie?.slice(0, -1))).toBe(false);
		expect(pairing.knows(cookie?.replace('4870', '4871'))).toBe(false);
		expect(new Pairing(4870, code).knows(cookie)).toBe(false);
	});

	test('five tries at once, then one in twenty seconds, and none of it costs another client', () => {
		const pairing = new Pairing(4870, code);
		for (let i = 0; i < 5; i++) expect(pairing.try('x', client, 0)).toMatchObject({ reason: 'wrong' });
		expect(pairing.try(code, client, 0)).toEqual({ ok: false, reason: 'wait', seconds: 20 });
		expect(pairing.try(code, client, 15_000)).toEqual({ ok: false, reason: 'wait', seconds: 5 });
		expect(pairing.try('x', '192.168.7.32', 0)).toMatchObject({ reason: 'wrong' });
		expect(pairing.try('x', client, 20_000)).toMatchObject({ reason: 'wrong' });
		expect(pairing.try(code, client, 20_000)).toMatchObject({ reason: 'wait' });
		expect(pairing.try(code, client, 40_000).ok).toBe(true);
	});

	test('what is printed into the page cannot leave its place', () => {
		const page = pairPage('/pair?to="><script>', '<b>', 'nonce');
		expect(page).not.toMatch(/<script|<b>/);
	});
});

describe('limits', () => {
	const tooLarge = () => {
		throw new Error('too large');
	};
	const post = (body: BodyInit, headers: Record<string, string> = {}) =>
		new Request('http://127.0.0.1/', { method: 'POST', body, headers, duplex: 'half' } as RequestInit);
	const stream = (...sizes: number[]) =>
		new ReadableStream<Uint8Array>({
			start(controller) {
				for (const size of sizes) controller.enqueue(new Uint8Array(size));
				controller.close();
			}
		});

	test('a route that names no other takes a command', () => {
		expect(limitOf('/')).toBe(bodyLimits.command);
		expect(limitOf(null)).toBe(bodyLimits.command);
		expect(inMegabytes(bodyLimits.photo)).toBe('50 MB');
	});

	test('a declared length over the limit is refused before anything is read', () => {
		expect(() => limitBody(post(stream(1), { 'content-length': '11' }), 10, tooLarge)).toThrow('too large');
	});

	test('an undeclared one is counted: the last byte allowed passes, the next fails', async () => {
		const passed = await limitBody(post(stream(4, 6)), 10, tooLarge).arrayBuffer();
		expect(passed.byteLength).toBe(10);
		await expect(limitBody(post(stream(4, 7)), 10, tooLarge).arrayBuffer()).rejects.toThrow('too large');
		await expect(
			limitBody(post(stream(11), { 'content-type': 'text/plain' }), 10, tooLarge).text()
		).rejects.toThrow('too large');
	});

	test('headers, method and a missing body stay as they are', async () => {
		const request = limitBody(post('{"a":1}', { 'content-type': 'application/json' }), 10, tooLarge);
		expect([request.method, request.headers.get('content-type')]).toEqual(['POST', 'application/json']);
		expect(await request.json()).toEqual({ a: 1 });
		const get = new Request('http://127.0.0.1/');
		expect(limitBody(get, 0, tooLarge)).toBe(get);
	});
});
