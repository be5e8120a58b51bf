import {
	distanceAndBearing,
	fromLocal,
	type Position as Place,
	toLocal,
	trueBearingDeg
} from '$lib/physics/geodesy';
import { standardDeviation } from '$lib/probability/distributions';
import { toSi } from '$lib/quantity/quantity';
import type { Investigation } from '../case';
import type { Position } from '../schema/places-and-times';

/** Where something lies on the plan: metres from the pad, with one standard deviation on each axis. */
export interface OnPlan {
	eastM: number;
	northM: number;
	/** One standard deviation on each axis, m; null where nobody said how well it is known. */
	sigmaM: number | null;
	place: Place;
}

/** Radius that holds the stated share of a circular normal distribution, in standard deviations. */
const SIGMAS: Record<0.68 | 0.95, number> = {
	0.68: Math.sqrt(-2 * Math.log(0.32)),
	0.95: Math.sqrt(-2 * Math.log(0.05))
};
/** A hand compass, where nobody said better: common practice, no source. */
export const COMPASS_DEG = 3;
const RAD = Math.PI / 180;

/** The pad's own place, or null where it has none (a pad can't be given from the pad). */
export function padPlace(file: Investigation): Place | null {
	const pad = file.site['main']?.pad;
	return pad && pad.kind !== 'bearing'
		? { latitudeDeg: pad.latitudeDeg, longitudeDeg: pad.longitudeDeg }
		: null;
}

/**
 * Places every item that has a position. What was measured from another item is placed from there, and its
 * uncertainty is its own together with that item's. Items whose chain leads nowhere are left out.
 */
export function positions(file: Investigation): Map<string, OnPlan> {
	const pad = padPlace(file);
	const found = new Map<string, OnPlan>();
	if (!pad) return found;
	const declination = file.site['main']?.declinationDeg ?? 0;

	const resolve = (id: string, trail: readonly string[]): OnPlan | null => {
		const known = found.get(id);
		if (known) return known;
		const measured = file.evidence[id]?.position;
		if (!measured || trail.includes(id)) return null;
		const placed = place(measured, [...trail, id]);
		if (placed) found.set(id, placed);
		return placed;
	};

	const place = (measured: Position, trail: readonly string[]): OnPlan | null => {
		if (measured.kind !== 'bearing') {
			const where = { latitudeDeg: measured.latitudeDeg, longitudeDeg: measured.longitudeDeg };
			const { radius, level } = measured.circle;
			const sigmaM = radius ? toSi(radius, 'length').value / SIGMAS[level] : null;
			return { ...toLocal(pad, where), sigmaM, place: where };
		}
		const origin =
			measured.from === 'pad' ? { eastM: 0, northM: 0, sigmaM: 0 } : resolve(measured.from, trail);
		if (!origin) return null;
		const distance = toSi(measured.distance, 'length');
		const bearing =
			measured.reference === 'magnetic'
				? trueBearingDeg(measured.bearingDeg, declination)
				: measured.bearingDeg;
		const across = distance.value * (measured.bearingPlusMinusDeg ?? COMPASS_DEG) * RAD;
		const along = standardDeviation(distance);
		const own = Math.sqrt((across ** 2 + along ** 2) / 2);
		const local = {
			eastM: origin.eastM + distance.value * Math.sin(bearing * RAD),
			northM: origin.northM + distance.value * Math.cos(bearing * RAD)
		};
		return {
			...local,
			sigmaM: origin.sigmaM === null ? null : Math.hypot(origin.sigmaM, own),
			place: fromLocal(pad, local)
		};
	};

	for (const id of Object.keys(file.evidence)) resolve(id, []);
	return found;
}

/** What is assumed where a distance and bearing came without their plus-minus, in words; '' where nothing is. */
export function assumedOf(position: Position | null): string {
	if (position?.kind !== 'bearing') return '';
	return [
		position.bearingPlusMinusDeg === null && `bearing ± ${COMPASS_DEG}° assumed`,
		standardDeviation(toSi(position.distance, 'length')) === 0 && 'distance taken as exact'
	]
		.filter(Boolean)
		.join(', ');
}

/** True if placing `id` from `from` would lead in a circle. */
export function wouldCircle(file: Investigation, id: string, from: string): boolean {
	for (let at: string | null = from; at !== null;) {
		if (at === id) return true;
		const next: Position | null = file.evidence[at]?.position ?? null;
		at = next?.kind === 'bearing' && next.from !== 'pad' ? next.from : null;
	}
	return false;
}

/** Distance, true bearing and offset of one item from another. */
export interface Apart {
	distanceM: number;
	bearingDeg: number;
	eastM: number;
	northM: number;
	/** One standard deviation on each axis of the offset, m; null where one of them is unknown. */
	sigmaM: number | null;
}

/**
 * How `to` lies from `from`. Where one was measured from the other directly, that measurement alone counts:
 * the fix that both hang on cancels.
 */
export function apart(file: Investigation, from: string, to: string, placed = positions(file)): Apart | null {
	const a = from === 'pad' ? padOnPlan(file) : placed.get(from);
	const b = to === 'pad' ? padOnPlan(file) : placed.get(to);
	if (!a || !b) return measuredDirectly(file, from, to);
	const { distanceM, bearingDeg } = distanceAndBearing(a.place, b.place);
	const shared = directSigma(file, from, to) ?? directSigma(file, to, from);
	const sigmaM = shared ?? (a.sigmaM === null || b.sigmaM === null ? null : Math.hypot(a.sigmaM, b.sigmaM));
	return {
		distanceM,
		bearingDeg,
		eastM: distanceM * Math.sin(bearingDeg * RAD),
		northM: distanceM * Math.cos(bearingDeg * RAD),
		sigmaM
	};
}

/** Without a pad nothing has a place on the plan; what was taped from one item to the other is known all the same. */
function measuredDirectly(file: Investigation, from: string, to: string): Apart | null {
	const there = directSigma(file, from, to) !== null;
	const sigmaM = directSigma(file, there ? from : to, there ? to : from);
	const measured = file.evidence[there ? to : from]?.position;
	if (measured?.kind !== 'bearing' || sigmaM === null) return null;
	const declination = file.site['main']?.declinationDeg ?? 0;
	const read =
		measured.reference === 'magnetic'
			? trueBearingDeg(measured.bearingDeg, declination)
			: measured.bearingDeg;
	const bearingDeg = there ? read : (read + 180) % 360;
	const distanceM = toSi(measured.distance, 'length').value;
	return {
		distanceM,
		bearingDeg,
		eastM: distanceM * Math.sin(bearingDeg * RAD),
		northM: distanceM * Math.cos(bearingDeg * RAD),
		sigmaM
	};
}

function directSigma(file: Investigation, from: string, to: string): number | null {
	const measured = file.evidence[to]?.position;
	if (measured?.kind !== 'bearing' || measured.from !== from) return null;
	const distance = toSi(measured.distance, 'length');
	const across = distance.value * (measured.bearingPlusMinusDeg ?? COMPASS_DEG) * RAD;
	return Math.sqrt((across ** 2 + standardDeviation(distance) ** 2) / 2);
}

function padOnPlan(file: Investigation): OnPlan | null {
	const place = padPlace(file);
	return place && { eastM: 0, northM: 0, sigmaM: 0, place };
}
