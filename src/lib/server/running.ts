/**
 * How this process was started: written once by the server's entry (scripts/serve.mjs), read by the pages' code,
 * which is another bundle in the same process.
 */
import { resolve } from 'node:path';

/** The second way in, for a phone on the same network: where it is and what the phone has to type. */
export interface Reachable {
	/** The address to open on the phone, such as http://192.168.1.20:4870. */
	address: string;
	/** The pairing code, as shown to the person at this machine. */
	code: string;
}

interface Running {
	dataFolder?: string;
	/** The zip of the example, absolute. */
	example?: string;
	reachable?: Reachable;
}

const key = Symbol.for('witness-mark.running');
const shared = globalThis as { [key]?: Running };

/** @see Running */
export const running: Running = (shared[key] ??= {});

/** The folder that holds all investigations and vehicles, absolute. It exists and is writable once the server runs. */
export function dataFolder(): string {
	return running.dataFolder ?? resolve(process.env['WITNESS_MARK_DATA'] || 'data');
}

/**
 * Thrown while the server starts (from `init` in hooks.server.ts) to end it with one message for people, such as
 * "Another Witness Mark already uses this folder". Recognised by its name, since two bundles have two classes.
 */
export class StartRefused extends Error {
	override name = 'StartRefused';
}
