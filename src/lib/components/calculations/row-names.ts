import { getContext, setContext } from 'svelte';

/** Names of the rows of a list of the form, for fields that name one of them. */
type RowNames = (list: string) => readonly string[];
const KEY = Symbol('row names');
export const provideRowNames = (names: RowNames) => setContext(KEY, names);
export const useRowNames = (): RowNames => getContext<RowNames | undefined>(KEY) ?? (() => []);
