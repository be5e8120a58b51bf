/** One thing to measure. Files in this folder export a list of these by default. */
export interface Workload {
	name: string;
	size: number;
	/** Makes the inputs, once and unmeasured. */
	prepare?(): void | Promise<void>;
	/** What is measured; the result is what can be compared with other programs. */
	run(): Check | Promise<Check>;
	/** What the last run took by its own clock, ms; for a run that drives something else. */
	elapsedMs?(): number;
	/** Clears up, once and unmeasured; what it still found out goes with the check. */
	finish?(): void | Check | Promise<void | Check>;
	/** How often it is measured; at least five times. */
	runs?: number;
	/** How long it runs unmeasured, ms: the engine compiles what runs for milliseconds only after tens of runs. Once without. */
	warmUpMs?: number;
}

/** Numbers by name, such as a mean with its unit in the name. */
export type Check = Record<string, number | string | boolean>;
