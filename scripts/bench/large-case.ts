/** Investigations of a given size, made by the tool's own operations as a person's clicks would make them. */
import { applyChanges, emptyInvestigation, type Change, type Investigation } from '$lib/investigation/case';
import { operate } from '$lib/investigation/operations';
import { beginInvestigation } from '$lib/investigation/start';
import type { TreeModel } from '$lib/reasoning';
import { u } from './inputs';

/** A file on which one operation after another is done. */
class Making {
	file: Investigation;
	#ids = 0;

	constructor(title: string) {
		const begun = beginInvestigation(
			{
				title,
				vehicleName: 'Avocet',
				vehicle: null,
				buildName: 'build 2',
				build: null,
				flownAt: '2031-05-17 14:02:10',
				zoneMinutes: 120
			},
			[]
		);
		if (!begun.ok) throw new Error(JSON.stringify(begun.problems));
		this.file = applyChanges(emptyInvestigation(), begun.value.changes);
	}

	do(name: string, args: unknown): readonly Change[] {
		const made = operate(this.file, name, args, {
			now: '2031-05-18T09:00:00.000Z',
			who: 'Maren Holt',
			newId: () => `new${String(++this.#ids).padStart(6, '0')}`
		});
		if (!made.ok) throw new Error(`${name}: ${JSON.stringify(made.problems)}`);
		this.file = applyChanges(this.file, made.value);
		return made.value;
	}
}

/** An item as a form sends it: mostly found pieces, each taped from the pad or from the item before it. */
function itemOfEvidence(i: number): Record<string, unknown> {
	const common = {
		title: `Item ${i}, ${i % 7 === 0 ? 'torn at the lower edge' : 'whole'}`,
		description: 'Lay on stubble, open side down; photographed before it was lifted.',
		by: 'Maren Holt',
		at: { kind: 'sinceLaunch', after: `${600 + 20 * (i % 200)} s` },
		position: null,
		state: i % 5 === 0 ? 'disturbed' : 'asFound',
		basis: 'observed',
		trust: i % 3 === 0 ? 'moderate' : 'high',
		trustReason: '',
		attachments: [],
		parts: []
	};
	if (i % 8 === 5)
		return {
			...common,
			kind: 'statement',
			from: `spotter ${1 + (i % 4)}`,
			words: 'A puff at the nose, then two things came down.',
			beforeDiscussion: 'yes'
		};
	if (i % 8 === 6)
		return {
			...common,
			kind: 'absence',
			lookedFor: `soot in bay ${i}`,
			howThoroughly: 'takenApart',
			detection: '90 %'
		};
	if (i % 8 === 7)
		return { ...common, kind: 'measurement', what: 'width of the tear', value: '12 ± 1 mm', instrument: '' };
	return {
		...common,
		kind: 'piece',
		mass: `${20 + (i % 90) * 10} g`,
		ballisticCoefficient: '10 to 20 kg/m²',
		pieceType: '',
		damage: '',
		position: {
			kind: 'bearing',
			from: i % 8 === 4 ? `item${i - 1}` : 'pad',
			distance: `${i % 8 === 4 ? 2 + (i % 9) : Math.round(30 + 870 * u(90, i))} ± 5 m`,
			bearingDeg: `${Math.round(360 * u(91, i))}`,
			reference: 'true',
			bearingPlusMinusDeg: '2'
		}
	};
}

