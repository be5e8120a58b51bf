import { equivalentDropM } from '$lib/physics/impact';
import { formatSi } from '$lib/quantity/format';
import { defineCalculation, type Addition, type AdditionContext, type FigureContext } from '../calculation';
import type { Figure, Point } from '../figure';
import { outOf100, percentOf } from '../likelihood';
import { evidence } from './evidence';
import { INPUTS, type Inputs } from './inputs';
import { nameOf, peakFactor, shareOf, speedOf, stopOf, wayOf } from './stop';

const joules = (e: number) => formatSi(e, 'energy', { unit: 'J', figures: 3 });
const gs = (a: number) => formatSi(a, 'acceleration', { unit: 'g', figures: 3 });
const speedText = (v: number) => formatSi(v, 'speed', { unit: 'm/s', figures: 3 });

/** In how many of the samples the impact gave what each damage needs. */
function* chances({ nominal: x, samples, random }: AdditionContext<Inputs>): Generator<void, Addition> {
	const pulses = random('pulses');
	const enough = x.damage.map(() => 0);
	for (const [i, s] of samples.entries()) {
		const stop = stopOf(s, pulses());
		s.damage.forEach((d, k) => (enough[k]! += (shareOf(s, d, stop) ?? 0) >= 1 ? 1 : 0));
		if (i % 1000 === 999) yield;
	}
	const stop = stopOf(x, 0.5);
	const { energy, speed, mean, peak } = stop;
	const known = x.damage.map((d) => shareOf(x, d, stop) !== undefined);
	return {
		series: {
			enough: enough.flatMap((n, k) => (known[k] ? [{ label: nameOf(x, k), share: n / samples.length }] : []))
		},
		statements: [
			`It hit with ${joules(energy)} at ${speedText(speed)}, as after a fall of ${formatSi(equivalentDropM(speed), 'length', { unit: 'm', figures: 2 })} without air${
				mean === undefined
					? ''
					: `; on the way down it stopped with ${gs(mean)} in the mean and about ${gs(peak!)} at the peak`
			}.`,
			...enough.flatMap((n, k) => {
				if (!known[k])
					return [`${nameOf(x, k)}: without crush or depth in the ground the deceleration is not known.`];
				const share = n / samples.length;
				return [
					`${nameOf(x, k)}: the impact had enough for it in ${outOf100(share)} samples${
						share < 0.05 ? '; look for another cause, or another moment, of this damage' : ''
					}.`
				];
			})
		]
	};
}

interface Series {
	enough: { label: string; share: number }[];
}

function figure({ nominal: x, outputs, series }: FigureContext<Inputs>): Figure {
	const { enough } = series as Series;
	if (enough.length) {
		const short = enough.filter(({ share }) => share < 0.05);
		return {
			title: short.length
				? `The impact was hardly enough for ${short.map(({ label }) => label).join(', ')}`
				: 'The impact may have done all of this damage',
			x: { label: 'What the impact gave over what the damage needs', unit: '1', min: 0 },
			y: { label: 'Damage', unit: '1' },
			layers: [
				{ kind: 'rule', axis: 'x', label: 'just enough', at: 1 },
				{
					kind: 'rows',
					label: 'damage',
					rows: enough.map(({ label, share }) => {
						const o = outputs[`share of ${label}`]!;
						return {
							label,
							note: `enough in ${percentOf(share)}`,
							value: o.nominal ?? o.median,
							low: o.low90,
							high: o.high90
						};
					})
				}
			]
		};
	}
	const way = wayOf(x);
	const { down, mean, energy, speed } = stopOf(x, 0);
	if (way === undefined || mean === undefined) {
		const speeds = Array.from({ length: 30 }, (_, i) => (speed * 2 * (i + 1)) / 30);
		return {
			title: `It hit with about ${joules(energy)}`,
			x: { label: 'Speed at the impact', unit: 'm/s', min: 0 },
			y: { label: 'Energy', unit: 'J', min: 0 },
			layers: [
				{ kind: 'line', label: 'energy', points: speeds.map((v): Point => [v, (x.mass * v * v) / 2]) },
				{ kind: 'point', label: 'this impact', x: speed, y: energy }
			]
		};
	}
	const ways = Array.from({ length: 40 }, (_, i) => way * (0.3 + (2.7 * i) / 39));
	const at = (share: number) => ways.map((s) => (peakFactor(x, share) * down ** 2) / (2 * s) / 9.80665);
	return {
		title: `It stopped with ${gs(mean)} in the mean, and a peak of up to ${gs(stopOf(x, 1).peak!)}`,
		x: { label: 'Way over which it stopped', unit: 'mm', min: 0 },
		y: { label: 'Deceleration', unit: 'g', min: 0 },
		layers: [
			{ kind: 'band', label: 'peak', x: ways.map((s) => 1000 * s), low: at(0), high: at(1) },
			{
				kind: 'line',
				label: 'mean',
				points: ways.map((s): Point => [1000 * s, down ** 2 / (2 * s) / 9.80665])
			},
			{ kind: 'point', label: 'this impact', x: 1000 * way, y: mean / 9.80665 }
		]
	};
}

