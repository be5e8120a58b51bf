import { aspectRatio, flutterSpeedMS, type FinPanel } from '$lib/physics/flutter';
import { interpolate } from '$lib/physics/interpolate';
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
import { countOf100 } from '../likelihood';
import { airOf } from '../through-wind';
import { INPUTS, type Inputs } from './inputs';

const finOf = (x: Inputs): FinPanel => ({
	rootChordM: x.rootChord,
	tipChordM: x.tipChord,
	spanM: x.span,
	thicknessM: x.thickness,
	shearModulusPa: x.shearModulus
});

function flutterAt(x: Inputs, height: number): number {
	const air = airOf(x);
	return flutterSpeedMS(finOf(x), air.pressurePa(height), air.soundSpeedMS(height));
}

interface Closest {
	height: number;
	speed: number;
	flutter: number;
	/** Flutter speed over speed, less one. */
	margin: number;
}

/** Heights looked at between two points of the ascent; the margin is smooth between them. */
const BETWEEN = 8;

/** Where along the ascent the speed comes closest to the flutter speed. */
function closest(x: Inputs): Closest {
	const heights = x.ascent.map((p) => p.height);
	const speeds = x.ascent.map((p) => p.speed);
	let best: Closest | undefined;
	for (let i = 0; i < heights.length; i++) {
		const parts = i + 1 < heights.length ? BETWEEN : 1;
		for (let part = 0; part < parts; part++) {
			const height = heights[i]! + (part / parts) * ((heights[i + 1] ?? heights[i]!) - heights[i]!);
			const speed = interpolate(heights, speeds, height);
			const flutter = flutterAt(x, height);
			// At rest there is no margin to speak of; far beyond any that matters.
			const margin = flutter / Math.max(speed, 1) - 1;
			if (!best || margin < best.margin) best = { height, speed, flutter, margin };
		}
	}
	return best!;
}

/** Flutter speed by height, m/s: as typed, and 5 to 95 % of the samples. */
interface Series {
	height: number[];
	low: number[];
	nominal: number[];
	high: number[];
	share: number;
}
const POINTS = 24;
/** A picture needs no more than these. */
const DRAWN = 200;

function* byHeight({ nominal, samples }: AdditionContext<Inputs>): Generator<void, Addition> {
	const top = Math.max(100, 1.1 * nominal.ascent.at(-1)!.height);
	const series: Series = { height: [], low: [], nominal: [], high: [], share: 0 };
	const drawn = samples.slice(0, DRAWN);
	for (let i = 0; i <= POINTS; i++) {
		const h = (i / POINTS) * top;
		const [low = 0, high = 0] = sampleQuantiles(
			drawn.map((x) => flutterAt(x, h)),
			[0.05, 0.95]
		);
		series.height.push(h);
		series.low.push(low);
		series.nominal.push(flutterAt(nominal, h));
		series.high.push(high);
		yield;
	}
	let over = 0;
	for (const [i, x] of samples.entries()) {
		if (closest(x).margin < 0) over++;
		if (i % 100 === 99) yield;
	}
	series.share = over / samples.length;
	return {
		series,
		statements: [
			`In ${countOf100(over, samples.length)} trials of these inputs the speed passes the flutter speed. This screens a fin; it does not find a cause: only the fin itself, its joint and its pieces show that it fluttered.`
		]
	};
}

const show = (v: number) => formatSi(v, 'speed', { unit: 'm/s', figures: 3 });

function figure({ nominal, series }: FigureContext<Inputs>): Figure {
	const s = series as Series;
	const c = closest(nominal);
	return {
		title:
			c.margin < 0
				? `At ${formatSi(c.height, 'length', { unit: 'm', figures: 3 })} it flies at ${show(c.speed)}, beyond the flutter speed of ${show(c.flutter)}`
				: `It comes closest to flutter at ${formatSi(c.height, 'length', { unit: 'm', figures: 3 })}: ${show(c.speed)} against ${show(c.flutter)}`,
		x: { label: 'Height above the pad', unit: 'm', min: 0 },
		y: { label: 'Speed', unit: 'm/s', min: 0 },
		layers: [
			{ kind: 'band', label: 'flutter speed, 90 of 100', x: s.height, low: s.low, high: s.high },
			{ kind: 'line', label: 'flutter speed', points: s.height.map((h, i) => [h, s.nominal[i]!]) },
			{
				kind: 'line',
				label: 'the flight',
				points: nominal.ascent.map((p) => [p.height, p.speed]),
				dashed: true
			},
			{ kind: 'point', label: 'closest', x: c.height, y: c.speed }
		]
	};
}

