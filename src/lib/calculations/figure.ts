export interface Axis {
	label: string;
	/** Unit in which the numbers of this axis stand; '1' for none. */
	unit: string;
	min?: number;
	max?: number;
}

export type Point = readonly [number, number];

/** What is drawn, lowest first. Every layer carries its label, so no legend is needed. */
export type Layer =
	| { kind: 'band'; label: string; x: number[]; low: number[]; high: number[] }
	| { kind: 'line'; label: string; points: Point[]; dashed?: boolean }
	/**
	 * Closed rings; hatching differs from region to region. Another level of a region that bears the name already is
	 * drawn as a thin line without words.
	 */
	| {
			kind: 'region';
			label: string;
			polygons: Point[][];
			hatch: number;
			strong?: boolean;
			only?: 'dashed' | 'dotted';
	  }
	| { kind: 'point'; label: string; x: number; y: number; radius?: number }
	/** A value across the whole figure, with the half width of its uncertainty. */
	| { kind: 'rule'; label: string; at: number; axis: 'x' | 'y'; halfWidth?: number }
	/**
	 * Links of a load path, one below the other, each with its value on the x axis, the interval around it and a note
	 * beneath its name; the least is the weakest. A figure holds one chain and rules of the x axis beside it.
	 */
	| { kind: 'chain'; label: string; links: Omit<Row, 'before'>[] }
	/**
	 * Things side by side, one below the other: where each stands on the x axis, the interval around it, where it stood
	 * before, and a note beneath its name. Held by a figure instead of a chain.
	 */
	| { kind: 'rows'; label: string; rows: Row[] };

export interface Row {
	label: string;
	/** Named without a place on the axis: its value is not known. */
	unknown?: true;
	note?: string;
	value: number;
	low?: number;
	high?: number;
	before?: number;
}

/** A figure as plain data, in display units; one renderer draws it, one writer makes its table. */
export interface Figure {
	/** The answer at a glance, as a sentence. */
	title: string;
	x: Axis;
	y: Axis;
	layers: Layer[];
	/** A plan: one metre is as long in both directions, north up. */
	equalScale?: boolean;
	/** A second plot, drawn under the first along the same x axis. */
	below?: Figure;
}
