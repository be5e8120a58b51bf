/**
 * What must happen before the process ends. The server's entry (scripts/serve.mjs) and the pages' code are two
 * bundles in one process, so the list hangs on globalThis and not in this module.
 */
type Task = () => void | Promise<void>;
const key = Symbol.for('witness-mark.shutdown');
const shared = globalThis as { [key]?: Task[] };
const tasks = (shared[key] ??= []);

/**
 * Registers work for a clean end: it runs once, after the last request was answered and before the process
 * exits. The latest registered runs first.
 */
export function onShutdown(task: Task): void {
	tasks.push(task);
}

/** Runs what was registered, each even if one before it failed. @returns what went wrong, empty if nothing did */
export async function shutDown(): Promise<unknown[]> {
	const failures: unknown[] = [];
	for (let task = tasks.pop(); task; task = tasks.pop()) {
		try {
			await task();
		} catch (error) {
			failures.push(error);
		}
	}
	return failures;
}
