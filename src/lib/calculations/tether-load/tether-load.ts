import { formatSi } from '$lib/quantity/format';
import { defineCalculation, type Addition, type AdditionContext, type FigureContext } from '../calculation';
import type { Figure, Point } from '../figure';
import { outOf100 } from '../likelihood';
import { figuresOf, told } from '../told';
import { evidence } from './evidence';
import { INPUTS, type Inputs } from './inputs';
import { bearsOf, pullOf, reducedMassOf, speedOf, stiffnessOf, waveOf } from './line';

const newtons = (n: number) => formatSi(n, 'force', { unit: 'N', figures: 3 });
const metres = (m: number) => formatSi(m, 'length', { unit: 'm', figures: 2 });
const percent = (s: number) => formatSi(s, 'ratio', { unit: '%', figures: 2 });

function* chances({ nominal, samples }: AdditionContext<Inputs>): Generator<void, Addition> {
	let broken = 0;
	for (const [i, x] of samples.entries()) {
		if (pullOf(x).forceN > bearsOf(x)) broken++;
		if (i % 1000 === 999) yield;
	}
	const { forceN } = pullOf(nominal);
	const longer = (forceN / bearsOf(nominal)) ** 2 * nominal.length;
	return {
		series: { broken: broken / samples.length },
		statements: [
			`It pulls with about ${newtons(forceN)}; that is more than the weakest link bears in ${outOf100(broken / samples.length)} such pulls.`,
			`Twice the length, or a line that stretches twice as far, would make it ${newtons(forceN / Math.SQRT2)}${
				longer > nominal.length
					? `; at ${metres(longer)} it would still break in about half of such pulls`
					: ''
			}.`
		]
	};
}

function figure({ nominal: x, outputs, series }: FigureContext<Inputs>): Figure {
	const force = outputs['force']!;
	const pull = force.nominal!;
	const lengths = Array.from({ length: 40 }, (_, i) => x.length * (0.25 + (3.75 * i) / 39));
	// At one speed and one kind of line the force goes as one over the root of the length.
	const scale = lengths.map((l) => Math.sqrt(x.length / l));
	return {
		title: `It pulls with about ${told(force)} and breaks something in ${outOf100((series as { broken: number }).broken)} pulls; twice the length would make it ${figuresOf(force).value(pull / Math.SQRT2)}`,
		x: { label: 'Length of the line', unit: 'm', min: 0 },
		y: { label: 'Peak force', unit: 'N', min: 0 },
		layers: [
			{
				kind: 'band',
				label: '90 of 100',
				x: lengths,
				low: scale.map((s) => s * force.low90),
				high: scale.map((s) => s * force.high90)
			},
			{ kind: 'line', label: 'as stated', points: lengths.map((l, i): Point => [l, scale[i]! * pull]) },
			{ kind: 'point', label: 'this line', x: x.length, y: pull },
			{ kind: 'rule', axis: 'y', label: 'weakest link', at: outputs['bears']!.nominal! }
		]
	};
}

function limits(x: Inputs): string[] {
	const { forceN, stretchM } = pullOf(x);
	const wave = waveOf(x);
	const out = [
		'The line is taken as a linear spring without loss. Its stiffness must be that of a fast pull: wet, knotted, aged or heat-damaged line is another line.'
	];
	if (stretchM / x.length > x.stretchAtBreak)
		out.push(
			`To take this energy it would have to stretch by ${percent(stretchM / x.length)}, more than the ${percent(x.stretchAtBreak)} at which it breaks.`
		);
	if (wave === undefined)
		out.push(
			'The mass of the line is left out: a heavy one passes a wave that can break it at the end that is jerked.'
		);
	else if (wave > 0.3 * forceN)
		out.push(
			`The line is heavy enough to count: the wave alone pulls with ${newtons(wave)} at the end that is jerked, and the peak can be greater than ${newtons(forceN)}.`
		);
	out.push(
		'The drag of the ends, what is between them, and cord that unfolds or tears bands on the way are left out; a canopy that opens meanwhile adds its own load.'
	);
	if (x.material === 'elastic')
		out.push(
			'Rubber stiffens steeply near its end: as a spring it is linear only to about half its stretch.'
		);
	return out;
}

export const tetherLoad = defineCalculation({
	id: 'tether-load',
	title: 'Snatch load of a tether',
	question:
		'How hard did the line pull when it came taut, did something have to break, and what would a longer or softer line do?',
	version: 2,
	inputs: INPUTS,
	outputs: [
		{ id: 'force', label: 'Peak force in the line', dimension: 'force', unit: 'N', main: true },
		{ id: 'bears', label: 'What the weakest link bears', dimension: 'force', unit: 'N' },
		{
			id: 'ratio',
			label: 'Peak force over what the weakest link bears',
			dimension: 'ratio',
			unit: '1',
			main: true
		},
		{ id: 'stretch', label: 'Stretch at the peak', dimension: 'length', unit: 'm' },
		{ id: 'strain', label: 'Stretch over length', dimension: 'ratio', unit: '%' },
		{ id: 'time', label: 'Time from taut to the peak', dimension: 'time', unit: 'ms' },
		{ id: 'energy', label: 'Energy in the line', dimension: 'energy', unit: 'J' },
		{ id: 'speed', label: 'Speed at which the ends part', dimension: 'speed', unit: 'm/s' },
		{ id: 'stiffness', label: 'Stiffness of the line, pulled fast', dimension: 'stiffness', unit: 'N/m' },
		{ id: 'wave', label: 'Force of the wave in the line', dimension: 'force', unit: 'N' },
		{ id: 'accelerationA', label: 'Peak acceleration of the one end', dimension: 'acceleration', unit: 'g' },
		{ id: 'accelerationB', label: 'Peak acceleration of the other end', dimension: 'acceleration', unit: 'g' }
	],
	sources: [
		{ text: 'Two masses on a linear spring: energy and momentum', basis: 'hand-worked' },
		{ text: 'Ewing, Bixby & Knacke, AFFDL-TR-78-151: snatch', basis: 'from memory' },
		{ text: 'Stretch and knots of lines', basis: 'common practice, no source' }
	],
	docs: 'methods/tether-load.md',
	cautions: [
		'A line that breaks under load whips: in a pull test stand out of its line, wear eye protection, load it from a distance.',
		'What is computed here clears nothing for flight: local rules and the range’s safety officer prevail.'
	],
	check(x) {
		if ((x.speed === undefined) === (x.energy === undefined))
			return 'give the speed at which the ends part, or the energy, one of the two';
		return undefined;
	},
	model(x) {
		const pull = pullOf(x);
		const speed = speedOf(x);
		const bears = bearsOf(x);
		return {
			force: pull.forceN,
			bears,
			ratio: pull.forceN / bears,
			stretch: pull.stretchM,
			strain: pull.stretchM / x.length,
			time: pull.timeS,
			energy: (reducedMassOf(x) * speed ** 2) / 2,
			speed,
			stiffness: stiffnessOf(x),
			wave: waveOf(x),
			accelerationA: pull.forceN / x.massA,
			accelerationB: pull.forceN / x.massB
		};
	},
	limits,
	evidence,
	addition: chances,
	figure
});
