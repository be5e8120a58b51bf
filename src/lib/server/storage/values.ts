import type { Change, JsonObject, Records } from './types';

const MAX_DEPTH = 64;

/**
 * Why a value would not come back from JSON as it went in, naming the place; null if it would.
 * A property that is `undefined` counts as absent.
 */
export function valueProblem(value: unknown, at = 'value', depth = 0): string | null {
	if (value === null || typeof value === 'string' || typeof value === 'boolean') return null;
	if (typeof value === 'number') {
		if (!Number.isFinite(value)) return `${at} is not a finite number (${value})`;
		return Object.is(value, -0) ? `${at} is minus zero` : null;
	}
	if (typeof value !== 'object') return `${at} is of type ${typeof value}, which cannot be stored`;
	if (depth >= MAX_DEPTH) return `${at} is nested more than ${MAX_DEPTH} levels deep`;
	if (Array.isArray(value)) {
		for (let i = 0; i < value.length; i++) {
			const problem = valueProblem(value[i], `${at}[${i}]`, depth + 1);
			if (problem) return problem;
		}
		return null;
	}
	const prototype: unknown = Object.getPrototypeOf(value);
	if (prototype !== Object.prototype && prototype !== null) return `${at} is not a plain record`;
	for (const [key, inner] of Object.entries(value)) {
		if (inner === undefined) continue;
		const problem = valueProblem(inner, `${at}.${key}`, depth + 1);
		if (problem) return problem;
	}
	return null;
}

export function deepFreeze<T>(value: T): T {
	if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
		Object.freeze(value);
		for (const inner of Object.values(value)) deepFreeze(inner);
	}
	return value;
}

/** Equal as JSON, whatever the order of keys. */
export function sameValue(a: unknown, b: unknown): boolean {
	if (a === b) return true;
	if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
	if (Array.isArray(a) || Array.isArray(b))
		return (
			Array.isArray(a) && Array.isArray(b) && a.length === b.length && a.every((x, i) => sameValue(x, b[i]))
		);
	const left = Object.entries(a).filter(([, x]) => x !== undefined);
	const right = new Map(Object.entries(b).filter(([, x]) => x !== undefined));
	return (
		left.length === right.size && left.every(([key, x]) => right.has(key) && sameValue(x, right.get(key)))
	);
}

/** The mutable inside of a state. Its dictionaries have no prototype, so `__proto__` is a key like any other. */
export type MutableRecords = Record<string, Record<string, JsonObject>>;

export const dictionary = <T>(): Record<string, T> => Object.create(null) as Record<string, T>;

export const recordOf = (state: Records, collection: string, id: string): JsonObject | null =>
	(Object.hasOwn(state, collection) && Object.hasOwn(state[collection]!, id) && state[collection]![id]) ||
	null;

/** Puts one record in place, or takes it away; an empty collection is no collection. */
export function setRecord(state: MutableRecords, collection: string, id: string, value: JsonObject | null) {
	if (value) {
		(state[collection] ??= dictionary())[id] = value;
	} else if (state[collection]) {
		delete state[collection][id];
		for (const _ in state[collection]) return;
		delete state[collection];
	}
}

/** The state that lines make, oldest first. A baseline line starts anew. */
export function replay(
	state: MutableRecords,
	lines: Iterable<{ changes: readonly Change[]; baseline?: true }>
): MutableRecords {
	for (const line of lines) {
		if (line.baseline) for (const collection of Object.keys(state)) delete state[collection];
		for (const { collection, id, after } of line.changes) setRecord(state, collection, id, after);
	}
	return state;
}

/** Parsed JSON has ordinary prototypes at the two levels that grow; give them dictionaries. */
export function toDictionaries(parsed: Records): MutableRecords {
	const state = dictionary<Record<string, JsonObject>>();
	for (const [collection, records] of Object.entries(parsed)) {
		state[collection] = Object.assign(dictionary<JsonObject>(), records);
	}
	return state;
}

/** A whole state as the changes that would make it from nothing. */
export const wholeAsChanges = (state: Records): Change[] =>
	Object.entries(state).flatMap(([collection, records]) =>
		Object.entries(records).map(([id, after]) => ({ collection, id, before: null, after }))
	);
