import type { Investigation } from '../case';
import type { InputSource, StoredCalculation } from '../schema/calculation';
import { valueOf } from './case-values';

/** A source of a stored run whose value in the case is another one now. */
export interface ChangedSource {
	source: InputSource;
	/** 'The mass of E4 has changed since this was computed: it was 212 g and is 340 g now.' */
	words: string;
	/** It is no longer in the case, so there is nothing to follow. */
	gone: boolean;
}

/** Which sources of a run have changed since it was computed, by their values. */
export function changedSources(file: Investigation, sources: readonly InputSource[]): ChangedSource[] {
	return sources.flatMap((source): ChangedSource[] => {
		if (source.value === '') return [];
		const collection = source.collection as keyof Investigation;
		// The name of a piece is what it is called in the run; how it reads there does not move a number.
		if (source.value === 'title') return [];
		const now = valueOf(file, { collection, id: source.id, value: source.value });
		if (now?.text === source.text) return [];
		if (!now)
			return [
				{
					source,
					words: `What stood in "${source.input}" is no longer in the case: it was ${short(source.text)}.`,
					gone: true
				}
			];
		const both =
			source.text.length > 60 || source.text.includes(';')
				? ''
				: `: it was ${source.text} and is ${now.text} now`;
		return [
			{ source, words: `${capital(now.words)} has changed since this was computed${both}.`, gone: false }
		];
	});
}

/** Runs that weigh on the tree of an anomaly by values that have changed since, in order. */
export const weighByOldValues = (
	file: Investigation,
	anomaly: string
): [id: string, run: StoredCalculation][] =>
	Object.entries(file.calculations)
		.filter(
			([, run]) =>
				run.anomaly === anomaly && run.likelihood?.use && changedSources(file, run.sources).length > 0
		)
		.sort(([, a], [, b]) => a.number - b.number);

/** What a run would follow, in words that are others when the case is: '' where nothing changed; null where something is gone. */
export function toFollow(file: Investigation, run: StoredCalculation): string | null {
	const changed = changedSources(file, run.sources);
	return changed.some(({ gone }) => gone) ? null : changed.map(({ words }) => words).join('\n');
}

/** 'K1, K3 weigh here by values that have changed since.' */
export const oldValuesWords = (stale: readonly (readonly [string, { number: number }])[]): string =>
	`${stale.map(([, { number }]) => `K${number}`).join(', ')} ${stale.length === 1 ? 'weighs' : 'weigh'} here by values that have changed since.`;

const short = (text: string) => (text.length > 60 ? `${text.slice(0, 57)}…` : text);
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
