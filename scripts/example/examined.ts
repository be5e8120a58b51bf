/** Measured, tested and looked for at home in the week after; when what happened; what came back. */
import { ballisticFromSpeedKgM2 } from '$lib/physics/descent';
import type { Bench } from './bench';
import { absence, measurement, phone, plan, showed } from './kinds';
import { FLIGHT, groundDensityKgM3 } from './world';

const finBallistic = (() => {
	const b = ballisticFromSpeedKgM2(9.6, groundDensityKgM3);
	return `${b.toFixed(1)} ± ${((2 * b * 0.8) / 9.6).toFixed(1)} kg/m²`;
})();

/** Measured, tested and looked for at home, in the week after. */
export async function examined(bench: Bench) {
	const add = (id: string, record: object) => bench.do('evidence.add', { id, record });
	const day = (date: string) => ({ kind: 'clock', clock: 'c-joss', reading: date });
	bench.at('2025-05-19T18:00:00Z', 'Marit');
	await bench.do('part.add', {
		id: 'chips',
		record: {
			name: 'Chips of the joint of fin 2',
			vehiclePart: null,
			group: 'airframe',
			description: 'Some 20 mm of the joint edge is on neither half.',
			mass: '',
			uses: 1,
			outcome: 'missing',
			next: null,
			note: 'Searched for once, not found.'
		}
	});
	await add(
		'e-joint',
		measurement({
			title: 'Share of the joint that was glued',
			at: day('2025-05-19 18:30'),
			what: 'area with adhesive on both faces over the whole area of the scarf, counted on a 5 mm grid',
			value: '41 ± 4 %',
			instrument: 'grid on clear film, counted by two people',
			parts: ['fin-2'],
			attachments: [],
			description: 'The rest is smooth and glossy: the faces met dry there.'
		})
	);
	await add(
		'e-turns',
		measurement({
			title: 'Turns of the leader round the tether',
			at: phone('19:30'),
			what: 'turns, all in one direction, clockwise seen from the body',
			value: '11',
			instrument: 'counted from the photograph and on the piece',
			parts: ['drogue', 'tether']
		})
	);
	await add(
		'e-swivel',
		measurement({
			title: 'Torque that turns the swivel under load',
			at: day('2025-05-20 19:00'),
			what: 'torque at which it begins to turn with 70 N on it',
			value: '0.062 ± 0.006 N·m',
			instrument: 'lever of 100 mm and spring balance',
			parts: ['swivel'],
			description: 'A new one of the same kind turns at 0.011 N·m. Sand and dried grease in the gap.'
		})
	);
	await add(
		'e-mark',
		measurement({
			title: 'Burnt head to tape mark',
			at: day('2025-05-20 20:10'),
			what: 'how far the head lay below the place that the tape mark sets, from the scorched length',
			value: '146 ± 8 mm',
			instrument: 'steel rule',
			parts: ['igniter'],
			description:
				'The tape mark sits where the leads leave the nozzle when the head is in its place. The leads are scorched over 58 mm only; in its place they would be over 204 mm.'
		})
	);
	await add(
		'e-clips',
		measurement({
			title: 'Resistance across both clips',
			at: day('2025-05-20 20:40'),
			what: 'both clips in series, closed on a clean rod, five times',
			value: '0.06 ± 0.02 ohm',
			instrument: 'four-wire meter'
		})
	);
	bench.at('2025-05-23T19:00:00Z', 'Marit');
	await planned(bench, day);
	bench.at('2025-05-24T16:00:00Z', 'Marit');
	await showed(
		bench,
		'e-drop',
		'9.6 ± 0.8 m/s',
		'Six drops from 24 m in still air, timed over the last 6 m by film: 9.6 m/s, spread 0.8 m/s. It tumbles from the first metre.'
	);
	const file = await bench.file();
	await bench.do('evidence.correct', {
		id: 'e-fin',
		record: { ...file.evidence['e-fin'], ballisticCoefficient: finBallistic },
		reason:
			'Ballistic coefficient worked out from the drop test of 24 May; before that only the kind of piece was known.'
	});
	await showed(
		bench,
		'e-pull',
		'430 ± 15 N',
		'Made by the same hands on the same evening, for the spare fin. Parted at 430 N along the joint, with the same dry patches.'
	);
	await showed(
		bench,
		'e-sister-igniter',
		'0.25 ± 0.05 s',
		'Alone on the test stand, by the range’s rules: 0.2 s and 0.3 s from switch to flame.'
	);
	await showed(
		bench,
		'e-beacon-bench',
		'2 h',
		'Started at the first try on a bench supply, sent every second for two hours. Antenna: continuous, right length.'
	);
	await add(
		'e-no-soil',
		absence({
			title: 'No soil, no grass, no bruise on the joint edge',
			at: day('2025-05-19 19:00'),
			lookedFor: 'soil, plant sap or crushed fibres on either side of the parted joint',
			howThoroughly: 'takenApart',
			detection: '90 %',
			parts: ['fin-2']
		})
	);
	await add(
		'e-no-chafe',
		absence({
			title: 'No chafe mark of webbing on the stub',
			at: day('2025-05-19 19:20'),
			lookedFor: 'fibres or polish of the yellow tether on fin 2, under the lens',
			howThoroughly: 'takenApart',
			detection: '80 %',
			parts: ['fin-2']
		})
	);
	await add(
		'e-search',
		absence({
			title: 'No other piece between pad and body',
			by: 'Edda',
			at: phone('17:15'),
			lookedFor: 'splinters of the joint, paint, anything of the vehicle',
			howThoroughly: 'gridSearch',
			parts: ['chips'],
			detection: '60 %',
			description: 'Three people, lines 4 m apart from the pad to 60 m beyond the body, half an hour.'
		})
	);
}

