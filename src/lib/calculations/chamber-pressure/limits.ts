import { portAreaM2 } from '$lib/physics/grain';
import { thickWallStressesPa, thinHoopStressPa } from '$lib/physics/pressure-case';
import { formatSi } from '$lib/quantity/format';
import type { ModelOutput } from '../calculation';
import type { Inputs } from './inputs';
import { grainsOf } from './motor';

export const megapascals = (pa: number) => formatSi(pa, 'pressure', { unit: 'MPa', figures: 3 });

/** Above this exponent a tenth less throat makes eight times the pressure or more. */
export const UNSTABLE = 0.95;
const percent = (share: number) => formatSi(100 * share, 'ratio', { figures: 2 });

/** Where not to believe the pressure, in sentences. */
export function limits(x: Inputs, nominal: ModelOutput): string[] {
	const peak = nominal['peak'] as number;
	const out: string[] = [];
	const say = (when: boolean, sentence: string) => {
		if (when) out.push(sentence);
	};
	const power = 1 / (1 - x.exponent);
	const unstable = x.exponent > UNSTABLE;
	say(
		unstable,
		`With an exponent of ${x.exponent}, so close to 1, the motor has no stable pressure: the least change of throat, burning area or rate makes it run away or go out. The pressures here are no guide; don’t rely on them for anything.`
	);
	say(
		x.exponent > 0.7 && !unstable,
		`With an exponent of ${x.exponent} the pressure is very sensitive: 1 % more burning area makes ${power.toPrecision(2)} % more pressure, and a small crack may be enough to burst the case.`
	);
	if (x.fittedFrom === undefined || x.fittedTo === undefined)
		out.push(
			'The pressures between which rate and exponent were measured are not given. Many propellants change their exponent within the range of a motor (KNO₃ with dextrose or sorbitol does); outside, the pressure is a guess.'
		);
	else
		say(
			peak > x.fittedTo || peak < x.fittedFrom,
			`The peak of ${megapascals(peak)} lies outside the ${megapascals(x.fittedFrom)} to ${megapascals(x.fittedTo)} in which rate and exponent were measured: the pressure is a guess.`
		);
	say(
		x.efficiency > 0.97,
		'Nearly the whole of c* is taken as delivered. Unless it was measured in a firing, 0.85 to 0.95 of a computed c* is usual.'
	);
	const grains = grainsOf(x);
	const cored = grains.filter((g) => g.coreM > 0);
	const port = Math.min(...cored.map(portAreaM2));
	const throat = (Math.PI / 4) * x.throat ** 2;
	say(
		port / throat < 2,
		`The narrowest core has ${(port / throat).toPrecision(2)} times the throat’s area. Below about 2 the gas burns the core faster (erosive burning) and makes a first peak that is not computed.`
	);
	say(
		Math.abs(x.temperature) > 10,
		`A grain ${formatSi(Math.abs(x.temperature), 'temperature difference', { unit: 'K', figures: 2 })} ${x.temperature > 0 ? 'warmer' : 'colder'} than in the rate’s measurement burns ${x.temperature > 0 ? 'faster' : 'slower'} by the sensitivity typed; if that is not measured, neither is this.`
	);
	say(
		!unstable,
		`A throat that wears or clogs changes everything: 10 % more area makes ${percent(1 - 1.1 ** -power)} % less pressure, 10 % less makes ${percent(0.9 ** -power - 1)} % more.`
	);
	const volume = grains.reduce((sum, g) => sum + g.count * portAreaM2(g) * g.lengthM, 0);
	const fill = volume / (throat * x.characteristicVelocity * x.efficiency * 0.42);
	out.push(
		`Ignition and filling (about ${formatSi(fill, 'time', { unit: 'ms', figures: 1 })}) are not computed: a spike from the igniter, or a slow start, is not in it.`
	);
	say(
		peak / (0.42 * (x.characteristicVelocity * x.efficiency) ** 2) > 0.02 * x.density,
		'The gas that fills the growing chamber is more than 2 % of the propellant; it is left out, and the pressure comes out high by about that share.'
	);
	return [...out, ...caseLimits(x)];
}

function caseLimits(x: Inputs): string[] {
	const { caseInner, caseWall, caseMaterial, caseTemperature: t, concentration } = x;
	if (caseInner === undefined || caseWall === undefined) return [];
	const out: string[] = [];
	const inner = caseInner / 2;
	const ratio = caseWall / inner;
	if (ratio > 0.1) {
		const bore = thickWallStressesPa({ innerRadiusM: inner, outerRadiusM: inner + caseWall }, 1).hoopBore;
		const low = 100 * (1 - thinHoopStressPa(1, inner, caseWall) / bore);
		out.push(
			`The wall is ${ratio.toPrecision(2)} of the inner radius: p·r/t with the inner radius would be ${low.toPrecision(2)} % low at the bore; Lamé’s formula is used.`
		);
	}
	// Onset of yield by von Mises, ends closed: √3 p ro²/(ro² - ri²) at the bore.
	const outer2 = (inner + caseWall) ** 2;
	const earlier = 1 - (outer2 + inner * inner) / (Math.sqrt(3) * outer2);
	if (earlier > 0.01)
		out.push(
			`In so thick a wall the bore yields before its hoop stress alone reaches the strength: by von Mises at ${(100 * earlier).toPrecision(2)} % less pressure than is said here.`
		);
	const celsius = t - 273.15;
	if (caseMaterial === 'aluminium' && celsius > 100)
		out.push(
			'The loss of strength of hot aluminium is for half an hour at temperature and not verified (±5 % of the cold strength); a wall that was hot before stays soft.'
		);
	if (caseMaterial === 'steel' && celsius > 300)
		out.push(
			'The loss of strength is that of hot-rolled structural steel (EN 1993-1-2, proportional limit), heated as slowly as in a fire: in a burn of seconds it loses less. Cold-worked, or quenched and tempered, steel softens for good above its tempering temperature.'
		);
	if (caseMaterial === 'steel' && celsius < 0)
		out.push(
			'Below 0 °C there is no data for the steel: its strength is taken as at 20 °C. Some steels turn brittle in the cold, and no margin here shows that.'
		);
	if (caseMaterial === 'other' || Math.abs(celsius - 20) < 1)
		out.push(
			'The case is judged cold. Above about 100 °C for 6061, or 300 °C for steel, its strength is less: give material and temperature. A proof test done cold says nothing about a hot wall.'
		);
	if (concentration === 1)
		out.push(
			'Radial bolt holes, snap-ring grooves, welds and pits raise the stress 2.5 to 3 times; a plain tube is computed. The closures, their threads, pins and seals have margins of their own; where the seal is wider than the bore, the force on them is greater by the square of the diameters.'
		);
	return out;
}
