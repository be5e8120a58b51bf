import { pressureAltitudeM, standardAtmosphere, geometricHeightM } from '$lib/physics/atmosphere';
import { sampleQuantiles } from '$lib/probability/summary';
import { formatSi } from '$lib/quantity/format';
import {
	defineCalculation,
	type Addition,
	type AdditionContext,
	type FigureContext,
	type ModelOutput
} from '../calculation';
import type { Figure } from '../figure';
import { airOf } from '../through-wind';
import { evidence } from './evidence';
import { INPUTS, type Inputs } from './inputs';
import { airAloft, indicated, pressureRead, shownAt, trueHeightOf } from './reading';

const hasReading = (x: Inputs) =>
	(x.readAs === 'pressure' ? x.pressureAloft : x.indicatedHeight) !== undefined;
/** Whether the pressure in the bay is that of the air, so that it tells a height at all. */
const tells = (x: Inputs) => x.moment === 'quiet';
const metres = (m: number) => formatSi(m, 'length', { unit: 'm', figures: 3 });
/** Pressure at 11 km, where the one-layer formula ends. */
const TROPOPAUSE_PA = 22_632;

function limits(x: Inputs, nominal: ModelOutput): string[] {
	const out: string[] = [];
	if (x.airTemperatures.length > 0) {
		if (x.siteTemperature === undefined)
			out.push(
				'The temperatures by height stand for the one at the pad: the 10 K of a day whose temperature is unknown are left out.'
			);
	} else if (x.siteTemperature === undefined)
		out.push(
			'A barometric height without a temperature is good to 0.35 % for each kelvin from the standard: 5 % on a day 15 K warmer, 7 % at 20 K. That is in the interval as 10 K, one standard deviation, unless you say otherwise. Give the temperature at the pad.'
		);
	out.push(
		'Zero on the pad takes out the error of the pressure setting, not that of the temperature, which grows with height.'
	);
	if (x.moment === 'fast')
		out.push(
			'Near the speed of sound the pressure at the ports is that of the shock and not of the air: this height means nothing (common practice, no source).'
		);
	if (x.moment === 'charge')
		out.push(
			'A charge lifts or lowers the pressure in the bay for a moment: this height means nothing; take readings from before and well after (common practice, no source).'
		);
	const height = nominal['trueHeight'] as number | undefined;
	if (height !== undefined && height < -Math.max(10, 0.02 * Math.abs(nominal['pressureAltitude'] as number)))
		out.push(
			x.readAs === 'pressure'
				? `The height comes out ${metres(-height)} below the pad, since the pressure aloft is above that at the pad: check whether the two are swapped, of the same recorder and of the same day, and not reduced to sea level.`
				: `The height comes out ${metres(-height)} below the pad: check the sign, and that zero was set on the pad.`
		);
	if (x.climbRate !== 0 && x.portLag === 0)
		out.push(
			`At this climb rate each tenth of a second by which the bay lags is ${metres(Math.abs(x.climbRate) / 10)}.`
		);
	if (x.siteTemperature !== undefined && x.siteTemperature < 258.15)
		out.push(
			'The rule of 4 % for 10 K is too small on so cold a day, by 8 % of the correction at −40 °C; the air itself is integrated here.'
		);
	if (hasReading(x) && pressureRead(x, airOf(x)) < TROPOPAUSE_PA)
		out.push(
			'Below 226.3 hPa the short formula 44330·(1 − (p/p₀)^(1/5.255)) is wrong: 98 m low at 150 hPa, 381 m at 100 hPa. If the recorder uses it, give its pressures.'
		);
	if (x.trueHeight !== undefined)
		out.push(
			'A satellite fix tells a height above the ellipsoid or above mean sea level, tens of metres apart: take the difference from the same receiver’s height on the pad. What its makers state holds under open sky, once it has settled, and at one level (50, 68 or 95 %).'
		);
	const density = nominal['density'] as number | undefined;
	if (density !== undefined) {
		const still = standardAtmosphere(geometricHeightM(nominal['pressureAltitude'] as number)).densityKgM3;
		if (Math.abs(still / density - 1) > 0.01)
			out.push(
				`A density from pressure altitude alone would be ${formatSi(still, 'density', { unit: 'kg/m³', figures: 3 })} there; with the day’s temperature it is ${formatSi(density, 'density', { unit: 'kg/m³', figures: 3 })}.`
			);
	}
	return out;
}

/** True height less the one shown, by the one shown, m: as typed, and 5 to 95 % of the samples. */
interface Series {
	shown: number[];
	low: number[];
	nominal: number[];
	high: number[];
}
const POINTS = 20;
const DRAWN = 150;

