import type { Burn } from '$lib/physics/chamber';
import { interpolate } from '$lib/physics/interpolate';
import { sampleQuantiles } from '$lib/probability/summary';
import type { Addition, AdditionContext, FigureContext } from '../calculation';
import type { Figure, Layer } from '../figure';
import { countOf100 } from '../likelihood';
import type { Inputs } from './inputs';
import { megapascals, UNSTABLE } from './limits';
import { burn, caseStrength, peakOf } from './motor';

/** Pressure over time in MPa and s: nominal, and 5 to 95 % of the samples. */
interface Series {
	nominal: [number, number][];
	time: number[];
	low: number[];
	high: number[];
	yieldMPa?: number;
	burstMPa?: number;
}
const POINTS = 80;
/** Limits of the case are drawn up to so many times the greatest pressure drawn. */
const REACH = 2;
/** A picture needs no more than these. */
const DRAWN = 300;

export function* pressureOverTime({ nominal, samples }: AdditionContext<Inputs>): Generator<void, Addition> {
	const own = burn(nominal);
	const drawn = samples.slice(0, DRAWN);
	const burns: Burn[] = [];
	for (const [i, x] of drawn.entries()) {
		burns.push(burn(x));
		if (i % 50 === 49) yield;
	}
	const end = Math.max(own.timeS.at(-1)!, ...burns.map((b) => b.timeS.at(-1)!));
	const time = Array.from({ length: POINTS + 1 }, (_, i) => (i / POINTS) * end);
	const quantiles = time.map((t) =>
		sampleQuantiles(
			burns.map((b) => (t > b.timeS.at(-1)! ? 0 : interpolate(b.timeS, b.pressurePa, t))),
			[0.05, 0.95]
		)
	);
	const strength = caseStrength(nominal);
	const series: Series = {
		nominal: [
			...own.timeS.map((t, i): [number, number] => [t, own.pressurePa[i]! / 1e6]),
			[own.timeS.at(-1)!, 0.1]
		],
		time,
		low: quantiles.map(([low = 0]) => low / 1e6),
		high: quantiles.map(([, high = 0]) => high / 1e6),
		...(strength ? { yieldMPa: strength.yieldPa / 1e6, burstMPa: strength.burstPa / 1e6 } : {})
	};
	const power = 1 / (1 - nominal.exponent);
	const statements = [
		nominal.exponent > UNSTABLE
			? `So close to 1 (n = ${nominal.exponent}) there is no stable pressure.`
			: `One per cent more burning area, burning rate or c*, or less throat area, makes ${power.toFixed(2)} % more pressure: 1/(1 − n) with n = ${nominal.exponent}.`
	];
	const warnings: string[] = [];
	if (strength) {
		const share = (limit: 'yieldPa' | 'burstPa') =>
			countOf100(samples.filter((x) => peakOf(x) > caseStrength(x)![limit]).length, samples.length);
		statements.push(
			`Of firings as typed the case yields in ${share('yieldPa')} and bursts in ${share('burstPa')}.`
		);
		if (own.peakPa > strength.burstPa)
			warnings.push(
				`The case bursts at ${megapascals(strength.burstPa)}: the pressure beyond that is never reached.`
			);
	}
	return { series, statements, warnings };
}

export function figure({ nominal, observations, series, outputs }: FigureContext<Inputs>): Figure {
	const s = series as Series;
	const peak = outputs['peak']!.nominal!;
	const strength = caseStrength(nominal);
	const recorded = observations.find((o) => o.kind === 'scalar' && o.dimension === 'pressure');
	const layers: Layer[] = [
		{ kind: 'band', label: '90 of 100 firings', x: s.time, low: s.low, high: s.high },
		{ kind: 'line', label: 'as typed', points: s.nominal }
	];
	const rule = (label: string, at: number | undefined, halfWidth?: number) => {
		if (at !== undefined)
			layers.push({ kind: 'rule', axis: 'y', label, at, ...(halfWidth === undefined ? {} : { halfWidth }) });
	};
	// Far above the pressures a limit would only press them flat; the title names both.
	const drawn = REACH * Math.max(...s.high, ...s.nominal.map(([, p]) => p));
	const limit = (label: string, at: number | undefined) => rule(label, at! < drawn ? at : undefined);
	limit('yields', s.yieldMPa);
	limit('bursts', s.burstMPa);
	if (recorded?.kind === 'scalar') rule('recorded', recorded.observed / 1e6, (2 * recorded.sd) / 1e6);
	return {
		title:
			nominal.exponent > UNSTABLE
				? `No stable pressure with an exponent of ${nominal.exponent}`
				: `The pressure peaks at ${megapascals(peak)}${
						strength === undefined
							? ''
							: peak > strength.burstPa
								? ', more than the case can hold'
								: peak > strength.yieldPa
									? `, beyond the case’s yield; it bursts at ${megapascals(strength.burstPa)}`
									: `; the case yields at ${megapascals(strength.yieldPa)}, bursts at ${megapascals(strength.burstPa)}`
					}`,
		x: { label: 'Time from ignition', unit: 's', min: 0 },
		y: { label: 'Chamber pressure', unit: 'MPa', min: 0 },
		layers
	};
}