function limits(x: Inputs): string[] {
	const out: string[] = [];
	if (wayOf(x) !== undefined) {
		out.push(
			'The mean is not the peak: a folding tube keeps near it, a spring doubles it, and an edge or a stone can do more. A recorder that stood at the end of its scale shows neither.',
			'The way counts only as far as the part in question moved: what crushed behind the sensor did not stop it.'
		);
		if (x.penetration === undefined)
			out.push(
				'The depth that it dug into the ground is not given: it stopped over that way too, and the deceleration was less.'
			);
		if (x.crush === undefined)
			out.push(
				'The crush of the structure is not given: it stopped over that way too, and the deceleration was less.'
			);
	}
	out.push(
		'Turning and speed along the ground carry energy too: a vehicle that hits aslant slaps, and its far end hits faster. Only the straight motion is counted, and only the speed downward is stopped over the crush.'
	);
	if (x.drop !== undefined && x.terminal === undefined)
		out.push(
			`A fall of ${formatSi(x.drop, 'length', { unit: 'm', figures: 2 })} is taken as without air: the speed is an upper bound.`
		);
	return out;
}

export const impact = defineCalculation({
	id: 'impact',
	title: 'Impact on the ground',
	question: 'How hard did it hit, and which damage needs more than that, so that it was done before?',
	version: 2,
	inputs: INPUTS,
	outputs: [
		{ id: 'energy', label: 'Energy at the impact', dimension: 'energy', unit: 'J', main: true },
		{ id: 'speed', label: 'Speed over the ground at the impact', dimension: 'speed', unit: 'm/s' },
		{ id: 'drop', label: 'Height of a fall without air to the same speed', dimension: 'length', unit: 'm' },
		{ id: 'mean', label: 'Mean deceleration', dimension: 'acceleration', unit: 'g' },
		{ id: 'peak', label: 'Peak deceleration', dimension: 'acceleration', unit: 'g', main: true },
		{ id: 'force', label: 'Mean force', dimension: 'force', unit: 'N' },
		{ id: 'share', label: 'What the impact gave over what the damage needs', dimension: 'ratio', unit: '1' }
	],
	sources: [
		{ text: 'Energy and stopping distance; shapes of a pulse', basis: 'hand-worked' },
		{ text: 'Crush and strength of parts', basis: 'common practice, no source' }
	],
	docs: 'methods/impact.md',
	cautions: [
		'After a hard impact count every unfired charge, igniter, motor and cell as live or damaged until a competent person has made it safe; a crushed or hot cell is kept away from what burns and is not charged to read the log.',
		'What is computed here makes no landing safe: local rules and the range’s safety officer prevail.'
	],
	check(x) {
		if ((x.speed === undefined) === (x.drop === undefined))
			return 'give the speed at the impact, or the height that it fell, one of the two';
		if (x.terminal !== undefined && x.drop === undefined)
			return 'a steady speed of fall goes with the height that it fell; without one, give it as the speed';
		if (wayOf(x) === 0)
			return 'nothing stops over no way at all: give the crush or the depth in the ground, or leave both blank';
		const names = x.damage.map((_, i) => nameOf(x, i));
		const twice = names.find((name, i) => names.indexOf(name) < i);
		return twice ? `two damages are called ${twice}; give each its own name` : undefined;
	},
	model(x, random) {
		const stop = stopOf(x, random());
		const shares = x.damage.flatMap((d, i) => {
			const share = shareOf(x, d, stop);
			return share === undefined ? [] : [[nameOf(x, i), share] as const];
		});
		return {
			energy: stop.energy,
			speed: stop.speed,
			drop: equivalentDropM(speedOf(x)),
			mean: stop.mean,
			peak: stop.peak,
			force: stop.mean === undefined ? undefined : x.mass * stop.mean,
			share: shares.length ? Object.fromEntries(shares) : undefined
		};
	},
	limits,
	evidence,
	addition: chances,
	figure
});
