import { requireGrain } from '$lib/physics/grain';
import { thickWallStressesPa, thinHoopStressPa } from '$lib/physics/pressure-case';
import { defineCalculation } from '../calculation';
import { evidence } from './evidence';
import { figure, pressureOverTime } from './figure';
import { INPUTS, type Inputs } from './inputs';
import { limits } from './limits';
import { AMBIENT_PA, burn, caseStrength, grainsOf } from './motor';

/** Stresses of the case at the peak, and what it holds; nothing where no case is given. */
function caseOutputs(x: Inputs, peakPa: number) {
	const strength = caseStrength(x);
	if (!strength) return {};
	const inner = x.caseInner! / 2;
	const load = peakPa - AMBIENT_PA;
	return {
		hoop: thickWallStressesPa({ innerRadiusM: inner, outerRadiusM: inner + x.caseWall! }, load).hoopBore,
		thinHoop: thinHoopStressPa(load, inner + x.caseWall! / 2, x.caseWall!),
		closureForce: load * Math.PI * inner * inner,
		yieldPressure: strength.yieldPa,
		burstPressure: strength.burstPa,
		yieldMargin: (strength.yieldPa - AMBIENT_PA) / load - 1,
		burstMargin: (strength.burstPa - AMBIENT_PA) / load - 1
	};
}

function check(x: Inputs): string | undefined {
	if (!(x.exponent < 1))
		return 'with a pressure exponent of 1 or more there is no steady pressure: it runs away or goes out. Check n';
	if (x.fittedFrom !== undefined && x.fittedTo !== undefined && !(x.fittedTo > x.fittedFrom))
		return 'the rate must hold from a lower to a higher pressure; put them in order';
	const given = [x.caseInner, x.caseWall, x.caseProof, x.caseUltimate].filter((v) => v !== undefined).length;
	if (given !== 0 && given !== 4)
		return 'the case needs its inner diameter, wall, proof strength and ultimate strength together, or none of them';
	if (x.caseProof !== undefined && x.caseUltimate! < x.caseProof)
		return 'the ultimate strength must not be less than the proof strength; check both';
	for (const [i, g] of x.grains.entries()) {
		const name = g.name ?? `grain ${i + 1}`;
		if (Math.abs(g.count - Math.round(g.count)) > 1e-9) return `${name}: the number of grains must be whole`;
		if (x.caseInner !== undefined && g.outer > x.caseInner)
			return `${name} is wider than the inside of the case; check both diameters`;
	}
	try {
		grainsOf(x).forEach(requireGrain);
	} catch (error) {
		if (error instanceof RangeError) return error.message;
		throw error;
	}
	return undefined;
}

const margin = (id: string, label: string) =>
	({ id, label, dimension: 'ratio', unit: '1', main: true }) as const;
const pressure = (id: string, label: string) => ({ id, label, dimension: 'pressure', unit: 'MPa' }) as const;

export const chamberPressure = defineCalculation({
	id: 'chamber-pressure',
	title: 'Chamber pressure',
	question:
		'What pressure do these grains and this throat make, what does a worn throat or a cracked grain change, and does the case hold it?',
	version: 2,
	inputs: INPUTS,
	outputs: [
		{ ...pressure('peak', 'Greatest pressure'), main: true },
		{ id: 'burnTime', label: 'Burn time', dimension: 'time', unit: 's', main: true },
		pressure('mean', 'Mean pressure over the burn time'),
		{ id: 'peakTime', label: 'Time of the greatest pressure', dimension: 'time', unit: 's' },
		{ id: 'firstKn', label: 'Burning area over throat area at the start', dimension: 'ratio', unit: '1' },
		{ id: 'greatestKn', label: 'Greatest burning area over throat area', dimension: 'ratio', unit: '1' },
		{ id: 'throatAfter', label: 'Throat diameter at the end', dimension: 'length', unit: 'mm' },
		{
			id: 'amplification',
			label: 'Per cent of pressure for one of burning area',
			dimension: 'ratio',
			unit: '1'
		},
		pressure('hoop', 'Hoop stress at the bore of the case (Lamé), plain tube'),
		pressure('thinHoop', 'Hoop stress p·r/t with the mean radius'),
		{ id: 'closureForce', label: 'Force on each closure, on the bore', dimension: 'force', unit: 'kN' },
		pressure('yieldPressure', 'Pressure at which the case yields'),
		pressure('burstPressure', 'Pressure at which the case bursts'),
		margin('yieldMargin', 'Margin against yield (0: just yields)'),
		margin('burstMargin', 'Margin against bursting (0: just bursts)')
	],
	sources: [
		{
			text: 'Sutton and Biblarz, Rocket Propulsion Elements, solid-propellant fundamentals',
			basis: 'from memory'
		},
		{ text: 'Lamé’s equations: Timoshenko, Strength of Materials; Roark, table 13.5', basis: 'from memory' },
		{ text: 'EN 1993-1-2:2005, table 3.1, as a public code transcribes it', basis: 'seen' },
		{ text: 'MIL-HDBK-5J, figure 3.6.2.2.1 (6061-T6, half an hour), not verified', basis: 'from memory' },
		{ text: 'Burning areas by plane geometry, checked by the volume burnt', basis: 'hand-worked' }
	],
	docs: 'methods/chamber-pressure.md',
	cautions: [
		'A pressurised case is a bomb until it has proved otherwise. No computed margin makes a place beside it safe: distances are the range safety officer’s, by the range’s code (such as NFPA 1127, 2018 edition, from memory) and local law.',
		'Making, cutting or re-using motors is regulated (such as NFPA 1125, 2022 edition, from memory) and licensed in many places. A motor that misfired, or whose case was hot, cracked or swollen, is left alone for the time that the range sets and opened only by competent people.'
	],
	check,
	model(x) {
		const b = burn(x);
		return {
			peak: b.peakPa,
			burnTime: b.burnTimeS,
			mean: b.meanPa,
			peakTime: b.peakTimeS,
			firstKn: b.firstKn,
			greatestKn: b.greatestKn,
			throatAfter: b.throatAfterM,
			amplification: 1 / (1 - x.exponent),
			...caseOutputs(x, b.peakPa)
		};
	},
	limits,
	evidence,
	addition: pressureOverTime,
	figure
});
