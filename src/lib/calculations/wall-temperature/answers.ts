import { steadyRecessionMS } from '$lib/physics/gas-heating';
import { sampleQuantiles } from '$lib/probability/summary';
import { formatSi } from '$lib/quantity/format';
import type { AddedOutput, Addition, AdditionContext } from '../calculation';
import { countOf100 } from '../likelihood';
import { isOutside } from './evidence';
import { firingOf, seriesOf, trace, type Trace } from './figure';
import { asTyped, gasSide, meltsAtK, meltingHeat, softAtK, type Heated } from './heat-wall';
import type { Inputs } from './inputs';
import { celsius, millimetres, nameOf } from './limits';
import { neededThicknessM, recessionUnknown } from './needed';

/** A band needs no more runs than these; a needed thickness takes ten runs each. */
const drawnOf = (samples: number) => Math.min(150, Math.max(10, samples / 10));
const sizedOf = (samples: number) => Math.min(40, Math.max(4, samples / 20));

const TIMES = [
	['meltTime', 'meltS', 'the hot face begins to melt'],
	['softTime', 'softS', 'the layer that carries the load gets soft while it burns'],
	['throughTime', 'throughS', 'the wall is through']
] as const;

const often = (share: number, runs: number): string =>
	share === 1 ? 'all' : countOf100(Math.round(share * runs), runs);

/** When it melts, gets soft and is through, how thick it should be, and the figure's series. */
export function* answers({
	nominal: x,
	samples,
	observations
}: AdditionContext<Inputs>): Generator<void, Addition> {
	const runs: Heated[] = [];
	for (const [i, sample] of samples.entries()) {
		runs.push(asTyped(sample));
		if (i % 100 === 99) yield;
	}
	const traces: Trace[] = [];
	for (const sample of samples.slice(0, drawnOf(samples.length))) {
		traces.push(trace(sample));
		yield;
	}
	const own = asTyped(x);
	const unknown = x.layers.findIndex(recessionUnknown);
	const outputs: AddedOutput[] = [];
	const statements: string[] = [];
	const firings = Math.round(x.firings);
	const trials = firings > 1 ? `series of ${firings} firings` : 'firings';
	for (const [id, key, words] of TIMES) {
		if (key === 'softS' && softAtK(x) === undefined) continue;
		if (key === 'meltS' && meltsAtK(x.layers[0]!) === Infinity) continue;
		const times = runs.map((r) => r[key]).filter(Number.isFinite);
		const share = times.length / runs.length;
		const left = key === 'throughS' && unknown >= 0 ? `, recession of ${nameOf(x, unknown)} left out` : '';
		statements.push(`In ${often(share, runs.length)} ${trials} ${words}${left}.`);
		if (times.length >= 5)
			outputs.push({
				id,
				samples: Float64Array.from(times),
				bySample: runs.map((r) => r[key]),
				...(Number.isFinite(own[key]) ? { nominal: own[key] } : {})
			});
	}
	const firing = Number.isFinite(own.throughS) ? firingOf(x, own.throughS) : undefined;
	if (firing !== undefined && firings > 1)
		statements.push(`As typed, firing ${firing} of ${firings} burns through.`);
	const soft = softAtK(x);
	if (soft !== undefined && own.loadPeakK > soft && own.loadBurnK <= soft)
		statements.push(
			`It gets soft only after the burn, when the pressure is gone: ${celsius(own.loadPeakK)} on the average, soft at ${celsius(soft)}.`
		);
	statements.push(...steady(x));
	const warnings = canMelt(x, samples);
	const through = runs.filter((r) => Number.isFinite(r.throughS)).length / runs.length;
	if (through > 0 && observations.some(isOutside))
		warnings.push(
			`In ${often(through, runs.length)} ${trials} as typed the wall is through, and no outside is left at that place. What was read there is taken as read beside the hole: any temperature up to that at which the wall gave way, in every scenario that burns through. It tells little then; say under what was observed whether it burnt through.`
		);
	const sized: number[] = [];
	for (const sample of unknown < 0 ? samples.slice(0, sizedOf(samples.length)) : []) {
		sized.push(neededThicknessM(sample));
		yield;
	}
	const enough = sized.filter(Number.isFinite);
	if (unknown >= 0)
		warnings.push(
			`No thickness is given: how fast ${nameOf(x, unknown)} recedes is not computed. Type its speed from earlier firings, and the thickness allows for it.`
		);
	else if (enough.length < 0.95 * sized.length)
		warnings.push(
			`In ${sized.length - enough.length} of ${sized.length} firings no thickness of ${nameOf(x, 0)} up to twenty times the typed one would do.`
		);
	else {
		outputs.push({ id: 'needed', samples: Float64Array.from(enough), bySample: sized });
		const [high = 0] = sampleQuantiles(enough, [0.95]);
		statements.push(
			`${millimetres(high)} of ${nameOf(x, 0)} at the hot face would do in 95 of 100 firings${soft === undefined ? ' for not burning through' : ''}; with a margin of ${Math.round(100 * x.margin)} % that is ${millimetres(high * (1 + x.margin))}.`
		);
	}
	return {
		outputs,
		statements,
		warnings,
		series: seriesOf(x, trace(x), traces, own.throughS)
	};
}

/** Which layers the gas can't melt however long it burns, by the samples and not the typed values alone. */
function canMelt(x: Inputs, samples: readonly Inputs[]): string[] {
	const recovery = samples.map((s) => gasSide(s).recoveryK);
	const [low = 0, high = 0] = sampleQuantiles(recovery, [0.05, 0.95]);
	const own = gasSide(x).recoveryK;
	return x.layers.flatMap((l, i) => {
		const melts = meltsAtK(l);
		if (melts === Infinity || own > melts) return [];
		const share = samples.filter((s, j) => recovery[j]! > meltsAtK(s.layers[i]!)).length / samples.length;
		const reach = `the gas brings a wall to ${celsius(own)} as typed (${Math.round(low - 273.15)} to ${celsius(high)} in 90 of 100 firings), and it melts at ${celsius(melts)}.`;
		return share < 0.005
			? `${nameOf(x, i)} can’t melt at any duration: ${reach}`
			: `In ${often(share, samples.length)} firings the gas is hot enough to melt ${nameOf(x, i)} if it burns long enough: ${reach}`;
	});
}

/** The steady recession as an upper bound, where the hot face can melt. */
function steady(x: Inputs): string[] {
	const [layer, side] = [x.layers[0]!, gasSide(x)];
	const melts = meltsAtK(layer);
	if (!(side.recoveryK > melts)) return [];
	const { densityKgM3, toMeltJKg } = meltingHeat(x);
	const speed = steadyRecessionMS(side.coefficient(melts) * (side.recoveryK - melts), densityKgM3, toMeltJKg);
	return [
		`A melting face of ${nameOf(x, 0)} recedes by at most ${formatSi(speed, 'speed', { unit: 'mm/s', figures: 2 })} from a cold, thick wall (steady melting); thin or hot walls pass that.`
	];
}
