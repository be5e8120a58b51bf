import type { Dimension } from '$lib/quantity/dimensions';
import type { Random } from '$lib/probability/generator';
import type { Figure } from './figure';

/** Says of a value that everybody in the trade takes it and nobody has written down why. */
export const HABIT = 'common practice, no source';

export interface Source {
	text: string;
	/** How the value was checked, in the words that stand beside it everywhere. */
	basis: 'seen' | 'from memory' | 'hand-worked' | 'common practice, no source';
}

/** What a value of the case can fill; the case says which of its values plays which role. */
export type Role =
	| 'pieces'
	| 'name of a piece'
	| 'mass of a piece'
	| 'drag area of a piece'
	| 'ballistic coefficient of a piece'
	| 'wind table'
	| 'error of the wind speed'
	| 'error of the wind direction'
	| 'release height'
	| 'apogee height'
	| 'main deployment height'
	| 'site elevation'
	| 'site temperature'
	| 'air temperatures by height'
	| 'site pressure'
	| 'descent rate under drogue'
	| 'descent rate under main'
	| 'mass of the vehicle'
	| 'offset of a piece from another'
	| 'offset from the pad'
	| 'descent time'
	| 'burn time'
	| 'peak load'
	| 'least peak load'
	| 'greatest peak load'
	| 'readings'
	| 'what is sought'
	| 'searches that found nothing'
	| 'segments of ground';

/** A text as a person would type it, and where it comes from. */
export interface Stated {
	text: string;
	origin: string;
}

/** An output of another calculation, by the ids of both. */
export interface FromRun {
	calculation: string;
	output: string;
}

interface FieldBase {
	id: string;
	label: string;
	help?: string;
	role?: Role;
	/** Asked only where the choice of this id, which stands before it in the same row, is one of these; '' where it is left blank. */
	when?: { choice: string; is: readonly string[] };
	/** Of no effect while the field of this id, which stands before it, is blank: then nothing is said to be assumed of it. */
	idleWithout?: string;
}

export interface QuantityField extends FieldBase {
	kind: 'quantity';
	dimension: Dimension;
	/** Offered and assumed where none is typed. */
	unit: string;
	required?: true;
	/** Taken where the field is left blank. */
	default?: Stated;
	/** Taken instead where the choice of this id, which stands before it, is one of these. */
	defaultOf?: { choice: string; texts: Readonly<Record<string, Stated>> };
	/** Taken instead where the field of this id, which stands before it, is filled in. */
	defaultWith?: { field: string; stated: Stated };
	/** Spread taken where a value comes without one: '8 %' or '3 m', one standard deviation. */
	spread?: Stated;
	/** Bounds of the nominal value and of every sample, SI. `above` excludes the bound itself. */
	range?: { min?: number; above?: number; max?: number };
	/**
	 * Choice input whose option is the dimension; `dimension` and `unit` then hold for its default. A `difference` is a
	 * temperature difference where a temperature is chosen.
	 */
	dimensionOf?: string;
	difference?: true;
	/** Outputs of kept runs of other calculations that can stand here. */
	fromRuns?: readonly FromRun[];
	/** Typical values to pick from. */
	suggestions?: readonly (Stated & { label: string })[];
}
export interface ChoiceField extends FieldBase {
	kind: 'choice';
	options: readonly { id: string; label: string }[];
	default: Stated;
}
export interface TextField extends FieldBase {
	kind: 'text';
	/** It names a row of this list of the inputs. */
	rowOf?: string;
}
export type LeafField = QuantityField | ChoiceField | TextField;
export interface ListField extends FieldBase {
	kind: 'list';
	/** One row, as a sentence needs it: 'piece'. */
	item: string;
	fields: readonly LeafField[];
	min: number;
	max: number;
	/** Field by whose value the rows must rise. */
	ascending?: string;
}
export type Field = LeafField | ListField;

/** What a model receives for these fields: SI numbers, the id of a choice, rows of a list. */
export type ValuesOf<F extends readonly Field[]> = {
	[K in F[number] as K['id']]: K extends ListField
		? ValuesOf<K['fields']>[]
		: K extends QuantityField
			? K extends ({ required: true } | { default: Stated }) & { when?: undefined }
				? number
				: number | undefined
			: K extends ChoiceField & { when?: undefined }
				? string
				: string | undefined;
};

export interface Output {
	id: string;
	label: string;
	dimension: Dimension;
	/** Shown in this unit; computed in SI. */
	unit: string;
	/** As for a field. */
	dimensionOf?: string;
	/** Whether people read it as a main answer: ranked sensitivities are given for these. */
	main?: true;
}

/** One number, one for each named member (a piece, a scenario), or nothing where inputs do not allow it. */
export type ModelOutput = Record<string, number | Record<string, number> | undefined>;

/**
 * What was observed: one number (`beyond`: it was at least, or at most, that much, as of a saturated instrument), an
 * offset (east, north), the length of an offset whose direction is unknown, or which of several things happened.
 */
export type Observation = {
	/** Which member (piece) it is about, where that matters to the prediction. */
	member?: number;
} & (
	| {
			kind: 'scalar';
			label: string;
			dimension: Dimension;
			unit: string;
			observed: number;
			sd: number;
			beyond?: 'above' | 'below';
	  }
	| { kind: 'offset'; label: string; east: number; north: number; eastSd: number; northSd: number }
	| { kind: 'distance'; label: string; observed: number; sd: number }
	/**
	 * `label` says what happened, of `among` that could: 'the joint would not part'; `happened` may number it among them,
	 * as the calculation counts. Predicted is its probability.
	 */
	| { kind: 'outcome'; label: string; among: number; happened?: number }
);

