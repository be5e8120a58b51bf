import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import { formatSi } from '$lib/quantity/format';
import type { ModelOutput } from '../calculation';
import { flightOf, thrustOf } from './flight';
import type { Inputs } from './inputs';

const metres = (m: number) => formatSi(m, 'length', { unit: 'm', figures: 3 });
const seconds = (s: number) => formatSi(s, 'time', { unit: 's', figures: 3 });
const speed = (v: number) => formatSi(v, 'speed', { unit: 'm/s', figures: 2 });

/** Where not to believe the ascent. */
export function limits(x: Inputs, nominal: ModelOutput): string[] {
	const out: string[] = [];
	const value = (id: string) => nominal[id] as number;
	const mach = value('maxMach');
	const top = x.dragTable.at(-1)?.mach;
	if (top === undefined && mach > 0.8)
		out.push(
			`It reaches Mach ${mach.toFixed(2)}: from about Mach 0.8 on the drag coefficient is not one number. Give a drag table.`
		);
	else if (top !== undefined && mach > top)
		out.push(
			`It reaches Mach ${mach.toFixed(2)}; the drag table ends at ${top} and its last value is taken on.`
		);
	out.push(
		'One drag is taken under thrust and in coast; with the motor out the drag of the base is greater, with it burning less.'
	);

	const { burnout } = flightOf(x);
	const vacuum = { height: burnout.vUpMS ** 2 / (2 * G), time: burnout.vUpMS / G };
	if (vacuum.height > 1.1 * (value('apogee') - burnout.upM))
		out.push(
			`Never set a delay by the coast without drag: ${seconds(vacuum.time)} and ${metres(vacuum.height)} after burnout, against ${seconds(value('coastTime'))} and ${metres(value('apogee') - burnout.upM)} here.`
		);

	const gust = Math.max(0, ...x.wind.filter((w) => w.height <= 100).map((w) => w.speed * x.windFactor));
	if (x.rodAngle > (5 * Math.PI) / 180 || gust > 0.15 * value('rodExitSpeed'))
		out.push(
			'It does not fly upright: time to apogee and apogee no longer tell the same, and the apogee hangs on how it turned.'
		);
	if (value('rodExitSpeed') < Math.max(15, 4 * gust))
		out.push(
			`It leaves the rod at ${speed(value('rodExitSpeed'))}${gust > 0 ? ` in a wind of ${speed(gust)}` : ''}: below 15 m/s or four times the wind (common practice, no source) fins hardly steer, and no point mass tells where it then goes.`
		);
	if (x.wind.length > 0)
		out.push(
			'It is taken to turn into its own wind at once and to fly at no angle to it; a real vehicle turns later, swings, and may turn less or more.'
		);

	const exhaust = (thrustOf(x).totalImpulseNS * x.impulseFactor) / x.propellantMass;
	if (x.propellantMass === 0)
		out.push(
			'No mass of propellant is given: nothing grows lighter as the motor burns, and its specific impulse cannot be checked.'
		);
	else if (exhaust < 400 || exhaust > 3000)
		out.push(
			`This much impulse from this much propellant is a specific impulse of ${Number((exhaust / G).toPrecision(2))} s; home-made solid motors lie between some 60 and 250 s (common practice, no source). Check impulse, propellant and their units.`
		);
	if (x.siteTemperature === undefined && x.airTemperatures.length === 0)
		out.push(
			'Without the day’s temperature the standard air is taken; air 20 K warmer is 6.5 % thinner at the ground.'
		);
	return out;
}