/** About, site, weather and so many items of evidence. */
export function caseOfEvidence(items: number, title = 'Avocet, flight 5'): Investigation {
	const making = new Making(title);
	making.do('site.save', {
		record: {
			...making.file.site['main'],
			name: 'Low Common',
			pad: { kind: 'typed', typed: '48.1, 11.2', circle: { radius: '3 m', level: 0.95 } },
			elevation: '512 m',
			declinationDeg: '3 E'
		}
	});
	making.do('weather.save', {
		record: {
			...making.file.weather['main'],
			surfaceTemperature: '19 °C',
			surfacePressure: '1015 hPa',
			wind: [0, 200, 500, 800, 1200, 1600].map((height, k) => ({
				height: `${height} m`,
				fromDeg: `${215 + 3 * k}`,
				speed: `${4 + k} m/s`,
				temperature: null
			}))
		}
	});
	const records: Record<string, Investigation['evidence'][string]> = {};
	for (let i = 0; i < items; i++) {
		// From there on copies under numbers of their own: what an operation costs in a large case is asked elsewhere.
		const like = records[`item${i % 200}`];
		if (like) records[`item${i}`] = { ...like, number: i + 1 };
		else {
			making.do('evidence.add', { id: `item${i}`, record: itemOfEvidence(i) });
			records[`item${i}`] = making.file.evidence[`item${i}`]!;
		}
	}
	return { ...making.file, evidence: records };
}

/** An anomaly with the tree and the findings of a model, added to a case with evidence, clocks and moments. */
export function caseOfModel(items: number, model: TreeModel): Investigation {
	const making = new Making('Avocet, flight 5');
	making.file = caseOfEvidence(items);
	making.do('hazard.save', {
		record: {
			what: 'second charge, forward bay',
			kind: 'charge',
			state: 'safe',
			by: 'Maren Holt',
			at: '2031-05-17 15:10',
			note: '',
			evidence: null
		}
	});
	for (let i = 0; i < 20; i++)
		making.do('timeline.add', {
			record: {
				what: `moment ${i} as seen from the line`,
				at: { kind: 'sinceLaunch', after: `${3 * i} s` },
				plusMinus: '1 s',
				seenBy: 'Tove Lind',
				sure: 'certain',
				basis: 'observed',
				evidence: [`item${i}`],
				note: ''
			}
		});
	making.do('anomaly.state', {
		id: 'a1',
		record: {
			title: 'The bulkhead left the bay tube',
			expected: 'bulkhead in place',
			observed: 'bulkhead 2 m from the tube',
			when: 'between apogee and landing',
			consequence: 'main stayed in its bay',
			phase: 'descent',
			firstImpression: ''
		}
	});
	plant(making, model);
	return making.file;
}

function plant(making: Making, { top, events, gates = [], findings = [], origins = [] }: TreeModel) {
	const weight = new Map(events.map(({ id, p }) => [id, p]));
	const gateOf = new Map(gates.map((gate) => [gate.id, gate]));
	const grown = new Set<string>();
	const grow = (id: string, under: string) => {
		const gate = gateOf.get(id);
		for (const input of (gate?.inputs ?? []) as string[]) {
			if (grown.has(input)) {
				making.do('event.share', { event: input, under });
				continue;
			}
			grown.add(input);
			const title = gateOf.has(input) ? `branch ${input} does not hold` : `part ${input} lets go`;
			making.do('event.add', { id: input, under, kind: 'basic', title });
			if (gateOf.has(input)) grow(input, input);
			else making.do('event.weigh', { event: input, weight: weight.get(input) });
		}
		if (gate && gate.type !== 'or')
			making.do('event.setGate', { event: under, type: gate.type, k: gate.k ?? null });
	};
	grow(top ?? '', making.file.anomalies['a1']!.top);
	for (const { id, reliability, saysAnyway } of origins)
		making.do('origin.add', { id, record: { name: `camera ${id}`, reliability, saysAnyway, note: '' } });
	for (const [j, finding] of findings.entries())
		making.do('finding.add', {
			id: finding.id,
			anomaly: 'a1',
			record: {
				statement: `sign ${j} on the part`,
				state: finding.state,
				baseRate: finding.baseRate,
				links: (finding.links ?? []).map(({ from, p }) => ({ event: from, negated: false, p })),
				residualLink: null,
				origin: finding.origin ?? null,
				sameAs: null,
				evidence: [`item${j}`],
				costMinutes: j % 4 === 0 ? 30 : null,
				destructive: false,
				note: ''
			}
		});
}
