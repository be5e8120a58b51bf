declare global {
	namespace App {
		interface Error {
			message: string;
			/** What the person can do now. */
			next?: string;
		}
	}
}

export {};
