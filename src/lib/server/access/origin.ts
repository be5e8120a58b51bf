const safeMethods = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Whether a request that changes something comes from a page of this server.
 *
 * A browser that sends Sec-Fetch-Site is believed; it leaves the header out on plain http to another address than
 * loopback (the paired phone), and then Origin decides. A request with neither is refused, with any content type:
 * a foreign page can send one without.
 */
export function isOwnRequest(method: string, headers: Headers, ownOrigin: string): boolean {
	if (safeMethods.has(method)) return true;
	const site = headers.get('sec-fetch-site');
	if (site !== null) return site === 'same-origin';
	return headers.get('origin') === ownOrigin;
}
