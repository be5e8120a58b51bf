/** The time of this browser as it is typed, for the person who has just done something. */
export function localNow(): string {
	const date = new Date();
	return new Date(date.getTime() - date.getTimezoneOffset() * 60_000)
		.toISOString()
		.slice(0, 16)
		.replace('T', ' ');
}
