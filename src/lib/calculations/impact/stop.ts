import { speedAfterDistanceMS } from '$lib/physics/descent';
import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import { meanDecelerationMS2, PEAK_OVER_MEAN } from '$lib/physics/impact';
import type { Damage, Inputs } from './inputs';

export const nameOf = (x: Inputs, i: number) => x.damage[i]?.name ?? `damage ${i + 1}`;

const downOf = ({ speed, drop, terminal }: Inputs) =>
	speed ?? (terminal === undefined ? Math.sqrt(2 * G * drop!) : speedAfterDistanceMS(terminal, drop!));

/** Speed over the ground at the impact, downward and along it together, m/s. */
export const speedOf = (x: Inputs) => Math.hypot(downOf(x), x.horizontal);

/** Way over which it stopped, m; undefined where neither crush nor penetration is known. */
export function wayOf({ crush, penetration }: Inputs): number | undefined {
	return crush === undefined && penetration === undefined ? undefined : (crush ?? 0) + (penetration ?? 0);
}

/** Peak over mean, at a share from 0 to 1 between constant force and spring where the pulse is not known. */
export const peakFactor = ({ pulse }: Inputs, share: number) =>
	pulse === 'unknown'
		? PEAK_OVER_MEAN.constant + share * (PEAK_OVER_MEAN.spring - PEAK_OVER_MEAN.constant)
		: PEAK_OVER_MEAN[pulse as keyof typeof PEAK_OVER_MEAN];

/** Peak deceleration at a downward speed, m/s²: only that speed is stopped over the way down. */
export const peakOf = (x: Inputs, down: number, share: number) => {
	const way = wayOf(x);
	return way === undefined ? undefined : peakFactor(x, share) * meanDecelerationMS2(down, way);
};

export interface Stop {
	speed: number;
	down: number;
	energy: number;
	mean?: number;
	peak?: number;
}

export function stopOf(x: Inputs, share: number): Stop {
	const [speed, down] = [speedOf(x), downOf(x)];
	const way = wayOf(x);
	return {
		speed,
		down,
		energy: (x.mass * speed ** 2) / 2,
		...(way === undefined
			? {}
			: { mean: meanDecelerationMS2(down, way), peak: peakFactor(x, share) * meanDecelerationMS2(down, way) })
	};
}

/** What the impact gave over what a damage needs: under 1 it was not enough. Undefined where the way is not known. */
export function shareOf(x: Inputs, d: Damage, { energy, peak }: Stop): number | undefined {
	if (d.needs === 'energy') return energy / d.energy!;
	if (peak === undefined) return undefined;
	return d.needs === 'force' ? (x.mass * peak) / d.force! : peak / d.deceleration!;
}
