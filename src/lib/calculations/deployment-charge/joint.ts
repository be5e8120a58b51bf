import { chargePressurePa, partingSpeedsMS, pinsSheared, separationEnergyJ } from '$lib/physics/charge';
import { rootAreaM2, THREADS } from '$lib/physics/thread';
import { quantile } from '$lib/probability/distributions';
import type { Random } from '$lib/probability/generator';
import { airOf } from '../through-wind';
import { ROD, type Inputs } from './inputs';

export const areaOf = ({ bore }: Inputs) => (Math.PI / 4) * bore ** 2;

/** Number of pins; 0 where friction alone holds the joint. */
export const pinsOf = (x: Inputs) => (x.pin === 'none' ? 0 : x.pins!);

/** What one pin bears in single shear: its root where threads cross the joint, N. */
function pinStrength(x: Inputs): number {
	if (x.pin === 'none') return 0;
	const area = x.pin === ROD ? (Math.PI / 4) * x.rod! ** 2 : rootAreaM2(THREADS[x.pin]!);
	return area * x.pinShear!;
}

/** What holds the joint when all pins share the load: pins and friction, N. */
export const holdingOf = (x: Inputs) => pinsOf(x) * pinStrength(x) + x.friction;

/** Air still shut in a sealed bay pushes too: what it has more than the air outside, Pa. */
function trappedPa(x: Inputs): number {
	if (x.bay !== 'sealed') return 0;
	const air = airOf(x);
	return Math.max(0, air.pressurePa(0) - air.pressurePa(x.height));
}

/** Pressure above the air outside, Pa, for a share of the charge. */
export const riseOf = (x: Inputs, share = 1, worth = x.worth) =>
	chargePressurePa(share * x.charge, x.volume, worth) + trappedPa(x);

export interface Outcome {
	/** Pins that the pressure shears, each with its own strength. */
	sheared: number;
	parted: boolean;
	/** Nothing holds it any more, yet it stops before the engaged length is out. */
	stalled: boolean;
}

/** What a pressure does to the joint: it parts where the force beats what holds and work is left over the engaged length. */
export function jointUnder(x: Inputs, rise: number, random: Random): Outcome {
	const pull = rise * areaOf(x) - x.friction;
	const mean = pinStrength(x);
	const strengths = Float64Array.from({ length: pinsOf(x) }, () =>
		Math.max(0.05 * mean, quantile({ kind: 'normal', mean, sd: x.pinScatter! * mean }, random()))
	);
	const sheared = pull > 0 ? pinsSheared(pull, strengths) : 0;
	return { sheared, ...wayOut(x, rise, pull > 0 && sheared === strengths.length) };
}

/** The same, every pin of the mean strength. */
export const meanJointUnder = (x: Inputs, rise: number) => wayOut(x, rise, rise * areaOf(x) > holdingOf(x));

function wayOut(x: Inputs, rise: number, free: boolean) {
	const stalled = free && (workOf(x, rise) ?? 1) <= 0;
	return { parted: free && !stalled, stalled };
}

/** Work that is left when the joint is out, J: negative where it stops inside; unknown without the engaged length. */
function workOf(x: Inputs, rise: number): number | undefined {
	if (x.stroke === undefined) return undefined;
	const ambientPa = airOf(x).pressurePa(x.height);
	// A pin is taken to bear its load over half its own thickness before it is through.
	const thickness =
		x.pin === 'none' ? 0 : x.pin === ROD ? x.rod! : Math.sqrt((4 * rootAreaM2(THREADS[x.pin]!)) / Math.PI);
	return separationEnergyJ({
		absolutePa: ambientPa + rise,
		ambientPa,
		volumeM3: x.volume,
		areaM2: areaOf(x),
		strokeM: x.stroke,
		gamma: x.gamma,
		frictionN: x.friction,
		pinEnergyJ: (pinsOf(x) * pinStrength(x) * thickness) / 2
	});
}

/** Energy and speeds of the sections if masses and stroke are known; none where the joint stalls or holds. */
export function partingOf(x: Inputs, rise: number, { parted } = meanJointUnder(x, rise)) {
	if (x.massA === undefined || x.massB === undefined || x.stroke === undefined) return undefined;
	const energy = parted ? workOf(x, rise)! : 0;
	return { energy, ...partingSpeedsMS(energy, x.massA, x.massB) };
}
