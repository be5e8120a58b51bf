import { axis, type Component, FLOOR, FLOOR_DF, KERNEL_DF } from './density';
import { quantile } from './distributions';
import type { Random } from './generator';

/** What was drawn for each component: a number, [east, north], or whether it happened. */
export type Drawn = readonly (number | readonly [number, number] | boolean)[];

/**
 * One observation of all components together, drawn from the very density by which a scenario is weighed: a sample's
 * prediction with its measurement error, or its broad floor.
 * @throws {RangeError} where only a limit is known: nobody knows beforehand whether a scale will end
 */
export function drawObservation(components: readonly Component[], random: Random): Drawn {
	const broad = random() < FLOOR;
	const at = random();
	const df = broad ? FLOOR_DF : KERNEL_DF;
	const error = () => quantile({ kind: 'student', mean: 0, scale: 1, df }, random());
	const place = (observed: number, sd: number, predicted: Float64Array) => {
		if (!broad) return [predicted[Math.floor(at * predicted.length)]!, sd] as const;
		const { centre, broadScale } = axis(observed, sd, predicted, 1);
		return [centre, broadScale] as const;
	};
	return components.map((c) => {
		if (c.kind === 'limit') throw new RangeError('a limit cannot be drawn');
		if (c.kind === 'outcome')
			return random() < (broad ? 1 / c.among : c.predicted[Math.floor(at * c.predicted.length)]!);
		if (c.kind === 'scalar') {
			const [middle, scale] = place(c.observed, c.sd, c.predicted);
			return middle + scale * error();
		}
		const [east, eastScale] = place(c.east, c.eastSd, c.predictedEast);
		const [north, northScale] = place(c.north, c.northSd, c.predictedNorth);
		// Bivariate t: P(R > r) = (1 + r²/df)^(-df/2), in any direction.
		const r = Math.sqrt(df * (random() ** (-2 / df) - 1));
		const turn = 2 * Math.PI * random();
		return [east + eastScale * r * Math.sin(turn), north + northScale * r * Math.cos(turn)] as const;
	});
}

/** A scenario's predictions beside what was drawn, in place of what was observed. */
export function observedAs(components: readonly Component[], drawn: Drawn): Component[] {
	return components.map((c, k) => {
		const one = drawn[k]!;
		if (typeof one === 'number') return { ...c, observed: one } as Component;
		if (typeof one !== 'boolean') return { ...c, east: one[0], north: one[1] } as Component;
		if (one || c.kind !== 'outcome') return c;
		// All that could have happened instead, taken together.
		return { kind: 'outcome', among: c.among / (c.among - 1), predicted: c.predicted.map((p) => 1 - p) };
	});
}
