import * as v from 'valibot';
import { INVESTIGATION, type Investigation } from '$lib/investigation/case';
import { discreet, type HistoryEntry, type Shown } from '$lib/report/discretion';
import type { ReportInput } from '$lib/report/context';
import { weighForReport } from '$lib/report/weighed';

/** A small invented investigation with something in every collection, typed as a person would type it. */
const TYPED = {
	about: {
		main: {
			title: 'Heron, flight 4',
			vehicle: 'heron',
			vehicleName: 'Heron',
			build: 'b2',
			buildName: 'build 2',
			flownAt: '2026-05-17 14:02:10',
			zoneMinutes: '+02:00',
			launchDirection: { bearingDeg: '210', reference: 'magnetic', elevationDeg: '85' },
			padChanges: 'Jonna shortened the tether by 20 cm.',
			note: ''
		}
	},
	site: {
		main: {
			name: 'Gullmoss Field',
			pad: {
				kind: 'typed',
				typed: '59.40123 N, 14.50456 E',
				circle: { radius: '4 m', level: 0.95 }
			},
			elevation: '120 m',
			declinationDeg: '6 E',
			ownersLeave: 'yes',
			powerLines: 'no',
			water: 'yes',
			fireRisk: 'notKnown',
			accessNote: 'Ask at the red house.',
			told: [{ who: 'owner', name: 'Astrid Lund', when: '2026-05-16 18:00', note: '' }]
		}
	},
	weather: {
		main: {
			surfaceTemperature: '14 °C',
			surfacePressure: '1002 hPa',
			pressureIs: 'atSite',
			heightsAre: 'abovePad',
			fromReference: 'true',
			wind: [
				{ height: '10 m', fromDeg: '220', speed: '4 m/s', temperature: null },
				{ height: '500 m', fromDeg: '235', speed: '9 m/s', temperature: '11 °C' }
			],
			speedSpread: '25 %',
			directionSpreadDeg: 15,
			sounding: null,
			source: 'forecast for Gullmoss Field',
			note: ''
		}
	},
	expected: { x1: { what: 'apogee', label: '', value: '900 m', source: 'simulation of build 2' } },
	hazards: {
		h1: {
			what: 'second charge in the forward bay',
			kind: 'charge',
			state: 'notRecovered',
			by: '',
			at: '',
			evidence: null,
			note: ''
		}
	},
	parts: {
		p1: {
			name: 'forward bulkhead',
			vehiclePart: null,
			group: 'bay',
			description: '',
			mass: '140 g',
			uses: '4',
			outcome: 'recovered',
			next: 'keepAsEvidence',
			note: ''
		},
		p2: {
			name: 'drogue',
			vehiclePart: null,
			group: 'recovery',
			description: '',
			mass: null,
			uses: null,
			outcome: 'missing',
			next: null,
			note: ''
		}
	},
	clocks: { k1: { name: 'Jonna’s phone', kind: 'phone', zoneMinutes: 120, ahead: '2 ± 1 s', note: '' } },
	timeline: {
		t1: {
			what: 'a puff, then two pieces',
			at: { kind: 'sinceLaunch', after: '13 s' },
			plusMinus: '1 s',
			seenBy: 'Jonna Ek and Per',
			sure: 'likely',
			basis: 'observed',
			evidence: ['e3'],
			note: ''
		}
	},
	attachments: {
		f1: {
			sha256: 'ab'.repeat(32),
			name: 'bulkhead-jonna.jpg',
			bytes: 2_345_678,
			type: 'image/jpeg',
			kind: 'photo',
			width: 4000,
			height: 3000,
			taken: {
				localTime: '2026-05-17T14:40:00',
				zoneMinutes: 120,
				latitude: 59.40711,
				longitude: 14.51222,
				accuracyM: 5
			},
			remark: ''
		}
	},
	evidence: {
		e1: {
			kind: 'piece',
			number: 1,
			title: 'Body and fins',
			description: '',
			by: 'Per',
			at: { kind: 'clock', clock: 'k1', reading: '2026-05-17 14:35' },
			position: { kind: 'typed', typed: '59.40711, 14.51222', circle: { radius: '5 m', level: 0.68 } },
			state: 'asFound',
			basis: 'observed',
			trust: 'high',
			trustReason: '',
			attachments: [],
			parts: [],
			withdrawn: null,
			mass: '3.1 kg',
			ballisticCoefficient: null,
			pieceType: '',
			damage: ''
		},
		e2: {
			kind: 'piece',
			number: 2,
			title: 'Bulkhead, glue line bare',
			description:
				'# Not a heading\n\nLay at 59.40711, 14.51222, two steps from Per. <script>alert(1)</script>\n\n```\nnever closed',
			by: 'Jonna Ek',
			at: null,
			position: {
				kind: 'bearing',
				from: 'e1',
				distance: '2.1 m',
				bearingDeg: '130',
				reference: 'true',
				bearingPlusMinusDeg: null
			},
			state: 'disturbed',
			basis: 'observed',
			trust: 'moderate',
			trustReason: 'lifted before the photo',
			attachments: ['f1'],
			parts: ['p1'],
			withdrawn: null,
			mass: '140 g',
			ballisticCoefficient: '8 to 12 kg/m²',
			pieceType: '',
			damage: 'bare on 70 % of its length'
		},
		e3: {
			kind: 'statement',
			number: 3,
			title: 'What was seen at apogee | beside the pad',
			description: '',
			by: 'Per',
			at: null,
			position: null,
			state: 'notKnown',
			basis: 'reported',
			trust: 'low',
			trustReason: 'after talking it over',
			attachments: [],
			parts: [],
			withdrawn: null,
			from: 'Jonna Ek',
			words: 'I saw a puff at apogee, Per saw it too.',
			beforeDiscussion: 'no'
		},
		e4: {
			kind: 'test',
			number: 4,
			title: 'Pull test of the fillet',
			description: '',
			by: 'Per',
			at: null,
			position: null,
			state: 'notKnown',
			basis: 'observed',
			trust: 'high',
			trustReason: '',
			attachments: [],
			parts: [],
			withdrawn: null,
			testKind: 'pull',
			predicted: 'above 1.2 kN',
			result: 'broke at 1.5 kN in the wood',
			value: '1.5 kN',
			reversible: 'no',
			purpose: 'three samples made for it',
			makesImpossible: ''
		}
	},
	anomalies: {
		a1: {
			number: 1,
			title: 'The bulkhead left the bay tube',
			expected: 'bulkhead and tube in one piece',
			observed: 'two pieces, 2.1 m apart',
			when: '',
			consequence: 'drogue lost',
			phase: 'descent',
			top: 'top',
			firstImpression: 'OPINION the charge was too large'
		}
	},
	events: Object.fromEntries(
		[
			{
				id: 'top',
				title: 'Bulkhead leaves the bay tube',
				kind: 'intermediate',
				inputs: ['glue', 'charge', 'else']
			},
			{
				id: 'glue',
				title: 'Glue joint below the opening load',
				weight: '0.1',
				state: 'likely',
				cause: 'proximate'
			},
			{
				id: 'charge',
				title: 'Charge pressure above the joint',
				weight: '0.05',
				state: 'ruledOutByCalculation'
			},
			{ id: 'else', title: 'Something nobody has thought of', weight: '0.02', state: 'open' }
		].map(({ id, title, kind, inputs, weight, state, cause }) => [
			id,
			{
				anomaly: 'a1',
				title,
				kind: kind ?? (id === 'else' ? 'undeveloped' : 'basic'),
				note: '',
				weight: weight ?? null,
				weightBasis: 'guess',
				weightNote: '',
				residual: id === 'else',
				on: false,
				gate: inputs ? { type: 'or', k: null, inputs, condition: null, complete: true } : null,
				causeType: cause ?? null,
				disposition: {
					state: state ?? 'open',
					reason: state && state !== 'open' ? `OPINION on ${id} by Jonna` : '',
					cites: state === 'likely' ? ['e2', 's1'] : [],
					by: 'Jonna Ek',
					at: '2026-05-20T10:00:00.000Z'
				}
			}
		])
	),
	findings: {
		s1: {
			anomaly: 'a1',
			number: 1,
			statement: 'glue line bare of fibres',
			state: 'present',
			baseRate: '0.02',
			links: [{ event: 'glue', negated: false, p: '0.8' }],
			residualLink: null,
			origin: 'o1',
			sameAs: null,
			evidence: ['e2'],
			costMinutes: null,
			destructive: false,
			note: ''
		}
	},
	origins: { o1: { name: 'Jonna’s look at the joint', reliability: '0.95', saysAnyway: '0.05', note: '' } },
	calculations: {
		c1: {
			anomaly: 'a1',
			number: 1,
			calculation: 'fall-separation',
			title: 'Did they part in the air?',
			inputs: {},
			sources: [{ input: 'releaseHeight', collection: 'evidence', id: 'e1', rev: 12 }],
			seed: 7,
			samples: 4000,
			version: '1',
			result: {
				title: 'Fall separation',
				version: 1,
				inputs: { releaseHeight: { text: '300 m', unit: 'm', value: 300 } },
				outputs: {
					distance: {
						label: 'Distance from the first piece',
						dimension: 'length',
						unit: 'm',
						nominal: 48,
						median: 50,
						low90: 31,
						high90: 77
					}
				},
				statements: ['It would lie at least 31 m away in 95 of 100 falls.'],
				warnings: ['A piece this light falls like a canopy.'],
				notes: [],
				sources: [{ text: 'A Source of the Trade, 1999', basis: 'from memory' }]
			},
			likelihood: null,
			note: ''
		}
	},
	conclusions: {
		a1: {
			state: 'probableCause',
			statement: 'OPINION The joint was weaker than the opening load.',
			confidence: 'moderate',
			confidenceReason: 'OPINION one test of the joint',
			counterArgument: 'OPINION nobody measured the opening load',
			nextTest: '',
			tripwires: 'a joint of this batch that holds 2 kN',
			noChangeReason: '',
			by: 'Jonna Ek',
			at: '2026-05-20T10:00:00.000Z'
		}
	},
	observations: { ob1: { number: 1, statement: 'one fin loose', evidence: ['e1'], watch: true } },
	changes: {
		ch1: {
			number: 1,
			anomaly: 'a1',
			answers: 'glue',
			title: 'Fillet on both sides',
			part: 'forward bulkhead',
			oldValue: 'butt joint',
			newValue: 'fillet of 6 mm',
			responsible: 'Per',
			due: '2026-06-01',
			vehicle: 'heron',
			build: 'b2',
			buildName: 'build 2',
			required: true,
			rung: 'engineer',
			how: 'pull test',
			criterion: { what: 'load at failure', is: 'atLeast', value: '1.2 kN', upper: null },
			newRisk: '',
			state: 'verified',
			steps: [
				['proposed', null],
				['accepted', null],
				['made', null],
				['verified', '1.5 kN']
			].map(([state, value]) => ({
				state,
				by: 'Jonna Ek',
				at: '2026-05-25T10:00:00.000Z',
				reason: '',
				value,
				cites: value ? ['e4'] : [],
				flight: ''
			}))
		}
	}
};

