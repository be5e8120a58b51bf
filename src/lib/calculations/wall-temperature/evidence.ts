import { normalCdf } from '$lib/probability/special';
import type { Random } from '$lib/probability/generator';
import { formatSi } from '$lib/quantity/format';
import type { Evidence, Observation, QuantityField, ScenarioKind } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { asTyped, gasSide, heatWall, type Fault, type Heated } from './heat-wall';
import type { Inputs } from './inputs';
import { OBSERVED } from './observed';

/** Whether and when a hole was seen: in a window of the burning time, at all, or not. */
type Seen = Observation & { hole?: { seen: boolean; at?: number; sd?: number } };

/** How often a hole is overlooked, or a crack taken for one. */
const MISTAKEN = 0.01;
const WINDOW = 2;

/** Probability of what was seen of a hole that came at a time of the last burn, or never (infinite). */
function holeProbability({ seen, at, sd }: NonNullable<Seen['hole']>, time: number): number {
	const right =
		at === undefined || sd === undefined
			? Number.isFinite(time)
				? 1
				: 0
			: Number.isFinite(time)
				? normalCdf((at + WINDOW * sd - time) / sd) - normalCdf((at - WINDOW * sd - time) / sd)
				: 0;
	const yes = MISTAKEN + (1 - 2 * MISTAKEN) * right;
	return seen ? yes : 1 - yes;
}

/** The temperature of the outside, among what was seen. */
export const isOutside = (o: Observation) => o.kind === 'scalar' && o.dimension === 'temperature';

function inOrder(
	observations: readonly Seen[],
	{ leftM, backPeakK, hole }: { leftM: number; backPeakK: number; hole: number }
) {
	return observations.map((o) =>
		o.kind === 'outcome'
			? holeProbability(o.hole!, hole)
			: o.kind === 'scalar' && o.dimension === 'length'
				? leftM
				: backPeakK
	);
}

/**
 * Where the wall burns through no outside is left at that place: what was read beside the hole is anything up to the
 * temperature at which the wall gave way.
 */
function predicted(x: Inputs, r: Heated, observations: readonly Observation[], random: Random) {
	const read = Number.isFinite(r.throughS) && observations.some(isOutside);
	return inOrder(observations, {
		...r,
		backPeakK: read ? x.start + (r.backPeakK - x.start) * random() : r.backPeakK,
		hole: r.throughS - (Math.round(x.firings) - 1) * x.burnTime
	});
}

const seconds = (s: number) => formatSi(s, 'time', { unit: 's', figures: 2 });

function factorInput(id: string, label: string, min: number, max: number): QuantityField {
	return { kind: 'quantity', id, label, dimension: 'ratio', unit: '1', range: { min, max } };
}

/** A fault whose size lies anywhere between two, by ratio or evenly. */
function between(
	words: Pick<ScenarioKind<Inputs>, 'id' | 'label' | 'help'> & { what: string },
	[least, most, min, max]: readonly [number, number, number, number],
	fault: (size: number) => Fault
): ScenarioKind<Inputs> {
	const { what, ...rest } = words;
	return {
		...rest,
		inputs: [factorInput('from', `Least ${what}`, min, max), factorInput('to', `Greatest ${what}`, min, max)],
		distribution: `Every ${what} between the two (${least} to ${most} unless given) is equally probable.`,
		check: ({ from = least, to = most }) =>
			to > from ? undefined : `the least ${what} must be less than the greatest`,
		predict: (x, { from = least, to = most }, observations, random) =>
			predicted(x, heatWall(x, fault(from + (to - from) * random())), observations, random)
	};
}

const wholeWall = (x: Inputs) => x.layers.reduce((sum, l) => sum + l.thickness, 0);

