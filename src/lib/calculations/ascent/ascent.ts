import { formatSi } from '$lib/quantity/format';
import { defineCalculation } from '../calculation';
import { airOf } from '../through-wind';
import { evidence } from './evidence';
import { figure, overTime } from './figure';
import { flightOf, recorded, thrustOf } from './flight';
import { INPUTS, type Inputs } from './inputs';
import { limits } from './limits';

function check(x: Inputs): string | undefined {
	if (x.propellantMass >= x.liftoffMass)
		return `the propellant alone weighs ${formatSi(x.propellantMass, 'mass', { unit: 'kg', figures: 3 })}, as much as the whole vehicle or more; check both masses`;
	if (x.motorAs === 'totals' && (x.totalImpulse === undefined || x.burnTime === undefined))
		return 'give the motor’s total impulse and burn time, or choose its thrust curve';
	if (x.motorAs === 'curve' && x.thrust.length < 2)
		return 'the thrust curve needs two points or more; or choose total impulse and burn time';
	try {
		thrustOf(x);
	} catch (error) {
		if (error instanceof RangeError) return error.message;
		throw error;
	}
	return undefined;
}

/** Height, speed and dynamic pressure at the moment that was asked about. */
function atMoment(x: Inputs, liftOffS: number, fineness: number) {
	if (x.moment === undefined) return {};
	const end = flightOf(x, { fineness }, [liftOffS + x.moment]).at[0]!;
	const speed = Math.hypot(end.vEastMS, end.vNorthMS, end.vUpMS);
	return {
		momentHeight: end.upM,
		momentSpeed: speed,
		momentClimb: end.vUpMS,
		momentPressure: (airOf(x).densityKgM3(end.upM) * speed * speed) / 2
	};
}

const length = (id: string, label: string) => ({ id, label, dimension: 'length', unit: 'm' }) as const;
const speed = (id: string, label: string) => ({ id, label, dimension: 'speed', unit: 'm/s' }) as const;
const time = (id: string, label: string) => ({ id, label, dimension: 'time', unit: 's' }) as const;

export const ascent = defineCalculation({
	id: 'ascent',
	title: 'Ascent and apogee',
	question:
		'How high and how fast should it have gone, and does what was recorded fall short by more than flights ordinarily do?',
	version: 2,
	inputs: INPUTS,
	outputs: [
		{ ...length('apogee', 'Apogee above the pad, computed'), main: true },
		{ ...length('ordinaryApogee', 'Apogee that an ordinary flight reaches of it'), main: true },
		{ ...time('timeToApogee', 'Time from lift-off to apogee'), main: true },
		time('coastTime', 'Time from burnout to apogee'),
		{ ...speed('maxSpeed', 'Greatest speed over the ground'), main: true },
		{ id: 'maxMach', label: 'Greatest Mach number', dimension: 'ratio', unit: '1' },
		{
			id: 'maxAcceleration',
			label: 'Greatest acceleration felt on board',
			dimension: 'acceleration',
			unit: 'm/s²'
		},
		speed('rodExitSpeed', 'Speed as it leaves the rod'),
		length('burnoutHeight', 'Height at burnout'),
		speed('burnoutSpeed', 'Speed at burnout'),
		length('east', 'Apogee east of the pad'),
		length('north', 'Apogee north of the pad'),
		speed('apogeeSpeed', 'Horizontal speed at apogee'),
		length('momentHeight', 'Height at that moment'),
		speed('momentSpeed', 'Speed at that moment'),
		speed('momentClimb', 'Upward part of it'),
		{ id: 'momentPressure', label: 'Dynamic pressure at that moment', dimension: 'pressure', unit: 'kPa' }
	],
	sources: [
		{
			text: 'Point mass under thrust, drag and gravity; closed forms after Fehskens and Malewicki, as Stine has them',
			basis: 'from memory'
		},
		{
			text: 'The same, checked against closed forms and independent adaptive integration',
			basis: 'hand-worked'
		},
		{ text: 'OpenStax, University Physics vol. 1, section 9.7: rocket equation', basis: 'seen' },
		{ text: 'Curtis, Orbital Mechanics for Engineering Students, 2nd ed.: sounding rocket', basis: 'seen' },
		{ text: 'U.S. Standard Atmosphere 1976, as transcribed in the tests of CalebBell/fluids', basis: 'seen' },
		{ text: 'Ordinary shortfall and spreads', basis: 'common practice, no source' }
	],
	docs: 'methods/ascent.md',
	cautions: [
		'A computed apogee clears no flight: ceilings, distances and the wind in which one may fly are set by the range’s safety code, local law and the range officer.'
	],
	check,
	model(x, _random, precise) {
		const fineness = precise ? 8 : 1;
		const f = flightOf(x, { fineness });
		const { apogee, burnout } = f;
		return {
			apogee: apogee.upM,
			ordinaryApogee: recorded(x, f).apogee,
			timeToApogee: apogee.timeS - f.liftOffS,
			coastTime: apogee.timeS - burnout.timeS,
			maxSpeed: f.maxSpeedMS,
			maxMach: f.maxMach,
			maxAcceleration: f.maxAccelerationMS2,
			rodExitSpeed: f.rodExitMS,
			burnoutHeight: burnout.upM,
			burnoutSpeed: Math.hypot(burnout.vEastMS, burnout.vNorthMS, burnout.vUpMS),
			...(x.rodAngle > 0 || x.wind.length > 0
				? {
						east: apogee.eastM,
						north: apogee.northM,
						apogeeSpeed: Math.hypot(apogee.vEastMS, apogee.vNorthMS)
					}
				: {}),
			...atMoment(x, f.liftOffS, fineness)
		};
	},
	limits,
	evidence,
	addition: overTime,
	figure
});
