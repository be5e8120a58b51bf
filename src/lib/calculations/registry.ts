import type { AnyCalculation } from './calculation';
import { ascent } from './ascent/ascent';
import { attachmentStrength } from './attachment-strength/attachment-strength';
import { breach } from './breach/breach';
import { chamberPressure } from './chamber-pressure/chamber-pressure';
import { deploymentCharge } from './deployment-charge/deployment-charge';
import { deploymentSpeed } from './deployment-speed/deployment-speed';
import { finFlutter } from './fin-flutter/fin-flutter';
import { soundAndLight } from './sound-and-light/sound-and-light';
import { pressureAltitude } from './pressure-altitude/pressure-altitude';
import { descent } from './descent/descent';
import { fallSeparation } from './fall-separation/fall-separation';
import { impact } from './impact/impact';
import { landingFootprint } from './landing-footprint/landing-footprint';
import { openingLoad } from './opening-load/opening-load';
import { tetherLoad } from './tether-load/tether-load';
import { reconcileReadings } from './reconcile-readings/reconcile-readings';
import { search } from './search/search';
import { wallTemperature } from './wall-temperature/wall-temperature';

/** Every calculation, by what an investigator asks about, in the order in which they are offered. */
export const CALCULATION_GROUPS: readonly { title: string; calculations: readonly AnyCalculation[] }[] = [
	{ title: 'Where the pieces lie', calculations: [search, landingFootprint, fallSeparation, soundAndLight] },
	{ title: 'Which reading is true', calculations: [reconcileReadings, pressureAltitude] },
	{ title: 'The flight', calculations: [ascent] },
	{
		title: 'Separation and parachutes',
		calculations: [deploymentSpeed, deploymentCharge, tetherLoad, openingLoad, descent]
	},
	{ title: 'What held and what did not', calculations: [attachmentStrength, impact, finFlutter] },
	{ title: 'The motor', calculations: [chamberPressure, wallTemperature, breach] }
];

export const CALCULATIONS: readonly AnyCalculation[] = CALCULATION_GROUPS.flatMap((g) => g.calculations);

export const calculationById = (id: string): AnyCalculation | undefined =>
	CALCULATIONS.find((c) => c.id === id);
