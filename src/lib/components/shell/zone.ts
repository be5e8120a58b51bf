/**
 * Minutes east of UTC of this machine at a local date and time, as typed: the zone of the flight's own season.
 * @param typed  '2026-05-17 14:02', a date alone, or anything; what is no date gives the zone of `now`
 */
export function zoneMinutesAt(typed: string, now = new Date()): number {
	const read = new Date(/^\d{4}-\d{2}-\d{2}$/.test(typed.trim()) ? `${typed.trim()}T12:00` : typed);
	return 0 - (Number.isNaN(read.getTime()) ? now : read).getTimezoneOffset();
}