function* byReading({ nominal, samples }: AdditionContext<Inputs>): Generator<void, Addition> {
	if (!tells(nominal))
		return {
			statements: [
				'No true height is given: at such a moment the pressure in the bay tells none. Take the readings before and well after it.'
			]
		};
	const air = airOf(nominal);
	const here = hasReading(nominal) ? indicated(air, pressureRead(nominal, air)) : nominal.trueHeight!;
	const top = Math.min(35_000, Math.max(100, 1.25 * here));
	// In a calm moment: what a lag adds at one speed is no matter of height.
	const at = (x: Inputs, shown: number) => {
		const still: Inputs = { ...x, readAs: 'height', indicatedHeight: shown, portLag: 0 };
		const day = airAloft(x);
		return trueHeightOf(still, day, pressureRead(still, day)) - shown;
	};
	const series: Series = { shown: [], low: [], nominal: [], high: [] };
	for (let i = 0; i <= POINTS; i++) {
		const shown = (i / POINTS) * top;
		const [low = 0, high = 0] = sampleQuantiles(
			samples.slice(0, DRAWN).map((x) => at(x, shown)),
			[0.05, 0.95]
		);
		series.shown.push(shown);
		series.low.push(low);
		series.nominal.push(at(nominal, shown));
		series.high.push(high);
		yield;
	}
	return { series };
}

function figure({ nominal, outputs, series }: FigureContext<Inputs>): Figure | undefined {
	if (!tells(nominal)) return undefined;
	const s = series as Series;
	const h = outputs['trueHeight'];
	const shown = outputs['indicated']?.nominal;
	const would = outputs['wouldShow'];
	return {
		title:
			h && shown !== undefined
				? `Shown ${metres(shown)}, it was ${metres(h.nominal!)} (${metres(h.low90)} to ${metres(h.high90)})`
				: `At ${metres(nominal.trueHeight!)} the recorder would show ${metres(would!.nominal!)} (${metres(would!.low90)} to ${metres(would!.high90)})`,
		x: { label: 'Height that the recorder shows', unit: 'm', min: 0 },
		y: { label: 'To add for the true height', unit: 'm' },
		layers: [
			{ kind: 'band', label: '90 of 100', x: s.shown, low: s.low, high: s.high },
			{ kind: 'line', label: 'as typed', points: s.shown.map((x, i) => [x, s.nominal[i]!]) },
			...(shown === undefined || shown < 0
				? []
				: [{ kind: 'rule' as const, axis: 'x' as const, label: 'the reading', at: shown }])
		]
	};
}

export const pressureAltitude = defineCalculation({
	id: 'pressure-altitude',
	title: 'Pressure altitude',
	question:
		'How high was it really when the barometric recorder showed this, and is the recorder right where the height is known otherwise?',
	version: 3,
	inputs: INPUTS,
	outputs: [
		{ id: 'trueHeight', label: 'True height above the pad', dimension: 'length', unit: 'm', main: true },
		{ id: 'correction', label: 'To add to the height shown', dimension: 'length', unit: 'm', main: true },
		{ id: 'share', label: 'The same as a share of it', dimension: 'ratio', unit: '1' },
		{ id: 'indicated', label: 'Height shown, reckoned with standard air', dimension: 'length', unit: 'm' },
		{
			id: 'pressureAltitude',
			label: 'Pressure altitude above 1013.25 hPa (geopotential)',
			dimension: 'length',
			unit: 'm'
		},
		{ id: 'density', label: 'Density of the air there', dimension: 'density', unit: 'kg/m³' },
		{
			id: 'wouldShow',
			label: 'What the recorder would show at the height known otherwise',
			dimension: 'length',
			unit: 'm',
			main: true
		}
	],
	sources: [
		{ text: 'U.S. Standard Atmosphere 1976, as transcribed in the tests of CalebBell/fluids', basis: 'seen' },
		{
			text: 'ICAO Doc 8168: cold-temperature correction, as an aviation safety note quotes it',
			basis: 'seen'
		},
		{ text: 'Errors of ports, lag and air aloft', basis: 'common practice, no source' }
	],
	docs: 'methods/pressure-altitude.md',
	check(x) {
		if (x.readAs === 'pressure' && x.pressureAloft !== undefined && x.sitePressure === undefined)
			return 'give the pressure at the pad too, of the same recorder: without it the setting of the sensor goes into the height';
		if (!hasReading(x) && x.trueHeight === undefined)
			return 'give what the recorder showed, or a height known otherwise';
		return undefined;
	},
	model(x) {
		const air = airAloft(x);
		const out: ModelOutput = {};
		if (hasReading(x)) {
			const pressure = pressureRead(x, air);
			const shown = indicated(air, pressure);
			const height = tells(x) ? trueHeightOf(x, air, pressure) : undefined;
			if (height !== undefined) {
				out['trueHeight'] = height;
				out['correction'] = height - shown;
				// Near the pad, of a metre, so that no sample lacks a share.
				out['share'] = (height - shown) / (Math.abs(shown) > 1 ? shown : shown < 0 ? -1 : 1);
			}
			out['indicated'] = shown;
			out['pressureAltitude'] = pressureAltitudeM(pressure);
			if (height !== undefined) out['density'] = air.densityKgM3(height);
		}
		if (x.trueHeight !== undefined && tells(x))
			out['wouldShow'] = shownAt(x, air, x.trueHeight - x.portLag * x.climbRate);
		return out;
	},
	limits,
	evidence,
	addition: byReading,
	figure
});