/** The tests of the weekend, and what each would show, written down the evening before. */
async function planned(bench: Bench, day: (date: string) => object) {
	await plan(
		bench,
		'e-drop',
		[
			['it tumbles, as its mass and area say', 'between 7 and 13 m/s'],
			['it flies flat or on its edge', 'more than 15 m/s, or a path that slants']
		],
		{
			title: 'Twin of the outer half dropped from the mast',
			at: day('2025-05-24 15:00'),
			purpose: 'The fall calculations need how fast such a piece falls'
		}
	);
	await plan(
		bench,
		'e-pull',
		[
			['the joints of that evening are sound', 'at least 1000 N, as four pulled in 2023 did (lowest 1040 N)'],
			['the joints of that evening are starved', 'well below 1000 N, along the joint']
		],
		{
			title: 'Sister joint pulled to failure',
			at: day('2025-05-24 17:30'),
			testKind: 'pull',
			reversible: 'no',
			purpose: 'To see whether the joint of that evening is weaker than the sheet',
			makesImpossible: 'The spare fin can’t be flown, and its joint can’t be sectioned undamaged'
		}
	);
	await plan(
		bench,
		'e-sister-igniter',
		[
			['damp is the cause', 'they are late too, by more than a second'],
			['it is not', 'less than half a second, as new ones']
		],
		{ title: 'Two igniters of the same bag, timed', by: 'Joss', at: day('2025-05-25 11:00') }
	);
	await plan(
		bench,
		'e-beacon-bench',
		[
			['board or antenna is broken', 'it fails within minutes'],
			['both are whole', 'two hours without a gap']
		],
		{ title: 'Beacon run on the bench for two hours', by: 'Edda', at: day('2025-05-25 14:00') }
	);
}

export async function timeline(bench: Bench) {
	bench.at('2025-05-25T16:00:00Z', 'Marit');
	let i = 0;
	const entry = (what: string, after: string, more: object) =>
		bench.do('timeline.add', {
			id: `t-${String(++i).padStart(2, '0')}`,
			record: {
				what,
				at: { kind: 'sinceLaunch', after },
				plusMinus: '',
				seenBy: '',
				sure: 'certain',
				basis: 'recorded',
				evidence: [],
				note: '',
				...more
			}
		});
	const log = { seenBy: 'flight recorder', evidence: ['e-log'] };
	const read = (clock: string, reading: string) => ({
		at: { kind: 'clock', clock, reading: `2025-05-17 ${reading}` }
	});
	await entry('Switch closed', '0', {
		...read('c-edda', '14:35:35.9'),
		plusMinus: '0.04 s',
		seenBy: 'film: lamp of the pad box',
		evidence: ['e-still']
	});
	await entry('White smoke under the nozzle', '0', {
		...read('c-edda', '14:35:36.3'),
		plusMinus: '0.04 s',
		seenBy: 'film',
		evidence: ['e-still']
	});
	await entry('Lift-off', '0 s', { plusMinus: '0.05 s', ...log, note: '4.1 s after the switch' });
	await entry('Crack heard, motor still burning', '2.6 s', {
		plusMinus: '0.5 s',
		seenBy: 'Joss',
		sure: 'likely',
		basis: 'reported',
		evidence: ['e-joss']
	});
	await entry('Motor stops', `${FLIGHT.burnout.t.toFixed(1)} s`, { plusMinus: '0.1 s', ...log });
	await entry('Crack heard, motor quiet', '3 s', {
		plusMinus: '0.5 s',
		seenBy: 'Edda',
		sure: 'unsure',
		basis: 'reported',
		evidence: ['e-edda']
	});
	await entry('Apogee', `${FLIGHT.apogee.t.toFixed(1)} s`, { plusMinus: '0.2 s', ...log });
	await entry('Drogue out', `${(FLIGHT.apogee.t + 0.3).toFixed(1)} s`, {
		plusMinus: '0.1 s',
		...log,
		note: 'output fired'
	});
	await entry('Something small falls past, turning', '0', {
		...read('c-marit', '14:32:30'),
		plusMinus: '10 s',
		seenBy: 'Joss',
		sure: 'unsure',
		basis: 'reported',
		evidence: ['e-joss']
	});
	await entry('Last packet of the beacon', '0', {
		...read('c-receiver', '14:32:51'),
		plusMinus: '0.5 s',
		seenBy: 'ground receiver',
		evidence: ['e-receiver']
	});
	await entry('Main opens', `${FLIGHT.mainAtS.toFixed(1)} s`, { plusMinus: '0.2 s', ...log });
	await entry('Body landed', `${FLIGHT.landedS.toFixed(1)} s`, { plusMinus: '0.5 s', ...log });
	await entry('Outer half of fin 2 found', '0', {
		...read('c-joss', '16:31'),
		seenBy: 'Edda',
		basis: 'observed',
		evidence: ['e-fin']
	});
}

export async function whatCameBack(bench: Bench) {
	bench.at('2025-05-26T18:00:00Z', 'Marit');
	const next: Record<string, string> = {
		nose: 'repair',
		tube: 'flyAgain',
		'fin-1': 'flyAgain',
		'fin-2': 'keepAsEvidence',
		'fin-3': 'flyAgain',
		case: 'test',
		nozzle: 'test',
		closure: 'flyAgain',
		bay: 'flyAgain',
		beacon: 'test',
		cell: 'retire',
		drogue: 'flyAgain',
		swivel: 'keepAsEvidence',
		tether: 'flyAgain',
		main: 'flyAgain'
	};
	for (const [id, then] of Object.entries(next))
		await bench.do('part.outcome', { id, outcome: 'recovered', next: then });
	await bench.do('part.outcome', { id: 'igniter', outcome: 'destroyed', next: 'keepAsEvidence' });
}
