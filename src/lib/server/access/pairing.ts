import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';

/** No letters or digits that are mistaken for one another on a small screen. */
const alphabet = 'ABCDEFGHJKLMNPQRSTUVWXYZ23456789';
const codeLength = 8;
const triesAtOnce = 5;
const secondsPerTry = 20;
const clientsRemembered = 1000;

/** Eight characters in two groups (40 bits), such as 'K7QF-2MRD'. */
export function newCode(): string {
	const letters = Array.from({ length: codeLength }, () => alphabet[randomInt(alphabet.length)]);
	return `${letters.slice(0, 4).join('')}-${letters.slice(4).join('')}`;
}

/** What was typed, without what people add or change: case, spaces, hyphens. */
function plain(code: string): string {
	return code.toUpperCase().replace(/[^A-Z0-9]/g, '');
}

function digest(text: string): Buffer {
	return createHash('sha256').update(text).digest();
}

export type PairingAnswer =
	{ ok: true; cookie: string } | { ok: false; reason: 'wrong' | 'wait'; seconds: number };

/**
 * Who may come through the open door: a device whose person typed the code that stands on this machine's screen.
 * It lives in memory, so a restart asks again with a new code.
 */
export class Pairing {
	readonly code: string;
	readonly #cookieName: string;
	readonly #paired = new Set<string>();
	/** Tries left per client and when that was counted, as a bucket that refills. */
	readonly #tries = new Map<string, { left: number; atMs: number }>();

	constructor(port: number, code = newCode()) {
		this.code = code;
		// Cookies know no ports: two servers on one address must not take each other's.
		this.#cookieName = `witness-mark-${port}`;
	}

	/** One try of one client (its network address); five at once, then one in twenty seconds. */
	try(typed: string, client: string, nowMs: number): PairingAnswer {
		const bucket = this.#tries.get(client) ?? { left: triesAtOnce, atMs: nowMs };
		const refilled = (nowMs - bucket.atMs) / 1000 / secondsPerTry;
		const left = Math.min(triesAtOnce, bucket.left + Math.max(0, refilled));
		if (left < 1) return { ok: false, reason: 'wait', seconds: Math.ceil((1 - left) * secondsPerTry) };
		if (timingSafeEqual(digest(plain(typed)), digest(plain(this.code)))) {
			this.#tries.delete(client);
			const token = randomBytes(32).toString('base64url');
			this.#paired.add(digest(token).toString('hex'));
			return { ok: true, cookie: `${this.#cookieName}=${token}; Path=/; HttpOnly; SameSite=Lax` };
		}
		// Delete first: the map keeps the order of insertion, and the oldest client is forgotten first.
		this.#tries.delete(client);
		this.#tries.set(client, { left: left - 1, atMs: nowMs });
		const [oldest] = this.#tries.keys();
		if (this.#tries.size > clientsRemembered && oldest !== undefined) this.#tries.delete(oldest);
		return { ok: false, reason: 'wrong', seconds: 0 };
	}

	/** Whether a Cookie header carries the token of a paired device. */
	knows(cookieHeader: string | undefined): boolean {
		return (cookieHeader ?? '').split(';').some((pair) => {
			const [name, token] = pair.trim().split('=');
			return (
				name === this.#cookieName && token !== undefined && this.#paired.has(digest(token).toString('hex'))
			);
		});
	}
}
