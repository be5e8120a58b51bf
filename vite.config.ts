import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vitest/config';

/**
 * Pure tests need no module of their own: files share them, which halves their time. Storage and browser tests start
 * real processes, so they run alone.
 */
export default defineConfig({
	plugins: [sveltekit()],
	// Several development servers can run side by side, each with a cache of its own.
	cacheDir: process.env['VITE_CACHE'] ?? 'node_modules/.vite',
	build: { target: 'es2022' },
	worker: { format: 'es' },
	server: { host: '127.0.0.1' },
	test: {
		projects: [
			{
				extends: true,
				test: {
					name: 'unit',
					include: ['tests/unit/**/*.test.ts'],
					environment: 'node',
					isolate: false,
					testTimeout: 30_000
				}
			},
			{
				extends: true,
				test: {
					name: 'published',
					include: ['tests/published/**/*.test.ts'],
					environment: 'node',
					isolate: false,
					testTimeout: 30_000
				}
			},
			{
				extends: true,
				test: {
					name: 'storage',
					include: ['tests/storage/**/*.test.ts'],
					environment: 'node',
					testTimeout: 120_000
				}
			},
			{
				extends: true,
				test: {
					name: 'browser',
					include: ['tests/browser/**/*.test.ts'],
					environment: 'node',
					globalSetup: ['tests/browser/start-server.ts'],
					// As long as a page is waited for.
					expect: { poll: { timeout: 15_000 } },
					fileParallelism: false,
					testTimeout: 120_000,
					hookTimeout: 120_000
				}
			}
		]
	}
});
