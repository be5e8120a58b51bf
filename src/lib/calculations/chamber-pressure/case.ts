import { HABIT, type Field } from '../calculation';

const MEMORY = 'from memory';

/** The tube that holds the pressure. */
export const CASE = [
	{
		kind: 'quantity',
		id: 'caseInner',
		label: 'Inner diameter of the case',
		dimension: 'length',
		unit: 'mm',
		range: { above: 0, max: 2 },
		help: 'With wall and strength: stress and margins of the case.'
	},
	{
		kind: 'quantity',
		id: 'caseWall',
		label: 'Wall of the case',
		dimension: 'length',
		unit: 'mm',
		range: { above: 0, max: 0.2 },
		spread: { text: '5 %', origin: `tolerance of drawn tube; ${HABIT}` }
	},
	{
		kind: 'choice',
		id: 'caseMaterial',
		label: 'Its material, for the loss of strength with heat',
		options: [
			{ id: 'aluminium', label: 'aluminium alloy like 6061-T6' },
			{ id: 'steel', label: 'carbon steel' },
			{ id: 'other', label: 'other: the strength typed is that at its temperature' }
		],
		default: { text: 'other', origin: 'nothing is taken off the strength' }
	},
	{
		kind: 'quantity',
		id: 'caseProof',
		label: 'Proof (yield) strength, cold',
		dimension: 'pressure',
		unit: 'MPa',
		range: { above: 0, max: 5e9 },
		spread: { text: '5 %', origin: HABIT },
		suggestions: [
			{
				label: '6061-T6, typical',
				text: '276 MPa',
				origin: 'Aluminum Association, quoted on public data sheets'
			},
			{
				label: 'EN AW-6061 T6 extrusion, minimum',
				text: '240 MPa',
				origin: 'EN 1999-1-1 table 3.2b, public transcription'
			},
			{
				label: '6061-T6 beside a weld',
				text: '115 MPa',
				origin: 'EN 1999-1-1 table 3.2b, public transcription'
			},
			{ label: '1018 steel, cold drawn', text: '370 MPa', origin: `ASM Handbook vol. 1, ${MEMORY}` },
			{
				label: '1018 or 1020 steel, hot rolled',
				text: '205 to 220 MPa',
				origin: `Shigley, table A-20, ${MEMORY}`
			},
			{ label: '4130 steel, normalised', text: '435 MPa', origin: `ASM Handbook vol. 1, ${MEMORY}` }
		]
	},
	{
		kind: 'quantity',
		id: 'caseUltimate',
		label: 'Ultimate strength, cold',
		dimension: 'pressure',
		unit: 'MPa',
		range: { above: 0, max: 5e9 },
		spread: { text: '5 %', origin: HABIT },
		suggestions: [
			{
				label: '6061-T6, typical',
				text: '310 MPa',
				origin: 'Aluminum Association, quoted on public data sheets'
			},
			{
				label: 'EN AW-6061 T6 extrusion, minimum',
				text: '260 MPa',
				origin: 'EN 1999-1-1 table 3.2b, public transcription'
			},
			{
				label: '6061-T6 beside a weld',
				text: '175 MPa',
				origin: 'EN 1999-1-1 table 3.2b, public transcription'
			},
			{ label: '1018 steel, cold drawn', text: '440 MPa', origin: `ASM Handbook vol. 1, ${MEMORY}` },
			{ label: '4130 steel, normalised', text: '670 MPa', origin: `ASM Handbook vol. 1, ${MEMORY}` }
		]
	},
	{
		kind: 'quantity',
		id: 'caseTemperature',
		label: 'Temperature of its wall under pressure',
		dimension: 'temperature',
		unit: '°C',
		default: { text: '20 °C', origin: 'cold: the wall has not warmed yet' },
		range: { min: 173, max: 1473.15 },
		help: 'The mean through the wall, late in the burn. The calculation "wall temperature" gives it.'
	},
	{
		kind: 'quantity',
		id: 'concentration',
		label: 'Stress at holes, grooves, welds or pits over that of the plain tube',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1', origin: 'plain tube' },
		range: { min: 1, max: 10 },
		suggestions: [{ label: 'radial bolt holes, snap-ring groove', text: '2.5 to 3', origin: HABIT }]
	}
] as const satisfies readonly Field[];