export interface ScenarioKind<X> {
	id: string;
	label: string;
	help: string;
	/** Free quantities of the scenario, such as the heights between which it parted. */
	inputs: readonly QuantityField[];
	/** The free quantity's distribution in words, printed with every result. */
	distribution?: string;
	/** 'parted between 400 m and 600 m': the label with the parameters filled in. */
	describe?(
		parameters: Record<string, number | undefined>,
		x: X,
		observations: readonly Observation[]
	): string;
	/** Why these parameters are impossible, if they are. */
	check?(
		parameters: Record<string, number | undefined>,
		x: X,
		observations: readonly Observation[]
	): string | undefined;
	/**
	 * One prediction per observation, in its order: a number for a scalar, [east, north] for offsets and
	 * distances, the probability of what happened for an outcome.
	 * All chance comes from `random`.
	 */
	predict?(
		x: X,
		parameters: Record<string, number | undefined>,
		observations: readonly Observation[],
		random: Random
	): (number | readonly [number, number])[];
	/**
	 * Instead of predictions, where a closed form is known: the density of all that was observed, and the sentence that
	 * says how it agrees. `others` are the ids of the whole list that is compared.
	 */
	exact?(
		x: X,
		observations: readonly Observation[],
		others: readonly string[]
	): { density: number; words: string };
}

/** How the calculation speaks as evidence. The last scenario kind is 'none-of-these', with its own broad density. */
export interface Evidence<X> {
	/** Nothing can be computed before something is observed. */
	required?: true;
	observed: readonly Field[];
	/**
	 * Nothing observed gives an empty list; a contradiction gives its reason.
	 * @param sd  standard deviation of an observed field by its path ('found.1.distance'), SI
	 */
	observations(values: Record<string, unknown>, x: X, sd: (path: string) => number): Observation[] | string;
	scenarios: readonly ScenarioKind<X>[];
	/** Compared when nobody chose. */
	defaultScenarios?(
		x: X,
		observations: readonly Observation[]
	): { id: string; [parameter: string]: unknown }[];
	/** What happens each time, for sentences: 'falls', 'descents'. */
	trials: string;
}

/** What a calculation may add once the samples are there: a posterior, statements, series for the figure. */
export interface Addition {
	outputs?: readonly AddedOutput[];
	statements?: string[];
	warnings?: string[];
	/** Series that the figure draws and that the stored result keeps; plain data. */
	series?: unknown;
}

/** One output, or one member's: from samples, or as its three quantiles where these are known. */
export type AddedOutput = {
	id: string;
	of?: string;
	nominal?: number;
	/** For the first so many samples, infinite where it does not come to it: what it hangs on is ranked by these. */
	bySample?: ArrayLike<number>;
} & (
	| { samples: Float64Array; weights?: Float64Array }
	| { quantiles: readonly [low90: number, median: number, high90: number] }
);

export interface AdditionContext<X> {
	nominal: X;
	samples: readonly X[];
	observations: readonly Observation[];
	random: (stream: string) => Random;
}

export interface FigureContext<X> {
	nominal: X;
	observations: readonly Observation[];
	outputs: Record<string, OutputSummary>;
	series: unknown;
}

export interface OutputSummary {
	id: string;
	label: string;
	of?: string;
	dimension: Dimension;
	unit: string;
	/** In SI: with every input at its stated value; absent where only a distribution answers. */
	nominal?: number;
	median: number;
	low90: number;
	high90: number;
}

export interface Calculation<F extends readonly Field[] = readonly Field[], X = ValuesOf<F>> {
	id: string;
	title: string;
	/** The investigator's question that it answers. */
	question: string;
	/** Raised whenever any result may change. */
	version: number;
	inputs: F;
	outputs: readonly Output[];
	sources: readonly Source[];
	/** Page under docs/, such as 'methods/fall-separation.md'. */
	docs: string;
	/** Shown where a person is about to act on it. */
	cautions?: readonly string[];
	/** Why these inputs are impossible together, if they are; with the place of the one to be mended, where there is one. */
	check?(x: X): string | { path: string; message: string } | undefined;
	/**
	 * Pure: SI in, SI out; the only chance is `random`. In the nominal run `random` gives 0.5 and `precise` is true,
	 * so that a slower and exact method may be used once.
	 */
	model(x: X, random: Random, precise: boolean): ModelOutput;
	/** Where not to believe it, in whole sentences. */
	limits?(x: X, nominal: ModelOutput): string[];
	evidence?: Evidence<X>;
	addition?: (context: AdditionContext<X>) => Generator<void, Addition>;
	figure?: (context: FigureContext<X>) => Figure | undefined;
}

/** Fixes the types of a calculation: `model` sees exactly the inputs that the description names. */
export function defineCalculation<const F extends readonly Field[]>(c: Calculation<F>): AnyCalculation {
	return c;
}

/* eslint-disable @typescript-eslint/no-explicit-any -- the registry holds calculations of different inputs */
export type AnyCalculation = Calculation<readonly Field[], any>;
