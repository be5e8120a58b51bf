import { distanceAndBearing, type Position } from '$lib/physics/geodesy';
import { distanceWords } from './words';

/** Nothing that is searched for on foot lies farther off, m. */
const FAR_M = 100_000;

const MISTAKES: readonly [string, (p: Position) => Position][] = [
	['with S for N, or the other way round,', (p) => ({ ...p, latitudeDeg: -p.latitudeDeg })],
	['with W for E, or the other way round,', (p) => ({ ...p, longitudeDeg: -p.longitudeDeg })],
	['with both letters changed', (p) => ({ latitudeDeg: -p.latitudeDeg, longitudeDeg: -p.longitudeDeg })],
	[
		'with latitude and longitude changed over',
		(p) => ({ latitudeDeg: p.longitudeDeg, longitudeDeg: p.latitudeDeg })
	]
];

/** Says when a place lies so far from the pad that a sign or the order was lost, and which; null where it may be right. */
export function farFromPad(pad: Position, place: Position): string | null {
	const { distanceM } = distanceAndBearing(pad, place);
	if (distanceM <= FAR_M) return null;
	const near = MISTAKES.flatMap(([words, mend]) => {
		const other = mend(place);
		if (Math.abs(other.latitudeDeg) > 90) return [];
		const { distanceM } = distanceAndBearing(pad, other);
		return distanceM <= FAR_M ? [`${words} it would be ${distanceWords(distanceM)}`] : [];
	});
	return `That is ${distanceWords(distanceM)} from the pad${near.length ? `; ${near.join(', ')}` : ''}. Check the digits, the letters and the order.`;
}
