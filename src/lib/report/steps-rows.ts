import type { Investigation } from '$lib/investigation/case';
import type { Steps } from '$lib/reasoning';

/** One line of the way from the starting weight to where an event stands. */
export interface StepRow {
	/** The finding or calculation that made it; '' for the start and for what is given. */
	id: string;
	label: string;
	note: string;
	/** Where it stands after it: the probability, and tenths of a deciban of its odds; infinite where it is certain. */
	stands: number;
	level: number;
	/** Tenths of a deciban; null for the start. */
	step: number | null;
	/** What leaving it out alone would take away, tenths of a deciban; null where that is not known. */
	alone: number | null;
	/** Standard errors of the probability and of the step, tenths of a deciban, where they were sampled. */
	error?: { stands: number; step: number };
}

/** So near to certain that the rest is rounding. */
const CERTAIN = 1200;

/** Ten times the odds in decibans, rounded: differences of these add up to the last digit. */
export function level(p: number): number {
	const tenths = Math.round(100 * (Math.log10(p) - Math.log10(1 - p)));
	return Math.abs(tenths) < CERTAIN ? tenths + 0 : Math.sign(tenths) * Infinity;
}

/**
 * The steps as they are printed. Each is the difference of two rounded standings, so that what is printed adds up.
 * @param alone  decibans by which leaving a piece out alone changes the event
 */
export function stepRows(
	file: Investigation,
	{ prior, priorError, steps }: Steps,
	alone: ReadonlyMap<string, number>
): StepRow[] {
	const rows: StepRow[] = [
		{
			id: '',
			label: 'Starting weight',
			note: 'before anything is known',
			...standing(prior),
			step: null,
			alone: null,
			...(priorError === undefined ? {} : { error: { stands: priorError, step: 0 } })
		}
	];
	for (const { id, stands, together, state, error } of steps) {
		const before = rows.at(-1)!.level;
		const now = standing(stands);
		const left = id === null ? undefined : alone.get(id);
		rows.push({
			id: id ?? '',
			...named(file, id, state, together.length),
			...now,
			step: now.level === before ? 0 : now.level - before,
			alone: left === undefined ? null : Math.round(10 * left),
			...(error ? { error: { stands: error.stands, step: 10 * error.decibans } } : {})
		});
	}
	return rows;
}

const standing = (stands: number) => ({ stands, level: level(stands) });

function named(file: Investigation, id: string | null, state: string | undefined, more: number) {
	if (id === null) return { label: 'The top event happened', note: 'given' };
	const finding = file.findings[id];
	if (!finding) {
		const run = file.calculations[id];
		return { label: run?.title ?? '', note: `calculation K${run?.number ?? ''}` };
	}
	const also = more === 0 ? '' : `, one observation with ${more} more`;
	return {
		label: finding.statement,
		note: `F${finding.number}, ${state === 'absent' ? 'absent' : 'present'}${also}`
	};
}

/** Tenths of a deciban as printed: +3.1, −12.0, 0.0, +∞. */
export function inTenths(tenths: number): string {
	const sign = tenths > 0 ? '+' : tenths < 0 ? '−' : '';
	return `${sign}${Number.isFinite(tenths) ? (Math.abs(tenths) / 10).toFixed(1) : '∞'}`;
}

/** Its standard error as printed: ' ± 0.3'; nothing where it was not sampled. */
export const stepError = ({ step, error }: StepRow): string =>
	step === null || !error ? '' : ` ± ${(Math.ceil(error.step) / 10).toFixed(1)}`;

/** Where the last known size of a step differs from its size here: it depends on the order. Sampled sizes differ anyway. */
export const dependsOnOrder = ({ step, alone, error }: StepRow): boolean =>
	step !== null && alone !== null && !error && Math.abs(step - alone) > 1;
