import { characteristicVelocityMS } from '$lib/physics/gas-flow';
import { throatReynolds } from '$lib/physics/gas-heating';
import { formatSi } from '$lib/quantity/format';
import type { ModelOutput } from '../calculation';
import { gasSide, hotRadius, meltsAtK } from './heat-wall';
import type { Inputs } from './inputs';

export const celsius = (k: number) => `${Math.round(k - 273.15)} °C`;
export const millimetres = (m: number) => formatSi(m, 'length', { unit: 'mm', figures: 2 });
const speed = (ms: number) => formatSi(ms, 'speed', { unit: 'm/s', figures: 3 });
export const nameOf = (x: Inputs, i: number) =>
	x.layers[i]!.name ?? (x.layers.length === 1 ? 'the wall' : `layer ${i + 1}`);

/** Where not to believe the temperatures, in sentences. */
export function limits(x: Inputs, nominal: ModelOutput): string[] {
	const out: string[] = [...bartzLimits(x)];
	const [hot, loadBurn] = [nominal['hotPeak'] as number, nominal['loadBurn'] as number];
	const charring = x.layers.filter((l) => l.material === 'graphite' || l.material === 'phenolic');
	if (charring.length)
		out.push(
			`Graphite burns and phenolic chars; neither melts. Their recession is chemical and is not computed: ${charring.some((l) => l.erosion) ? 'what you typed from earlier firings is taken' : 'none is taken'}.`
		);
	const hottestOf = (i: number) =>
		i > 0 && i === x.layers.length - 1 ? (nominal['loadPeak'] as number) : hot;
	if (x.layers.some(({ material }, i) => material === 'steel' && hottestOf(i) > 1473))
		out.push(
			'Steel’s properties are known to 1200 °C and held constant above. Slag and scale can come off below the melting point.'
		);
	const load = x.layers.at(-1)!;
	if (load.material === 'steel' && loadBurn > 573)
		out.push(
			'Above 300 °C the proof strength of steel (proportional limit, EN 1993-1-2) is much less than the 2 % yield that building codes print. Cold-worked, or quenched and tempered, steel stays soft afterwards.'
		);
	if (load.material === 'aluminium' && loadBurn > 423)
		out.push(
			'6061-T6 that was above about 150 °C may stay soft for good; the next firing begins with less strength. The hot strengths are for half an hour and not verified.'
		);
	const melts = meltsAtK(load);
	if (x.layers.length > 1 && (nominal['loadPeak'] as number) > melts)
		out.push(
			`${nameOf(x, x.layers.length - 1)} would melt behind the layer before it: its melt is taken to stay there until it lies bare, and its latent heat only counts then.`
		);
	const radius = hotRadius(x);
	const whole = x.layers.reduce((sum, l) => sum + l.thickness, 0);
	if (radius === undefined)
		out.push(
			'The wall is taken as flat. Around a bore whose radius is less than ten times the wall this is too hot: give the radius.'
		);
	else if (whole > 3 * radius)
		out.push(
			'The wall is thicker than three radii of its bore: heat also flows along the axis, which is not computed.'
		);
	if (x.layers.length > 1)
		out.push(
			'Layers are taken to touch. A gap or a bond line between them keeps the hot one hotter and the other cooler.'
		);
	if (Math.round(x.firings) > 1 && x.pause < 1800)
		out.push('Between firings the wall cools in still air only; check how long the pause really was.');
	return out;
}

function bartzLimits(x: Inputs): string[] {
	const { bartz } = gasSide(x);
	const out: string[] = [];
	if (!bartz) return out;
	const throat = x.throat!;
	const implied = characteristicVelocityMS(bartz.temperatureK, x.molarMass! / 1000, bartz.k);
	const ratio = bartz.characteristicVelocityMS / implied;
	if (Math.abs(ratio - 1) > 0.15)
		out.push(
			`The c* typed is ${speed(bartz.characteristicVelocityMS)}, but temperature, k and molar mass make about ${speed(implied)}: check them. With the latter the coefficient would be ${formatSi(ratio ** 0.8, 'ratio', { figures: 2 })} times as large.`
		);
	if (bartz.k > 1.3)
		out.push(
			'k of 1.4 is that of air; the gas of solid propellants has 1.13 to 1.25. It changes heat capacity, Prandtl number and the Mach number away from the throat.'
		);
	const reynolds = throatReynolds(bartz, throat);
	if (throat < 0.005 || throat > 1) out.push('Bartz’s formula is checked for throats of about 5 mm to 1 m.');
	if (reynolds < 1e6)
		out.push(
			`The Reynolds number of the throat is ${reynolds.toExponential(1).replace('e+', '·10^')}: below about 10^6 the flow may turn laminar as it speeds up, and Bartz’s coefficient is then too high.`
		);
	const curvature = (x.curvature ?? throat) / throat;
	if (curvature < 0.5 || curvature > 2)
		out.push(
			'Bartz’s formula is checked for radii of curvature of about half to twice the throat’s diameter.'
		);
	out.push(
		'Bartz’s formula is for clean gas. With much smoke or slag (KNO₃ with sugar, aluminised propellant) take the coefficient as known within a factor of 2: deposits insulate, particles and radiation add.'
	);
	return out;
}
