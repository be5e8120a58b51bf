import { randomBytes } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { securityHeaders } from './headers';
import { hostOf, isLoopback, judgeHost, originOf, type Door } from './hosts';
import { isOwnRequest } from './origin';
import { pairPage } from './pair-page';
import type { Pairing } from './pairing';

const pairPath = '/pair';
const longestPairingBody = 1000;

/** Plain words as the whole answer; `close` because a refused body is not read. */
function refuse(res: ServerResponse, status: number, message: string): void {
	res
		.writeHead(status, { 'content-type': 'text/plain; charset=utf-8', connection: 'close' })
		.end(`${message}\n`);
}

function redirect(res: ServerResponse, status: number, location: string): void {
	res.writeHead(status, { location, 'cache-control': 'no-store' }).end();
}

/** A path on this server, or '/': never another site, whatever stands in the address. */
export function localPath(path: string | null): string {
	return path !== null && /^\/(?![/\\])[^\\\s]*$/.test(path) ? path : '/';
}

async function readForm(req: IncomingMessage): Promise<URLSearchParams | undefined> {
	let text = '';
	for await (const chunk of req) {
		text += String(chunk);
		if (text.length > longestPairingBody) return undefined;
	}
	return new URLSearchParams(text);
}

/** The pairing page and its form. */
async function pair(req: IncomingMessage, res: ServerResponse, door: Door, pairing: Pairing): Promise<void> {
	const query = new URL(req.url ?? '/', originOf(door)).searchParams;
	const to = localPath(query.get('to'));
	const show = (status: number, problem?: string) => {
		const nonce = randomBytes(16).toString('base64');
		res
			.writeHead(status, {
				'content-type': 'text/html; charset=utf-8',
				'cache-control': 'no-store',
				'content-security-policy':
					`default-src 'none'; style-src 'nonce-${nonce}'; form-action 'self'; ` +
					"base-uri 'none'; frame-ancestors 'none'"
			})
			.end(pairPage(`${pairPath}?to=${encodeURIComponent(to)}`, problem, nonce));
	};
	if (req.method === 'GET' || req.method === 'HEAD') return show(200);
	if (req.method !== 'POST') return refuse(res, 405, 'Open this address in a browser.');
	const headers = new Headers();
	for (const name of ['origin', 'sec-fetch-site']) {
		const value = req.headers[name];
		if (typeof value === 'string') headers.set(name, value);
	}
	if (!isOwnRequest('POST', headers, originOf(door)))
		return refuse(res, 403, 'This did not come from our own page.');
	const form = await readForm(req);
	if (!form) return refuse(res, 413, 'That is too long for a pairing code.');
	const answer = pairing.try(form.get('code') ?? '', req.socket.remoteAddress ?? '', Date.now());
	if (answer.ok) {
		res.setHeader('set-cookie', answer.cookie);
		return redirect(res, 303, to);
	}
	if (answer.reason === 'wrong') return show(403, 'That is not the code that stands there now. Look again.');
	return show(429, `Too many tries. Wait ${answer.seconds} seconds, then try again.`);
}

/**
 * Who gets in at all, decided before pages and assets: the right name for the door, one canonical origin, and at
 * the open door a paired device.
 * @returns true if the request may go on; otherwise it has been answered
 */
export async function passes(
	req: IncomingMessage,
	res: ServerResponse,
	door: Door,
	pairing: Pairing | undefined
): Promise<boolean> {
	for (const [name, value] of Object.entries(securityHeaders)) res.setHeader(name, value);

	const host = judgeHost(req.headers.host, door);
	if (host === 'foreign') {
		refuse(res, 421, `This is Witness Mark at ${originOf(door)}; it answers to no other name.`);
		return false;
	}
	// A request target may be a whole address (as proxies send); only paths are ours.
	if (!req.url?.startsWith('/')) {
		refuse(res, 400, 'The request names no path.');
		return false;
	}
	if (host === 'alias') {
		redirect(res, 308, `${originOf(door)}${req.url.replace(/^\/+/, '/')}`);
		return false;
	}
	if (!door.open) {
		if (isLoopback(req.socket.remoteAddress)) return true;
		refuse(res, 403, `${hostOf(door)} is for this machine only.`);
		return false;
	}
	if (!pairing) throw new Error('an open door needs a pairing');
	if (req.url.split('?', 1)[0] === pairPath) {
		await pair(req, res, door, pairing);
		return false;
	}
	if (pairing.knows(req.headers.cookie)) return true;
	const navigates = req.method === 'GET' && (req.headers.accept ?? '').includes('text/html');
	if (navigates) redirect(res, 303, `${pairPath}?to=${encodeURIComponent(localPath(req.url))}`);
	else refuse(res, 401, `This device is not paired. Open ${originOf(door)}${pairPath} and type the code.`);
	return false;
}