function limits(x: Inputs, nominal: ModelOutput): string[] {
	const out: string[] = [];
	const margin = nominal['margin'] as number;
	const thick = x.thickness / x.rootChord;
	if (thick > 0.2)
		out.push(
			`The fin is ${Math.round(100 * thick)} % as thick as its root chord: the formula is for thin plates, and above some 20 % (common practice, no source) its flutter speed means nothing. Check thickness, chord and their units.`
		);
	if (margin < 0.5)
		out.push(
			`The flutter speed is only ${(1 + margin).toFixed(2)} times the flight's: below 1.5 times (common practice, no source) the formula is too rough to clear a fin.`
		);
	if (x.tipShift !== 0)
		out.push(
			'The tip is set back: the formula is for unswept fins, and sweep that moves the tip back changes it.'
		);
	if (x.tipWeight === 'yes') out.push('A weight at the tip lowers the flutter speed; the formula has none.');
	const a = aspectRatio(finOf(x));
	if (a < 0.3 || a > 2) out.push(`Aspect ratio ${a.toFixed(2)}: the formula was made for about 0.3 to 2.`);
	if (x.section === 'sandwich' || x.section === 'airfoil')
		out.push(
			'An airfoiled, hollow or sandwich fin twists by its effective stiffness G·J, not by the modulus of its skin with the root thickness: enter the modulus that a solid plate of this thickness would need to twist as little.'
		);
	if (x.section === 'laminate')
		out.push(
			'A laminate has no one shear modulus: it hangs on the direction of its fibres (glass cloth in plane 3 to 5 GPa, from memory). Twist the fin itself if it matters.'
		);
	const mach = Math.max(...x.ascent.map((p) => p.speed / airOf(x).soundSpeedMS(p.height)));
	if (mach > 1.5)
		out.push(`It reaches Mach ${mach.toFixed(1)}: the formula does not hold well above Mach 1.5.`);
	out.push(
		'The joint is not in the formula: a fillet, slot or bond that gives lets the whole fin turn, and flutter comes at a lower speed.'
	);
	if (x.ascent.length === 1)
		out.push(
			'One point of the ascent was looked at only; give the height and speed where it was fastest, and more.'
		);
	return out;
}

export const finFlutter = defineCalculation({
	id: 'fin-flutter',
	title: 'Fin flutter',
	question:
		'Did the speed on the way up come near the speed at which a fin of this shape and material flutters?',
	version: 1,
	inputs: INPUTS,
	outputs: [
		{
			id: 'margin',
			label: 'Margin (flutter speed over speed, less 1)',
			dimension: 'ratio',
			unit: '1',
			main: true
		},
		{
			id: 'flutter',
			label: 'Flutter speed where it comes closest',
			dimension: 'speed',
			unit: 'm/s',
			main: true
		},
		{ id: 'speed', label: 'Speed there', dimension: 'speed', unit: 'm/s' },
		{ id: 'height', label: 'Height there, above the pad', dimension: 'length', unit: 'm' },
		{ id: 'atPad', label: 'Flutter speed at the pad', dimension: 'speed', unit: 'm/s' },
		{ id: 'aspect', label: 'Aspect ratio of one panel', dimension: 'ratio', unit: '1' }
	],
	sources: [
		{
			text: 'D. J. Martin, NACA TN 4197 (1958), eq. 18; the constant 39.3 psi, that is 2.674, as a public text quotes it',
			basis: 'seen'
		},
		{ text: 'The constant 24 ε κ/π and the scaling, derived again', basis: 'hand-worked' },
		{ text: 'Shear moduli', basis: 'from memory' },
		{ text: 'U.S. Standard Atmosphere 1976, as transcribed in the tests of CalebBell/fluids', basis: 'seen' }
	],
	docs: 'methods/fin-flutter.md',
	check(x) {
		if (x.thickness > x.rootChord)
			return 'the fin is thicker than its root chord is long; check both and their units';
		if (!x.ascent.some((p) => p.speed > 1))
			return 'no point of the ascent has a speed: give the height and speed where it was fastest';
		return undefined;
	},
	model(x) {
		const { height, speed, flutter, margin } = closest(x);
		return { margin, flutter, speed, height, atPad: flutterAt(x, 0), aspect: aspectRatio(finOf(x)) };
	},
	limits,
	addition: byHeight,
	figure
});