/** The typed records, read by the schemas that read what a page sends. */
export function heron(): Investigation {
	const typed: Record<string, Record<string, unknown>> = TYPED;
	return Object.fromEntries(
		Object.entries(INVESTIGATION).map(([collection, schema]) => [
			collection,
			Object.fromEntries(
				Object.entries(typed[collection] ?? {}).map(([id, record]) => [
					id,
					v.parse(schema as v.GenericSchema, record)
				])
			)
		])
	) as unknown as Investigation;
}

export const HISTORY: HistoryEntry[] = [
	{ rev: 1, time: '2026-05-17T15:00:00.000Z', who: 'Jonna Ek', operation: 'begin' },
	{ rev: 2, time: '2026-05-17T15:02:00.000Z', who: 'Per', operation: 'evidence.add' },
	{ rev: 3, time: '2026-05-20T10:00:00.000Z', who: 'Jonna Ek', operation: 'change.raise' }
];

/** What the report is made from; `base` and `over` as the page or the export would set them. */
export function heronReport(shown: Shown, over: Partial<ReportInput> = {}): ReportInput {
	const { file, history } = discreet(over.file ?? heron(), HISTORY, shown);
	return {
		rev: 3,
		at: '2026-05-26T08:00:00.000Z',
		weighed: weighForReport(file),
		figures: { plan: true, trees: ['a1'], calculations: ['c1'] },
		pictures: ['f1'],
		base: '',
		...over,
		file,
		history,
		shown
	};
}

export const NOTHING: Shown = { names: false, positions: false };
export const ALL: Shown = { names: true, positions: true };
