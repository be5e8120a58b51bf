import { TYPICAL_PIECES, typicalBallisticKgM2 } from '$lib/physics/drag';
import { HABIT, type Field, type ValuesOf } from '../calculation';
import { WIND_AND_AIR } from '../through-wind';

/** Ranges to pick from where a piece's drag was never measured. */
const TYPICAL = TYPICAL_PIECES.map((piece) => {
	const [low, high] = typicalBallisticKgM2(piece).map((b) => Number(b.toPrecision(2)));
	return { label: piece.name, text: `${low} to ${high} kg/m²`, origin: piece.basis };
});

export const INPUTS = [
	{
		kind: 'list',
		id: 'pieces',
		label: 'Pieces',
		item: 'piece',
		role: 'pieces',
		min: 2,
		max: 12,
		help: 'The first is the reference: the places of the others are told from it.',
		fields: [
			{ kind: 'text', id: 'name', label: 'name', role: 'name of a piece' },
			{
				kind: 'quantity',
				id: 'ballisticCoefficient',
				label: 'ballistic coefficient m/(Cd·A)',
				dimension: 'ballistic coefficient',
				unit: 'kg/m²',
				role: 'ballistic coefficient of a piece',
				range: { above: 0, max: 5000 },
				suggestions: TYPICAL,
				spread: { text: '20 %', origin: `attitude and drag of a tumbling piece; ${HABIT}` },
				help: 'Or give mass and drag area. A tube falls 3.5 times as fast end-on as broadside: choose the range that fits.'
			},
			{
				kind: 'quantity',
				id: 'mass',
				label: 'mass',
				dimension: 'mass',
				unit: 'kg',
				role: 'mass of a piece',
				range: { above: 0, max: 10_000 }
			},
			{
				kind: 'quantity',
				id: 'dragArea',
				label: 'drag area Cd·A',
				dimension: 'area',
				unit: 'm²',
				role: 'drag area of a piece',
				range: { above: 0, max: 1000 },
				spread: { text: '20 %', origin: `attitude and drag of a tumbling piece; ${HABIT}` }
			}
		]
	},
	{
		kind: 'quantity',
		id: 'releaseHeight',
		label: 'Height at which they parted',
		dimension: 'length',
		unit: 'm',
		role: 'release height',
		range: { min: 0, max: 30_000 },
		help: 'Above the pad. Blank if it is what you want to know.'
	},
	{
		kind: 'quantity',
		id: 'highestParting',
		label: 'Greatest height at which they may have parted',
		dimension: 'length',
		unit: 'm',
		role: 'apogee height',
		range: { above: 0, max: 30_000 },
		help: 'Above the pad: where it was last seen whole on its way down, or the apogee.'
	},
	...WIND_AND_AIR,
	{
		kind: 'quantity',
		id: 'groundSpeed',
		label: 'Horizontal speed over the ground at parting',
		dimension: 'speed',
		unit: 'm/s',
		range: { min: 0, max: 1000 },
		help: 'Blank: it drifted with the wind at that height.'
	},
	{
		kind: 'quantity',
		id: 'heading',
		label: 'Direction of that speed, toward',
		dimension: 'angle',
		unit: '°',
		range: { min: -2 * Math.PI, max: 4 * Math.PI },
		help: 'Blank: any direction is equally probable, and the nominal result takes no speed.'
	},
	{
		kind: 'quantity',
		id: 'driftScatter',
		label: 'Scatter about the wind’s velocity, each axis',
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '3 m/s', origin: HABIT },
		range: { min: 0, max: 100 },
		help: 'Used only where no horizontal speed is given.'
	},
	{
		kind: 'quantity',
		id: 'climbRate',
		label: 'Vertical speed at parting, upward',
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '-10 ± 10 m/s', origin: `on the way down, rate not known; ${HABIT}` },
		range: { min: -700, max: 700 }
	},
	{
		kind: 'quantity',
		id: 'partingSpeed',
		label: 'Speed with which they were driven apart',
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '0 to 3 m/s', origin: `direction not known; ${HABIT}` },
		range: { min: 0, max: 100 }
	},
	{
		kind: 'quantity',
		id: 'impactScatter',
		label: 'Scatter of pieces that part at impact, each axis',
		dimension: 'length',
		unit: 'm',
		default: { text: '3 m', origin: `bouncing and sliding on open ground; ${HABIT}` },
		range: { above: 0, max: 500 },
		help: 'One standard deviation. Harder ground or a faster impact throws farther.'
	}
] as const satisfies readonly Field[];

export type Inputs = ValuesOf<typeof INPUTS>;

export const OBSERVED = [
	{
		kind: 'list',
		id: 'found',
		label: 'Where the other pieces lay, from the first',
		item: 'place',
		role: 'offset of a piece from another',
		min: 0,
		max: 11,
		help: 'East and north, or a distance with its bearing, or a distance alone.',
		fields: [
			{ kind: 'text', id: 'piece', label: 'piece', help: 'Its name; blank: the next one in the list.' },
			offsetField('east', 'east of the first piece'),
			offsetField('north', 'north of the first piece'),
			{ ...offsetField('distance', 'distance from the first piece'), range: { min: 0, max: 100_000 } },
			{
				kind: 'quantity',
				id: 'bearing',
				label: 'bearing from the first piece, true',
				dimension: 'angle',
				unit: '°',
				range: { min: -2 * Math.PI, max: 4 * Math.PI },
				spread: { text: '5 °', origin: `hand compass; ${HABIT}` }
			},
			{
				kind: 'quantity',
				id: 'circle',
				label: 'radius of the position circle',
				dimension: 'length',
				unit: 'm',
				range: { above: 0, max: 10_000 },
				help: 'Instead of a plus-minus for east and north.'
			},
			{
				kind: 'choice',
				id: 'circleLevel',
				label: 'how much lies within that circle',
				options: [
					{ id: 'not said', label: 'not said' },
					{ id: '50', label: '50 % (CEP)' },
					{ id: '68', label: '68 %' },
					{ id: '95', label: '95 %' }
				],
				default: { text: 'not said', origin: 'a radius without its level means nothing' }
			}
		]
	}
] as const satisfies readonly Field[];

function offsetField<const Id extends string>(id: Id, label: string) {
	return {
		kind: 'quantity',
		id,
		label,
		dimension: 'length',
		unit: 'm',
		range: { min: -100_000, max: 100_000 },
		spread: {
			text: '4.6 m',
			origin: 'two phone fixes of 4.9 m (68 %) each; GPS.gov after van Diggelen and Enge 2015, from memory'
		}
	} as const;
}
export type Found = ValuesOf<typeof OBSERVED>['found'][number];
