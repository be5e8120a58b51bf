import { HABIT, type Stated } from '../calculation';

/** Knacke, NWC TP 6575, tables 5-1, 5-2 and 5-6, all from memory: what its type says of a canopy. */
interface Canopy {
	id: string;
	label: string;
	/** On the nominal area π Do²/4. */
	drag: readonly [number, number];
	/** Opening force coefficient at infinite mass. */
	overshoot: number;
	/** Filling distance in nominal diameters, unreefed; undefined where no value is known. */
	fill?: number;
	/** Exponent with which the area grows. */
	growth: number;
}

const CANOPIES: readonly Canopy[] = [
	{ id: 'flat-circular', label: 'Flat circular', drag: [0.75, 0.8], overshoot: 1.7, fill: 8, growth: 2 },
	{ id: 'conical', label: 'Conical', drag: [0.75, 0.9], overshoot: 1.8, growth: 2 },
	{ id: 'extended-skirt', label: 'Extended skirt', drag: [0.75, 0.9], overshoot: 1.4, fill: 11, growth: 2 },
	{ id: 'hemispherical', label: 'Hemispherical', drag: [0.62, 0.77], overshoot: 1.6, growth: 2 },
	{ id: 'annular', label: 'Annular', drag: [0.85, 0.95], overshoot: 1.4, growth: 2 },
	{ id: 'cross', label: 'Cross', drag: [0.6, 0.85], overshoot: 1.15, fill: 11.7, growth: 1 },
	{ id: 'ribbon', label: 'Ribbon', drag: [0.45, 0.55], overshoot: 1.05, fill: 14, growth: 1 },
	{ id: 'ringslot', label: 'Ringslot', drag: [0.56, 0.65], overshoot: 1.05, fill: 14, growth: 1 },
	{ id: 'ringsail', label: 'Ringsail', drag: [0.75, 0.9], overshoot: 1.1, fill: 7, growth: 2 },
	{ id: 'disk-gap-band', label: 'Disk-gap-band', drag: [0.52, 0.58], overshoot: 1.3, growth: 2 },
	{
		id: 'guide-surface',
		label: 'Guide surface, ribless',
		drag: [0.3, 0.34],
		overshoot: 1.4,
		fill: 5,
		growth: 2
	}
];

const KNACKE = 'Knacke, NWC TP 6575, ch. 5, from memory';
const texts = (text: (c: Canopy) => string, origin: (c: Canopy) => string): Record<string, Stated> =>
	Object.fromEntries(
		CANOPIES.map((c) => [c.id, { text: text(c), origin: `${c.label.toLowerCase()}; ${origin(c)}` }])
	);
const round = (x: number) => Number(x.toPrecision(2));

export const CANOPY_TYPES = CANOPIES.map(({ id, label }) => ({ id, label }));
export const DRAG = texts(
	({ drag: [low, high] }) => `${low} to ${high}`,
	() => KNACKE
);
export const OVERSHOOT = texts(
	({ overshoot: x }) => `${x} ± ${round(Math.max(0.02, 0.1 * (x - 0.5)))}`,
	() => `${KNACKE}; spread: ${HABIT}`
);
export const FILL = texts(
	({ fill = 8 }) => `${fill} ± ${round(0.3 * fill)}`,
	({ fill }) => (fill ? `${KNACKE}; it scatters by 30 %` : 'no value known, that of a flat circular canopy')
);
export const GROWTH = texts(
	({ growth }) => `${growth} ± ${0.25 * growth}`,
	() => KNACKE
);
