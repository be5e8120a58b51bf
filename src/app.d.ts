declare global {
	namespace App {
		interface Error {
			message: string;
			/** What the person can do now. */
			next?: string;
		}
		interface Locals {
			/** 'here': at the machine that runs the server. 'paired': a phone that was let in with the code. */
			viewer: 'here' | 'paired';
			/** Set for the viewer 'here' while other devices can pair: where, and with which code. For a banner. */
			reachable?: import('$lib/server/running').Reachable;
		}
	}
}

export {};