export const evidence: Evidence<Inputs> = {
	trials: 'firings',
	observed: OBSERVED,
	observations(values, x, sd) {
		const { left, outside, holeTime } = values as Record<string, number | undefined>;
		const out: Seen[] = [];
		const exact = 'nothing is measured exactly: give its uncertainty, such as 1.8 ± 0.1 mm';
		if (left !== undefined) {
			if (!(sd('left') > 0)) return exact;
			if (left > 1.2 * wholeWall(x)) return 'the wall left is thicker than the wall was; check both';
			const what = { label: 'the wall left', dimension: 'length', unit: 'mm' } as const;
			out.push({ kind: 'scalar', ...what, observed: left, sd: sd('left') });
		}
		if (outside !== undefined) {
			if (!(sd('outside') > 0)) return exact;
			const is = values['outsideIs'];
			out.push({
				kind: 'scalar',
				label: 'the outside at its hottest',
				dimension: 'temperature',
				unit: '°C',
				observed: outside,
				sd: sd('outside'),
				...(is === 'at least' ? { beyond: 'above' } : is === 'at most' ? { beyond: 'below' } : {})
			});
		}
		if (holeTime !== undefined && values['hole'] !== 'yes')
			return 'a time of the hole is given, but not that it burnt through: say that it did, or clear the time';
		if (values['hole'] === 'yes' || values['hole'] === 'no') {
			const seen = values['hole'] === 'yes';
			if (!seen && left === 0) return 'with nothing left of the wall there is a hole; check both';
			if (holeTime !== undefined && !(sd('holeTime') > 0)) return exact;
			const timed = seen && holeTime !== undefined;
			const spread = sd('holeTime');
			const when = timed
				? ` between ${seconds(Math.max(0, holeTime - WINDOW * spread))} and ${seconds(holeTime + WINDOW * spread)}`
				: '';
			out.push({
				kind: 'outcome',
				label: seen ? `it would burn through${when}` : 'it would not burn through',
				among: 2,
				hole: { seen, ...(timed ? { at: holeTime, sd: spread } : {}) }
			});
		}
		return out;
	},
	scenarios: [
		{
			id: 'as-designed',
			label: 'As the inputs say',
			help: 'The wall and gas typed above, with their spreads.',
			inputs: [],
			predict: (x, _, observations, random) => predicted(x, asTyped(x), observations, random)
		},
		between(
			{
				id: 'more-heat',
				label: 'More heat than computed',
				help: 'A jet on the wall, a leak along it, burning metal, a hotter or denser gas.',
				what: 'coefficient over the computed one'
			},
			[1.5, 5, 1, 50],
			(heat) => ({ heat })
		),
		{
			id: 'first-layer-missing',
			label: 'Hot gas behind the first layer',
			help: 'From ignition on: the liner was missing, cracked, or passed at its end.',
			inputs: [],
			check: (_, x) => (x.layers.length > 1 ? undefined : 'this needs a wall of at least two layers'),
			predict: (x, _, observations, random) =>
				predicted(x, heatWall(x, { firstLayerMissing: true }), observations, random)
		},
		between(
			{
				id: 'thinner',
				label: 'Wall thinner than thought',
				help: 'Of the layer that carries the load: pits, earlier firings that were not counted, a bore off its centre.',
				what: 'share of the layer that was not there'
			},
			[0.1, 0.8, 0, 0.95],
			(thinner) => ({ thinner })
		),
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Anything else, over a broad range.',
			inputs: [],
			distribution:
				'Equally probable: any thickness left up to the whole wall; any temperature of the outside from that before to the gas’s, at most 1200 °C; a hole or none, at any time of the burn.',
			predict: (x, _, observations, random) => {
				const hottest = Math.min(1473, gasSide(x).recoveryK);
				return inOrder(observations, {
					leftM: wholeWall(x) * random(),
					backPeakK: x.start + (hottest - x.start) * random(),
					hole: random() < 0.5 ? Infinity : x.burnTime * random()
				});
			}
		}
	],
	defaultScenarios: (x) =>
		[
			'as-designed',
			'more-heat',
			...(x.layers.length > 1 ? ['first-layer-missing'] : []),
			'thinner',
			NONE_OF_THESE
		].map((id) => ({ id }))
};
