import { error, type Handle, type HandleServerError, type ServerInit } from '@sveltejs/kit';
import { isTheme } from '$lib/components/shell/theme.svelte';
import { inertPolicy, securityHeaders } from '$lib/server/access/headers';
import { inMegabytes, limitBody, limitOf } from '$lib/server/access/limits';
import { isOwnRequest } from '$lib/server/access/origin';
import { giveExample } from '$lib/server/example';
import { openStore } from '$lib/server/open-store';
import { running } from '$lib/server/running';

/** The data folder is locked and open before the first request; where it can't be, the server does not start. */
export const init: ServerInit = async () => {
	await openStore();
	await giveExample();
};

/** Which way the request came in. The Host header can be trusted: the entry let only our own names through. */
function describeViewer(url: URL): App.Locals {
	if (running.reachable === undefined) return { viewer: 'here' };
	if (url.origin === running.reachable.address) return { viewer: 'paired' };
	return { viewer: 'here', reachable: running.reachable };
}

export const handle: Handle = async ({ event, resolve }) => {
	if (!isOwnRequest(event.request.method, event.request.headers, event.url.origin)) {
		error(403, {
			message: 'This request did not come from a page of Witness Mark, so nothing was changed.',
			next: 'Do it from a page opened at this address.'
		});
	}
	const limit = limitOf(event.route.id);
	event.request = limitBody(event.request, limit, () =>
		error(413, {
			message: `That is larger than ${inMegabytes(limit)}, the most that can be taken here. Nothing was changed.`,
			next: 'Send something smaller.'
		})
	);
	event.locals = describeViewer(event.url);

	const theme = event.cookies.get('theme');
	const response = await resolve(event, {
		// The first paint is already in the chosen theme (see app.html).
		transformPageChunk: ({ html }) => html.replace('%theme%', isTheme(theme) ? theme : 'auto')
	});
	for (const [name, value] of Object.entries(securityHeaders)) response.headers.set(name, value);
	if (!response.headers.has('content-security-policy')) {
		response.headers.set('content-security-policy', inertPolicy);
	}
	return response;
};

/** Nothing is swallowed: the log has the whole error, the person a sentence and what is certain. */
export const handleError: HandleServerError = ({ error: cause, event, status, message }) => {
	if (status === 404)
		return { message: 'There is nothing at this address.', next: 'Go back, or start at the first page.' };
	console.error(`${event.request.method} ${event.url.pathname} failed (${status} ${message}):`, cause);
	return {
		message: 'Something went wrong inside Witness Mark. What was saved before is still there.',
		next: 'Try again. If it happens twice, the window in which Witness Mark was started shows the details.'
	};
};
