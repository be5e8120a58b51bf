import { circleSigma } from '$lib/probability/circle';
import type { Observation } from '../calculation';
import { spreadsOf } from '../likelihood';
import type { Found, Inputs } from './inputs';

/** The name a piece goes by, or its number. */
export const nameOf = (x: Inputs, i: number) => x.pieces[i]?.name ?? `piece ${i + 1}`;

/** Turns each row of found places into an observation of one piece, or says what contradicts. */
export function observationsOf(
	values: Record<string, unknown>,
	x: Inputs,
	sd: (path: string) => number
): Observation[] | string {
	const out: Observation[] = [];
	for (const [row, found] of (values['found'] as Found[]).entries()) {
		const member = memberOf(found, row, x);
		if (typeof member === 'string') return member;
		if (out.some((o) => o.member === member)) return `the place of ${nameOf(x, member)} is given twice`;
		const place = placeOf(found, nameOf(x, member), (id) => sd(`found.${row + 1}.${id}`));
		if (typeof place === 'string') return place;
		out.push({ ...place, member });
	}
	return out;
}

function memberOf(found: Found, row: number, x: Inputs): number | string {
	const name = found.piece?.toLowerCase();
	const member =
		name === undefined ? row + 1 : x.pieces.findIndex((_, i) => nameOf(x, i).toLowerCase() === name);
	if (member === 0) return `${nameOf(x, 0)} is the reference; give the places of the others from it`;
	return member > 0 && member < x.pieces.length ? member : `no piece is called "${found.piece ?? row + 2}"`;
}

function placeOf(found: Found, label: string, sd: (id: string) => number): Observation | string {
	const { east, north, distance, bearing, circle, circleLevel } = found;
	if (circle !== undefined && circleLevel === 'not said')
		return `${label}: say whether 50, 68 or 95 % lies within the circle; their radii differ up to 2.1-fold`;
	const circleSd = circle === undefined ? undefined : circleSigma(circle, Number(circleLevel) / 100);
	const known = (id: string) => circleSd ?? sd(id);
	if (east !== undefined && north !== undefined) {
		if (distance !== undefined || bearing !== undefined)
			return `${label}: give east and north, or distance and bearing, not both`;
		return certain(label, {
			kind: 'offset',
			label,
			east,
			north,
			eastSd: known('east'),
			northSd: known('north')
		});
	}
	if (east !== undefined || north !== undefined)
		return `${label}: east and north belong together; one is missing`;
	if (distance === undefined) return `${label}: its place is missing; give east and north, or a distance`;
	if (bearing === undefined)
		return certain(label, { kind: 'distance', label, observed: distance, sd: known('distance') });
	const [s, c] = [Math.sin(bearing), Math.cos(bearing)];
	const across = circleSd ?? Math.max(distance * sd('bearing'), 0.1);
	return certain(label, {
		kind: 'offset',
		label,
		east: distance * s,
		north: distance * c,
		eastSd: Math.hypot(s * known('distance'), c * across),
		northSd: Math.hypot(c * known('distance'), s * across)
	});
}

/** Refuses a place that claims to be exact. */
function certain(label: string, o: Observation): Observation | string {
	return Math.min(...spreadsOf(o)) > 0
		? o
		: `${label}: no place is known exactly; give its uncertainty, such as 2.1 ± 0.1 m`;
}
