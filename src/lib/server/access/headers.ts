/** On every response, pages and assets alike. The pages' own policy with its nonces comes from svelte.config.js. */
export const securityHeaders: Readonly<Record<string, string>> = {
	'x-content-type-options': 'nosniff',
	'x-frame-options': 'DENY',
	'cross-origin-resource-policy': 'same-origin',
	'cross-origin-opener-policy': 'same-origin',
	// Not no-referrer, which would turn the Origin of our own forms into "null".
	'referrer-policy': 'same-origin'
};

/**
 * For everything that is not a page, such as a person's files: should it be opened as a document after all,
 * it can run and load nothing.
 */
export const inertPolicy = "default-src 'none'; sandbox; frame-ancestors 'none'";
