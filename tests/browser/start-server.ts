import type { TestProject } from 'vitest/node';
import { setUp } from '../../scripts/setup.mjs';
import { startServer } from './support/server';

declare module 'vitest' {
	interface ProvidedContext {
		/** The running tool, with a data folder of its own for this run of the browser tests. */
		baseUrl: string;
	}
}

/** One built server for all browser tests: `inject('baseUrl')`. */
export default async function setup(project: TestProject) {
	await setUp({ build: true });
	const server = await startServer();
	project.provide('baseUrl', server.url);
	return async () => {
		const code = await server.stop();
		if (code !== 0) throw new Error(`the server ended with ${code}:\n${server.output()}`);
	};
}
