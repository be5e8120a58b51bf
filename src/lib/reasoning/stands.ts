/** How things stand while one number is moved, and what the moves come to together. */
import type { Assumption } from './assumptions';
import { decibans } from './weigh';

/** How things would stand. */
export interface Stand {
	leader: string;
	leaderAt: number;
	/** Causes that are settled now (above 90 % or below 10 %) and would not be. */
	unsettled: string[];
	/** Sampled only: the standard error of `leaderAt`, and a cause so close that the sample can't say which leads. */
	error?: number;
	close?: string;
}

/** A number moved to another value. */
export interface Moved extends Stand {
	value: number;
	/** Of a starting weight: where its own event would stand. */
	own?: number;
	ownError?: number;
}

export interface Swept extends Assumption {
	/** A starting weight with ten times lower and higher odds; any other probability one step of the scale of words. */
	lower: Moved | null;
	higher: Moved | null;
	/** The least change of this number alone that lets another cause lead; null where none does. */
	overturns: Overturn | null;
	/**
	 * Sampled only: the values between which the sample tells who leads, and how many of `lower` and `higher` it can't
	 * tell and leaves null, as too few of its states would count.
	 */
	told?: [number, number];
	untold?: number;
}

export interface Overturn {
	to: number;
	/** Standard error of `to`, where it was sampled. */
	error?: number;
	/** The cause that would lead from there on. */
	leader: string;
	/** Size of the change: ten times the logarithm of the factor on the number's odds, of a density on itself. */
	decibans: number;
}

/** From a sample what lies within two standard errors is neither settled nor leading. */
export interface Robustness {
	leader: string;
	leaderAt: number;
	/** As in `Stand`. */
	error?: number;
	close?: string;
	/** Causes above 90 % or below 10 %. */
	settled: string[];
	/** Whether the same cause leads, and which causes stay settled, in every sweep of an assumption. */
	survives: { leader: boolean; settled: string[] };
	/** Those that overturn the leader with the least change first. */
	assumptions: Swept[];
	/** Each piece of evidence left out. */
	evidence: (Stand & { id: string; kind: 'finding' | 'likelihood' })[];
}

/** The least starting point for a number that stands at 0, and one minus it for 1: one cannot be a factor away from 0. */
export const LEAST = 0.001;

/** What the sweeps come to together. */
export function summary(
	now: Pick<Robustness, 'leader' | 'leaderAt' | 'settled' | 'error' | 'close'>,
	assumptions: readonly Swept[]
): Omit<Robustness, 'evidence'> {
	const size = ({ overturns }: Swept) => overturns?.decibans ?? Infinity;
	const moved = assumptions.flatMap(({ lower, higher }) => [lower, higher]).filter((stand) => stand !== null);
	const lost = new Set(moved.flatMap(({ unsettled }) => unsettled));
	return {
		...now,
		survives: {
			leader: [now, ...moved].every(({ leader, close }) => leader === now.leader && close === undefined),
			settled: now.settled.filter((id) => !lost.has(id))
		},
		assumptions: assumptions.toSorted((a, b) => size(a) - size(b))
	};
}

/** Decibans from one value to another; not a number where there is none such. */
export function change(kind: Assumption['kind'], from: number, to: number): number {
	if (kind === 'density') return to > 0 && from > 0 ? 10 * Math.log10(to / from) : NaN;
	if (!(to > 0 && to < 1)) return NaN;
	const start = from === 0 ? LEAST : from === 1 ? 1 - LEAST : from;
	return decibans(to, start);
}
