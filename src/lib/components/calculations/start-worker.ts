/** Apart from the runner, whose reactive file may hold no plain URL. */
export const startWorker = () =>
	new Worker(new URL('./calculate.worker.ts', import.meta.url), { type: 'module' });
