import { quantile } from '$lib/probability/distributions';
import type { Random } from '$lib/probability/generator';
import { formatSi } from '$lib/quantity/format';
import type { Turned } from '$lib/physics/breach';
import type { Evidence, Observation, QuantityField } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { hasPath, leakOf, pathAfter } from './flight';
import { OBSERVED, type Inputs } from './inputs';

/** A path that has turned farther has tumbled; how far means nothing then. */
const TUMBLED = Math.PI / 2;
type Side = 'not known' | 'toward' | 'away';

/** An observed turn or drift, with the side to which it went. */
export type Seen = Extract<Observation, { kind: 'scalar' }> & { side: Side };

export const secondsText = (s: number) => formatSi(s, 'time', { unit: 's', figures: 2 });

function observationsOf(
	values: Record<string, unknown>,
	x: Inputs,
	sd: (path: string) => number
): Seen[] | string {
	const { turn, drift, side } = values as { turn?: number; drift?: number; side: Side };
	if (turn === undefined && drift === undefined)
		return side === 'not known' ? [] : 'say how far it turned or drifted to that side';
	if (!hasPath(x))
		return 'a path can be compared only where it is computed: choose so above, and give what that takes';
	if (side !== 'not known' && x.rollRate! > 0.2)
		return 'to which side it turned tells something only where it did not roll: give a roll rate of 0, or no side';
	const out: Seen[] = [];
	const push = (id: 'turn' | 'drift', label: string, observed: number | undefined, unit: string) => {
		if (observed === undefined) return;
		const dimension = id === 'turn' ? 'angle' : 'length';
		out.push({ kind: 'scalar', label, dimension, unit, observed, sd: sd(id), side });
	};
	push('turn', 'the turn by burnout', turn, '°');
	push('drift', 'the drift by burnout', drift, 'm');
	return out.some((o) => !(o.sd > 0))
		? 'nothing is known exactly: give each observed value its uncertainty, such as 4 ± 2°'
		: out;
}

/** What would be seen of a path: with the turn of a sound flight added, and with no more than a tumble. */
export function seenOf(
	x: Inputs,
	{ turn, drift }: Pick<Turned, 'turn' | 'drift'>,
	seen: readonly Seen[],
	random: Random
): number[] {
	const normal = () => x.ordinary! * quantile({ kind: 'normal', mean: 0, sd: 1 }, random());
	const ordinary = [normal(), normal()] as const;
	const flown = flownM(x);
	return seen.map(({ dimension, side }) => {
		const [way, arm, most] = dimension === 'angle' ? [turn, 1, TUMBLED] : [drift, flown, flown];
		const [along, across] = [way[0] + arm * ordinary[0], way[1] + arm * ordinary[1]];
		if (side === 'not known') return Math.min(most, Math.hypot(along, across));
		return Math.max(-most, Math.min(most, side === 'away' ? along : -along));
	});
}

/** Way flown by burnout, speed rising evenly, m. */
const flownM = (x: Inputs) => (x.burnoutSpeed! * x.burnTime!) / 2;

const asSeen = (observations: readonly Observation[]) => observations as readonly Seen[];

const moment = (id: string, label: string): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	dimension: 'time',
	unit: 's',
	range: { min: 0, max: 120 }
});

export const evidence: Evidence<Inputs> = {
	observed: OBSERVED,
	trials: 'flights',
	observations: observationsOf,
	scenarios: [
		{
			id: 'opened-between',
			label: 'It opened in the burn',
			help: 'The hole blew from a moment between the two until burnout.',
			inputs: [moment('from', 'Earliest, after ignition'), moment('to', 'Latest')],
			distribution: 'Every moment between the two (ignition and burnout, unless given) is equally probable.',
			describe: ({ from = 0, to }, x) =>
				`It opened between ${secondsText(from)} and ${secondsText(to ?? x.burnTime ?? NaN)}`,
			check: ({ from = 0, to }, x) =>
				(to ?? x.burnTime!) > from ? undefined : 'the earliest moment must be before the latest',
			predict(x, { from = 0, to = x.burnTime! }, observations, random) {
				const path = pathAfter(x, leakOf(x), from + (to - from) * random());
				return seenOf(x, path, asSeen(observations), random);
			}
		},
		{
			id: 'not-in-the-burn',
			label: 'No hole while it burnt',
			help: 'It came later, or at impact: the path turned as that of a sound flight.',
			inputs: [],
			predict: (x, _, observations, random) =>
				seenOf(x, { turn: [0, 0], drift: [0, 0] }, asSeen(observations), random)
		},
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Any turn from 0 to 90°.',
			inputs: [],
			distribution: 'Any turn from 0 to 90° is equally probable, to either side, and the drift goes with it.',
			predict(x, _, observations, random) {
				const share = random();
				const sign = random() < 0.5 ? -1 : 1;
				return asSeen(observations).map(({ dimension, side }) => {
					const size = share * (dimension === 'angle' ? TUMBLED : flownM(x));
					return side === 'not known' ? size : sign * size;
				});
			}
		}
	],
	defaultScenarios(x) {
		const time = (share: number) => ({ value: share * x.burnTime!, unit: 's' });
		return [
			...[0, 1, 2].map((i) => ({ id: 'opened-between', from: time(i / 3), to: time((i + 1) / 3) })),
			{ id: 'not-in-the-burn' },
			{ id: NONE_OF_THESE }
		];
	}
};
