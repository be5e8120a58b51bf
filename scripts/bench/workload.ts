/** One thing to measure. Files in this folder export a list of these by default. */
export interface Workload {
	name: string;
	size: number;
	/** Makes the inputs, once and unmeasured. */
	prepare?(): void | Promise<void>;
	/** What is measured; the result is what can be compared with other programs. */
	run(): Check | Promise<Check>;
	/** Clears up, once and unmeasured. */
	finish?(): void | Promise<void>;
	/** How often it is measured; at least five times. */
	runs?: number;
}

/** Numbers by name, such as a mean with its unit in the name. */
export type Check = Record<string, number | string | boolean>;
