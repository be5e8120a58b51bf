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

/**
 * Runs that rest on values that have changed, by themselves or by way of another run from which they take one, with why
 * in words; each after those that it takes from, which is the order in which to compute them again.
 */
export function staleRuns(file: Investigation): ReadonlyMap<string, readonly string[]> {
	const stale = new Map<string, string[]>();
	const looked = new Set<string>();
	function look(id: string) {
		const run = file.calculations[id];
		if (!run || looked.has(id)) return;
		looked.add(id);
		const from = [...new Set(run.sources.flatMap((s) => (s.collection === 'calculations' ? [s.id] : [])))];
		from.forEach(look);
		const changed = changedSources(file, run.sources);
		const own = changed.map(({ words }) => words);
		// Where its value of a run has changed already, that says it.
		const passedOn = from.filter((one) => stale.has(one) && !changed.some(({ source }) => source.id === one));
		const words = [
			...own,
			...passedOn.map(
				(one) =>
					`K${file.calculations[one]!.number}, from which it takes a value, rests on values that have changed since.`
			)
		];
		if (words.length > 0) stale.set(id, words);
	}
	for (const [id] of Object.entries(file.calculations).sort(([, a], [, b]) => a.number - b.number)) look(id);
	return stale;
}

/** What to compute so that these runs are up to date, in order: they, each after the stale runs that it rests on. */
export function chainOf(file: Investigation, wanted: readonly string[]): string[] {
	const stale = staleRuns(file);
	const chain = new Set<string>();
	const met = new Set<string>();
	function need(id: string) {
		if (met.has(id)) return;
		met.add(id);
		for (const { collection, id: from } of file.calculations[id]?.sources ?? [])
			if (collection === 'calculations') need(from);
		if (stale.has(id) || wanted.includes(id)) chain.add(id);
	}
	wanted.forEach(need);
	return [...chain];
}

/** Runs that weigh on the tree of an anomaly by values that have changed since, in order. */
export function weighByOldValues(
	file: Investigation,
	anomaly: string
): [id: string, run: StoredCalculation][] {
	const stale = staleRuns(file);
	return Object.entries(file.calculations)
		.filter(([id, run]) => run.anomaly === anomaly && run.likelihood?.use && stale.has(id))
		.sort(([, a], [, b]) => a.number - b.number);
}

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
