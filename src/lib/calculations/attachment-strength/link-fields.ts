import { THREADS } from '$lib/physics/thread';
import { HABIT, type LeafField } from '../calculation';

const MEMORY = 'from memory, unverified';

const kind = (...is: string[]) => ({ choice: 'kind', is });
const strength = { dimension: 'pressure', unit: 'MPa', range: { above: 0, max: 5e9 } } as const;
const length = { kind: 'quantity', dimension: 'length', unit: 'mm', range: { above: 0, max: 10 } } as const;

/** What a link of a load path is, and the numbers that its kind needs. */
export const LINK = [
	{ kind: 'text', id: 'name', label: 'name' },
	{
		kind: 'choice',
		id: 'kind',
		label: 'kind of link',
		options: [
			{ id: 'typed', label: 'Strength known or tested' },
			{ id: 'bolt', label: 'Eye bolt, U-bolt or screw in tension' },
			{ id: 'thread', label: 'Thread that could strip' },
			{ id: 'washer', label: 'Washer that could pull through' },
			{ id: 'plate', label: 'Round plate that could bend and break' },
			{ id: 'bond', label: 'Adhesive joint in shear' },
			{ id: 'printed', label: 'Printed part pulled across its layers' },
			{ id: 'line', label: 'Line or strap, knotted or sewn' }
		],
		default: { text: 'typed', origin: 'until another kind is chosen' }
	},
	{
		kind: 'quantity',
		id: 'strength',
		label: 'breaking strength',
		dimension: 'force',
		unit: 'N',
		required: true,
		range: { above: 0, max: 1e7 },
		spread: { text: '10 %', origin: HABIT },
		help: 'New and straight; of a line, as its maker states it.',
		when: kind('typed', 'line')
	},
	{
		kind: 'choice',
		id: 'thread',
		label: 'thread',
		options: Object.keys(THREADS).map((id) => ({ id, label: id })),
		default: { text: 'M6', origin: 'until another is chosen' },
		when: kind('bolt', 'thread')
	},
	{
		kind: 'quantity',
		id: 'tensileStrength',
		label: 'tensile strength of the screw',
		...strength,
		default: { text: '400 ± 30 MPa', origin: 'least of classes 4.6 and 4.8, ISO 898-1, from memory' },
		spread: { text: '8 %', origin: HABIT },
		suggestions: [
			{ label: 'steel, class 8.8', text: '800 ± 40 MPa', origin: 'ISO 898-1, from memory' },
			{ label: 'stainless A2-50', text: '500 ± 40 MPa', origin: MEMORY },
			{ label: 'nylon 6/6', text: '72 to 85 MPa', origin: 'hobby article of 2009, seen' }
		],
		when: kind('bolt', 'thread')
	},
	{
		...length,
		id: 'engagement',
		label: 'engaged length of thread',
		required: true,
		help: 'Full threads only: neither the chamfer nor the run-out of a tap.',
		when: kind('thread')
	},
	{
		kind: 'choice',
		id: 'female',
		label: 'what it is screwed into',
		options: [
			{ id: 'metal', label: 'Metal: nut, insert, tapped hole' },
			{ id: 'printed', label: 'Plastic or a print' },
			{ id: 'wood', label: 'Wood' }
		],
		default: { text: 'metal', origin: 'until another is chosen' },
		when: kind('thread')
	},
	{
		...length,
		id: 'washer',
		label: 'outer diameter of the washer',
		required: true,
		when: kind('washer')
	},
	{ ...length, id: 'hole', label: 'diameter of the hole', when: kind('washer') },
	{
		...length,
		id: 'radius',
		label: 'radius of the plate',
		required: true,
		help: 'To where it is held.',
		when: kind('plate')
	},
	{
		...length,
		id: 'loadRadius',
		label: 'radius of what presses on it',
		required: true,
		help: 'Half the washer.',
		when: kind('plate')
	},
	{
		...length,
		id: 'thickness',
		label: 'thickness',
		required: true,
		spread: { text: '3 %', origin: HABIT },
		when: kind('washer', 'plate')
	},
	{
		kind: 'choice',
		id: 'material',
		label: 'material',
		options: [
			{ id: 'wood', label: 'Wood or plywood' },
			{ id: 'printed', label: 'A print' },
			{ id: 'other', label: 'Metal, laminate, other' }
		],
		default: { text: 'wood', origin: 'most bulkheads' },
		when: kind('washer', 'plate')
	},
	{
		kind: 'quantity',
		id: 'shearStrength',
		label: 'shear strength of what it is in',
		...strength,
		required: true,
		spread: { text: '20 %', origin: HABIT },
		suggestions: [
			{
				label: 'aluminium 6061-T6',
				text: '207 ± 15 MPa',
				origin: 'typical; public data sheets, second hand'
			},
			{
				label: 'plywood, through the thickness',
				text: '5.5 to 7 MPa',
				origin: `Wood Handbook, ch. 12, ${MEMORY}`
			},
			{ label: 'plywood, plies rolling', text: '1.4 to 2.1 MPa', origin: `Wood Handbook, ch. 12, ${MEMORY}` },
			{ label: 'balsa along the grain, 160 kg/m³', text: '2.1 ± 0.4 MPa', origin: `Wood Handbook, ${MEMORY}` }
		],
		when: kind('thread', 'washer')
	},
	{
		kind: 'quantity',
		id: 'bearingStrength',
		label: 'crushing strength of the sheet',
		...strength,
		spread: { text: '20 %', origin: HABIT },
		help: 'Blank: only punching through is looked at. It needs the hole.',
		when: kind('washer')
	},
	{
		kind: 'quantity',
		id: 'bendingStrength',
		label: 'bending strength',
		...strength,
		required: true,
		spread: { text: '20 %', origin: HABIT },
		help: 'Of plywood, across the grain of its face.',
		suggestions: [
			{
				label: 'aluminium 6061-T6, yield',
				text: '240 to 276 MPa',
				origin: 'EN 1999-1-1 and data sheets, second hand'
			}
		],
		when: kind('plate')
	},
	{
		kind: 'quantity',
		id: 'modulus',
		label: 'modulus of elasticity',
		dimension: 'pressure',
		unit: 'GPa',
		range: { above: 0, max: 1e12 },
		spread: { text: '15 %', origin: HABIT },
		help: 'For the sag, which says whether the plate formula holds at all.',
		when: kind('plate')
	},
	{
		kind: 'quantity',
		id: 'poisson',
		label: 'Poisson’s ratio',
		dimension: 'ratio',
		unit: '1',
		default: { text: '0.3', origin: 'metals; plywood is lower; common practice, no source' },
		range: { min: 0, max: 0.5 },
		when: kind('plate')
	},
	{
		...length,
		id: 'width',
		label: 'width of the joint',
		required: true,
		help: 'Round a rim: its circumference.',
		when: kind('bond')
	},
	{
		...length,
		id: 'overlap',
		label: 'overlap, along the load',
		required: true,
		when: kind('bond')
	},
	{
		kind: 'quantity',
		id: 'lapStrength',
		label: 'lap-shear strength',
		...strength,
		required: true,
		spread: { text: '30 %', origin: HABIT },
		suggestions: [
			{ label: 'most epoxies', text: '6.9 to 17 MPa', origin: 'a formulator’s article, seen in part' },
			{ label: '5-minute epoxy', text: '7 to 14 MPa', origin: MEMORY },
			{ label: 'slow two-part epoxy', text: '10 to 25 MPa', origin: MEMORY },
			{ label: 'toughened epoxy', text: '25 to 35 MPa', origin: MEMORY },
			{ label: 'cyanoacrylate on steel', text: '10 to 20 MPa', origin: MEMORY },
			{
				label: 'structural acrylic on etched aluminium',
				text: '27.5 to 34.6 MPa',
				origin: 'Petrie, table 10.17, seen'
			},
			{ label: 'structural acrylic on ABS', text: '8.8 to 11.3 MPa', origin: 'Petrie, table 10.17, seen' },
			{ label: 'polyurethane', text: '5 to 15 MPa', origin: MEMORY },
			{ label: 'silicone', text: '1 to 3 MPa', origin: MEMORY },
			{ label: 'hot melt', text: '1 to 4 MPa', origin: MEMORY }
		],
		when: kind('bond')
	},
	{
		kind: 'quantity',
		id: 'area',
		label: 'area of the section between layers',
		dimension: 'area',
		unit: 'mm²',
		required: true,
		range: { above: 0, max: 1 },
		help: 'Solid plastic only: an infill of 20 % leaves a fifth.',
		when: kind('printed')
	},
	{
		kind: 'quantity',
		id: 'layerStrength',
		label: 'tensile strength across the layers',
		...strength,
		default: {
			text: '22.8 ± 4 MPa',
			origin: 'PLA; doi 10.1089/3dp.2020.0109, abstract; spread: common practice'
		},
		spread: { text: '20 %', origin: HABIT },
		help: 'Not the data sheet’s, which is along them: across them 0.3 to 0.8 of it holds.',
		when: kind('printed')
	},
	{
		kind: 'quantity',
		id: 'keeps',
		label: 'share that knots or stitches leave',
		dimension: 'ratio',
		unit: '1',
		default: { text: '0.5 ± 0.1', origin: `a knot; sewn ends 0.8; ${HABIT}` },
		range: { above: 0, max: 1 },
		when: kind('line')
	},
	{
		kind: 'choice',
		id: 'holdsAt',
		label: 'strength holds at',
		options: [
			{ id: 'room', label: 'room temperature' },
			{ id: 'here', label: 'this temperature: measured at that of the warmest joint' }
		],
		default: { text: 'room', origin: 'most data sheets' },
		when: kind('thread', 'washer', 'plate', 'bond', 'printed')
	},
	{
		kind: 'quantity',
		id: 'count',
		label: 'how many share the load',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1', origin: 'one; a U-bolt has two legs' },
		range: { min: 1, max: 40 },
		when: kind('bolt', 'thread', 'washer', 'line')
	}
] as const satisfies readonly LeafField[];
