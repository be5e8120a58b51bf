import type { Disposition, DispositionState } from '../schema/anomaly';
import { hasMoved } from './leading';

/** What the filled circle can show: the dispositions of a branch, and 'undetermined' for a whole anomaly. */
export type DispositionFigure = DispositionState | 'undetermined';

export const DISPOSITION_WORDS: Record<DispositionFigure, string> = {
	open: 'open',
	ruledOutByEvidence: 'ruled out by evidence',
	ruledOutByCalculation: 'ruled out by calculation',
	unlikely: 'unlikely',
	likely: 'likely',
	contributed: 'contributed',
	established: 'established',
	notApplicable: 'not applicable',
	undetermined: 'undetermined'
};

/** [D2] A decision lies against its weight beyond these: ruled out still asks at 30 %, the others where the odds say the opposite. */
const MOST: Partial<Record<DispositionFigure, number>> = {
	ruledOutByEvidence: 0.3,
	ruledOutByCalculation: 0.3,
	unlikely: 0.55
};
const LEAST: Partial<Record<DispositionFigure, number>> = {
	likely: 0.45,
	contributed: 0.45,
	established: 0.55
};

/** [D2] What is decided and what the evidence gives it do not fit; null where it was not weighed. */
export const isAgainstWeight = (state: DispositionFigure, weight: number | null): boolean =>
	weight !== null && (weight > (MOST[state] ?? 1) || weight < (LEAST[state] ?? 0));

/** [S4] Decided against its weight without a word on why, or it has moved further the same way since that was said. */
export function asksWhy({ state, despite, weightThen }: Disposition, weight: number): boolean {
	if (!isAgainstWeight(state, weight)) return false;
	if (despite === '') return true;
	return weightThen !== null && hasMoved(weightThen, weight) && weight < weightThen === state in LEAST;
}

const QUARTER = 'M0 0 0-5A5 5 0 0 1 5 0Z';
const HALF = 'M0-5A5 5 0 0 1 0 5Z';
const THREE_QUARTERS = 'M0 0 0-5A5 5 0 1 1-5 0Z';
const FULL = 'M0-5A5 5 0 1 1-.01-5Z';

/** Paths inside a circle of radius 6.4 about the origin. The fuller, the more it is held; struck through is out. */
export function dispositionPath(state: DispositionFigure): { fill?: string; stroke?: string } {
	switch (state) {
		case 'open':
			return {};
		case 'unlikely':
			return { fill: QUARTER };
		case 'likely':
			return { fill: HALF };
		case 'contributed':
			return { fill: THREE_QUARTERS };
		case 'established':
			return { fill: FULL };
		case 'ruledOutByEvidence':
		case 'ruledOutByCalculation':
			return { stroke: 'M-4.5 4.5 4.5-4.5' };
		case 'notApplicable':
			return { stroke: 'M-3.5 0H3.5' };
		case 'undetermined':
			return { stroke: 'M-2.2-1.6A2.3 2.3 0 1 1 .6.6Q0 1 0 2M0 3.4V4.4' };
	}
}
