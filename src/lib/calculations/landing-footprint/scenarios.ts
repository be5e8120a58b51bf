import type { FallPhase } from '$lib/physics/fall';
import type { Random } from '$lib/probability/generator';
import { dropper, type Landing } from '../dropping';
import { ballisticOfRate, horizontal } from '../through-wind';
import { INPUTS, type Inputs } from './inputs';

export interface Descent {
	id: string;
	label: string;
	help: string;
	/** Label of the input that is missing to compute it, or undefined. */
	missing(x: Inputs): string | undefined;
	/** Ballistic coefficients on the way down; `random` serves what the scenario leaves open. */
	phases(x: Inputs, random: Random): FallPhase[];
}

const needs =
	(...ids: (keyof Inputs)[]) =>
	(x: Inputs) =>
		labelOf(ids.find((id) => x[id] === undefined));
const labelOf = (id: keyof Inputs | undefined) => INPUTS.find((field) => field.id === id)?.label;
const phase = (rate: number, untilHeightM?: number): FallPhase => ({
	ballisticKgM2: ballisticOfRate(rate),
	...(untilHeightM === undefined ? {} : { untilHeightM })
});

export const DESCENTS: readonly Descent[] = [
	{
		id: 'as-planned',
		label: 'As planned',
		help: 'Drogue at apogee, main at its height.',
		missing: needs('drogueRate', 'mainRate', 'mainHeight'),
		phases: (x) => [phase(x.drogueRate!, x.mainHeight), phase(x.mainRate!)]
	},
	{
		id: 'drogue-only',
		label: 'Drogue only',
		help: 'The main never opened.',
		missing: needs('drogueRate'),
		phases: (x) => [phase(x.drogueRate!)]
	},
	{
		id: 'main-at-apogee',
		label: 'Main at apogee',
		help: 'The main opened at once.',
		missing: needs('mainRate'),
		phases: (x) => [phase(x.mainRate!)]
	},
	{
		id: 'no-parachute',
		label: 'No parachute',
		help: 'It fell as it was.',
		missing: needs('bareRate'),
		phases: (x) => [phase(x.bareRate!)]
	},
	{
		id: 'separated',
		label: 'Separated',
		help: 'This piece came down by itself from apogee.',
		missing: needs('separatedRate'),
		phases: (x) => [phase(x.separatedRate!)]
	},
	{
		id: 'tangled',
		label: 'Tangled',
		help: 'A parachute came out and did not fill.',
		missing: (x) =>
			x.tangledRate === undefined ? needs('mainRate', 'bareRate')(x) && labelOf('tangledRate') : undefined,
		phases: (x, random) => [phase(x.tangledRate ?? x.mainRate! * (x.bareRate! / x.mainRate!) ** random())]
	}
];

/** Where and when this sample comes down under a scenario, from the pad. */
export function descend(x: Inputs, descent: Descent, random: Random, precise: boolean): Landing {
	const [vEastMS, vNorthMS] = horizontal(x.groundSpeed, x.heading, random, precise);
	const start = {
		eastM: x.apogeeEast,
		northM: x.apogeeNorth,
		upM: x.apogeeHeight,
		vEastMS,
		vNorthMS,
		vUpMS: 0
	};
	return dropper(x, precise)(descent.phases(x, random), [start])[0]!;
}
