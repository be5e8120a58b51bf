import type { AnyCalculation } from './calculation';
import { ascent } from './ascent/ascent';
import { attachmentStrength } from './attachment-strength/attachment-strength';
import { chamberPressure } from './chamber-pressure/chamber-pressure';
import { deploymentCharge } from './deployment-charge/deployment-charge';
import { descent } from './descent/descent';
import { fallSeparation } from './fall-separation/fall-separation';
import { landingFootprint } from './landing-footprint/landing-footprint';
import { openingLoad } from './opening-load/opening-load';
import { tetherLoad } from './tether-load/tether-load';
import { reconcileReadings } from './reconcile-readings/reconcile-readings';
import { search } from './search/search';

/** Every calculation, in the order in which they are offered. */
export const CALCULATIONS: readonly AnyCalculation[] = [
	fallSeparation,
	landingFootprint,
	search,
	reconcileReadings,
	ascent,
	descent,
	deploymentCharge,
	tetherLoad,
	openingLoad,
	attachmentStrength,
	chamberPressure
];

export const calculationById = (id: string): AnyCalculation | undefined =>
	CALCULATIONS.find((c) => c.id === id);
