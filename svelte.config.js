import adapter from '@sveltejs/adapter-node';

/** @type {import('@sveltejs/kit').Config} */
export default {
	kit: {
		adapter: adapter({ out: 'build/server', precompress: false }),
		// Our own check in hooks.server.ts is stricter and also covers requests without a content type.
		csrf: { trustedOrigins: ['*'] },
		csp: {
			mode: 'nonce',
			directives: {
				'default-src': ['self'],
				'script-src': ['self'],
				// Style *elements* need the nonce; style *attributes* (Svelte, the tree's canvas) are the one exception.
				'style-src': ['self'],
				'style-src-attr': ['unsafe-inline'],
				'img-src': ['self', 'data:', 'blob:'],
				'font-src': ['self'],
				'connect-src': ['self'],
				'worker-src': ['self'],
				'object-src': ['none'],
				'base-uri': ['none'],
				'form-action': ['self'],
				'frame-ancestors': ['none']
			}
		},
		typescript: {
			config: (config) => ({
				...config,
				include: [
					...config.include,
					'../scripts/**/*.mjs',
					'../scripts/**/*.ts',
					'../tests/**/*.ts',
					'../svelte.config.js',
					'../eslint.config.js'
				]
			})
		}
	}
};
