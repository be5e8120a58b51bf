import { trimAngleRad } from '$lib/physics/breach';
import { formatSi } from '$lib/quantity/format';
import { defineCalculation } from '../calculation';
import { answer, figure } from './answer';
import { evidence } from './evidence';
import { climbOf, hasPath, leakOf, pathAfter, railEnd } from './flight';
import { INPUTS, type Inputs } from './inputs';

const LARGE_ANGLE = (15 * Math.PI) / 180;

function limits(x: Inputs): string[] {
	const leak = leakOf(x);
	const out = [
		'A burn-through grows. While it grows its area is a lower bound of what it becomes, and a hole as found is an upper bound of what it was earlier: run the sizes between.',
		'The jet is taken to leave straight, across the axis, and into the open. One that strikes structure, leaves at an angle or widens in a conical hole pushes elsewhere, and harder.',
		'Pressures are steady ones; the time in which the chamber empties to the new pressure is not counted, and pressure and thrust are taken as constant over the burn.'
	];
	if (x.discharge > 0.9)
		out.push('Sharp or rough holes let 0.6 to 0.9 of their area flow; more belongs to a rounded opening.');
	if (x.exponent > 0.7)
		out.push(
			'With a pressure exponent above 0.7 the pressure answers to the smallest change of area: the loss is very uncertain.'
		);
	if (x.heatRatio > 1.3)
		out.push(
			'k of 1.4 is that of air; the gas of solid propellants has 1.13 to 1.25. It changes the force by 3 %.'
		);
	if (leak.pressureShare < 0.5)
		out.push(
			'The hole takes more than half of the pressure: the burning rate may not have been measured so low, and the motor may have gone out.'
		);
	if (leak.separated)
		out.push(
			'With the hole the gas would leave the nozzle at less than 0.4 of the pressure outside: it separates from the nozzle’s wall before (Summerfield, from memory), and only the part of the nozzle before that is taken to push. The loss of thrust is uncertain, and a nozzle that separates pushes sideways too.'
		);
	if (!hasPath(x)) {
		out.push(
			'Force and loss only. Whether this bent the path, and when it opened, is not said, and there is no likelihood: that takes mass, inertia, static margin, normal force, thrust and speed.'
		);
		return out;
	}
	if (pathAfter(x, leak, x.openedAt ?? 0).attack > LARGE_ANGLE)
		out.push(
			`Opened ${x.openedAt === undefined ? 'at the end of the rail' : 'then'}, it would fly at more than 15° of attack: it tumbles or breaks. Angles computed beyond that say only that it turned far.`
		);
	out.push(
		x.rollRate! > 0
			? 'Roll turns the force with the vehicle and averages it out: the path says little about the hole unless the roll rate is known.'
			: 'No roll is assumed. One turn in a second or two would average much of the force out.'
	);
	out.push(
		'A finned vehicle answers a side force with a small steady angle of attack, not with a turn as of a free body. Margin and slope of the normal force decide the path; take them for the flight’s Mach number, propellant half burnt.'
	);
	return out;
}

export const breach = defineCalculation({
	id: 'breach',
	title: 'Gas from a hole in the motor',
	question:
		'How hard does gas that leaves a hole push, what does it cost in pressure and thrust, and when can it have opened, given the path that was seen?',
	version: 2,
	inputs: INPUTS,
	outputs: [
		{ id: 'force', label: 'Side force of the jet', dimension: 'force', unit: 'N', main: true },
		{ id: 'pressure', label: 'Chamber pressure with the hole', dimension: 'pressure', unit: 'MPa' },
		{ id: 'pressureLost', label: 'Pressure lost', dimension: 'ratio', unit: '%' },
		{ id: 'thrustLost', label: 'Thrust lost', dimension: 'ratio', unit: '%' },
		{ id: 'thrust', label: 'Thrust with the hole', dimension: 'force', unit: 'N' },
		{
			id: 'trim',
			label: 'Angle of attack at burnout that it holds, or with roll swings to',
			dimension: 'angle',
			unit: '°'
		},
		{
			id: 'turn',
			label: 'Turn of the path by burnout, opened as stated, else at the end of the rail',
			dimension: 'angle',
			unit: '°',
			main: true
		},
		{ id: 'drift', label: 'Drift by then', dimension: 'length', unit: 'm' },
		{ id: 'opened', label: 'When it opened, if in the burn', dimension: 'time', unit: 's', main: true }
	],
	sources: [
		{
			text: 'NACA Report 1135; Sutton and Biblarz, Rocket Propulsion Elements, ch. 3 and 12',
			basis: 'from memory'
		},
		{
			text: 'Plane and rolling motion of a stable vehicle; checked by independent integration',
			basis: 'hand-worked'
		},
		{
			text: 'Discharge of rough holes, spreads, ordinary turn of a flight',
			basis: 'common practice, no source'
		}
	],
	docs: 'methods/breach.md',
	cautions: [
		'A case, nozzle or grain that has leaked, cracked or overheated is not fired again, reused or taken apart on site. Keep people back until a competent person has judged it; local rules and the range officer prevail.',
		'A spent case is hot, its edges are sharp, and unburnt propellant may lie around it: look for fire, and touch nothing that has not cooled and been cleared.'
	],
	check(x) {
		if (hasPath(x) && x.burnoutSpeed! <= x.railSpeed!)
			return 'the speed at burnout must be above that at the end of the rail';
		if (x.openedAt !== undefined && x.burnTime !== undefined && x.openedAt > x.burnTime)
			return `it opened at ${formatSi(x.openedAt, 'time', { unit: 's' })}, after burnout: no gas pushes then`;
		return undefined;
	},
	model(x) {
		const leak = leakOf(x);
		const loss = {
			force: leak.forceN,
			pressure: leak.pressurePa,
			pressureLost: 1 - leak.pressureShare,
			thrustLost: 1 - leak.thrustShare,
			thrust: x.thrust === undefined ? undefined : x.thrust * leak.thrustShare
		};
		if (!hasPath(x)) return loss;
		const { climb, side } = climbOf(x, leak);
		const { turn, drift } = pathAfter(x, leak, Math.max(x.openedAt ?? 0, railEnd(x)));
		return {
			...loss,
			trim: trimAngleRad(climb, side, climb.burnoutSpeedMS),
			turn: Math.min(Math.PI / 2, Math.hypot(...turn)),
			drift: Math.min((x.burnoutSpeed! * x.burnTime!) / 2, Math.hypot(...drift))
		};
	},
	limits,
	evidence,
	addition: answer,
	figure
});
