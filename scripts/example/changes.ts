/** What follows: changes carried through their lives, what was noticed beside the causes, and who may fly. */
import { type Bench, VEHICLE_ID } from './bench';
import { type More, plan, showed } from './kinds';
import { clear, FIRST_BUILD, SECOND_BUILD, THIRD_BUILD } from './record';

interface Proposal {
	anomaly: string;
	answers: string | null;
	title: string;
	part: string;
	oldValue: string;
	newValue: string;
	responsible: string;
	rung: 'eliminate' | 'substitute' | 'engineer' | 'procedure' | 'protect';
	required: boolean;
	how: string;
	criterion?: { what: string; is: 'atLeast' | 'atMost'; value: string };
	newRisk: string;
	due?: string;
}

export async function changes(bench: Bench): Promise<void> {
	await third(bench);
	await raise(bench);
	await prove(bench);
	await fly(bench);
	await observations(bench);
}

const raiseOne = (bench: Bench, id: string, { criterion, due = '', ...record }: Proposal) =>
	bench.do('change.raise', {
		id,
		record: {
			...record,
			due,
			vehicle: VEHICLE_ID,
			build: THIRD_BUILD,
			buildName: 'third airframe',
			criterion: criterion ? { ...criterion, upper: null } : null
		}
	});

const step = (bench: Bench, id: string, to: string, more: object = {}) =>
	bench.do('change.move', { id, to, reason: '', value: null, cites: [], flight: '', ...more });

/** Locked, done and entered in one sitting. */
async function test(
	bench: Bench,
	id: string,
	date: string,
	{ under, value, result, ...more }: More & { under: [string, string][]; value: string; result: string }
) {
	await plan(bench, id, under, { ...more, at: { kind: 'clock', clock: 'c-joss', reading: date } });
	await showed(bench, id, value, result);
}

async function third(bench: Bench) {
	bench.at('2025-06-08T09:00:00Z', 'Marit');
	bench.ids(THIRD_BUILD);
	await bench.doVehicle('build.save', {
		record: {
			name: 'third airframe',
			description: 'As the second, with what flight 3 taught.',
			state: 'building'
		}
	});
	await bench.doVehicle('build.copyParts', { from: SECOND_BUILD, to: THIRD_BUILD, counts: 'new' });
}

async function raise(bench: Bench) {
	bench.at('2025-06-08T09:30:00Z', 'Marit');
	await raiseOne(bench, 'c-fins', {
		anomaly: 'a1',
		answers: 'a1-11',
		title: 'Fins from one sheet, thicker, without a joint',
		part: 'Fins 1 to 3',
		oldValue: '4 mm; outer half of fin 2 joined on by a scarf',
		newValue: '6 mm, each cut whole from one sheet',
		responsible: 'Marit',
		rung: 'eliminate',
		required: true,
		how: 'Pull at the tip of a spare fin, fillets and all, until it parts or 1500 N',
		criterion: { what: 'force at which the fin or its root gives way', is: 'atLeast', value: '1000 N' },
		newRisk: '90 g more at the tail: stability margin to be computed again before the first flight'
	});
	await raiseOne(bench, 'c-swivel', {
		anomaly: 'a2',
		answers: 'a2-16',
		title: 'Ball-bearing swivel under a dust boot',
		part: 'Swivel of the drogue leader',
		oldValue: 'plain bearing, greased, open',
		newValue: 'ball bearing with a rubber boot, looked at before each flight',
		responsible: 'Edda',
		rung: 'engineer',
		required: true,
		how: 'Torque at which it begins to turn with 70 N on it',
		criterion: { what: 'torque that turns it under 70 N', is: 'atMost', value: '0.03 N·m' },
		newRisk: 'Boot hides the bearing: the look before the flight needs it rolled back'
	});
	await raiseOne(bench, 'c-stop', {
		anomaly: 'a3',
		answers: 'a3-11',
		title: 'A stop that holds the igniter at its mark',
		part: 'Igniter and its leads; set-up at the pad',
		oldValue: 'tape at the nozzle; igniter in before tipping up',
		newValue: 'spring stop in the nozzle’s mouth; igniter goes in when the vehicle stands on the rail',
		responsible: 'Joss',
		rung: 'engineer',
		required: true,
		how: 'Tip the test bed up and down with a dummy igniter and measure where its head is',
		criterion: {
			what: 'tippings of twelve after which the head is within 5 mm of its place',
			is: 'atLeast',
			value: '12'
		},
		newRisk:
			'Somebody stands at the nozzle longer: only with the circuit open and the key in Joss’s pocket, by the range’s rules'
	});
	await raiseOne(bench, 'c-latch', {
		anomaly: 'a4',
		answers: 'a4-13',
		title: 'Connector of the beacon cell with a latch',
		part: 'Beacon sled',
		oldValue: 'two-pin friction fit',
		newValue: 'two-pin with a latch that clicks',
		responsible: 'Edda',
		rung: 'substitute',
		required: false,
		due: '2025-10-31',
		how: 'The shaking test that is named as the next test, with old and new connector',
		criterion: { what: 'drop-outs of the supply in ten minutes of shaking', is: 'atMost', value: '0' },
		newRisk: 'Harder to unplug with cold hands when a cell has to be made safe'
	});
	await raiseOne(bench, 'c-photo', {
		anomaly: 'a4',
		answers: null,
		title: 'One photograph before anything is unplugged',
		part: 'Recovery checklist',
		oldValue: 'make safe, then look',
		newValue: 'photograph from where you stand, then make safe, unless the cell is hot or swollen',
		responsible: 'Joss',
		rung: 'procedure',
		required: false,
		how: 'Next recovery: is there a photograph?',
		newRisk: 'Five seconds nearer to a damaged cell: not when it is hot, swollen or hissing'
	});
	await raiseOne(bench, 'c-second-hand', {
		anomaly: 'a4',
		answers: 'a4-22',
		title: 'A second person for the ground antenna',
		part: 'Flight-day roles',
		oldValue: 'one person films and aims',
		newValue: 'one person for each',
		responsible: 'Edda',
		rung: 'procedure',
		required: false,
		how: 'Packets lost per flight',
		newRisk: ''
	});
	bench.at('2025-06-10T18:00:00Z', 'Joss');
	for (const id of ['c-fins', 'c-swivel', 'c-stop', 'c-latch', 'c-photo']) await step(bench, id, 'accepted');
	await step(bench, 'c-second-hand', 'rejected', {
		reason:
			'The signal was full to the last packet; aiming was not the trouble. Would cost a person on the safety line.'
	});
	await step(bench, 'c-photo', 'made', { reason: 'Stands as line 3 on the recovery card since today.' });
}

async function prove(bench: Bench) {
	bench.at('2025-06-21T09:00:00Z', 'Marit');
	await step(bench, 'c-fins', 'made', {
		reason: 'Three fins and a spare cut, spare bonded to a piece of tube.'
	});
	bench.at('2025-06-21T15:00:00Z', 'Marit');
	await test(bench, 'e-new-fin', '2025-06-21 14:30', {
		title: 'New fin pulled at the tip',
		testKind: 'pull',
		under: [
			['the change works', 'the root gives way at 1100 to 1400 N'],
			['it does not', 'below 1000 N']
		],
		result: 'Fillet began to lift at 1240 N, sheet whole.',
		value: '1240 ± 30 N',
		reversible: 'no',
		purpose: 'The number that the change is verified against',
		makesImpossible: 'The spare fin can’t be flown'
	});
	await step(bench, 'c-fins', 'verified', { cites: ['e-new-fin'] });
	bench.at('2025-06-22T07:00:00Z', 'Edda');
	await step(bench, 'c-swivel', 'made', { reason: 'Fitted to the new leader.' });
	bench.at('2025-06-22T10:00:00Z', 'Edda');
	await test(bench, 'e-new-swivel', '2025-06-22 09:40', {
		title: 'New swivel under 70 N',
		by: 'Edda',
		under: [
			['the change works', 'about 0.01 N·m'],
			['it is no better than the old one', 'above 0.03 N·m']
		],
		result: 'Turns at 0.012 N·m, ten tries, clean.',
		value: '0.012 ± 0.002 N·m'
	});
	await step(bench, 'c-swivel', 'verified', { cites: ['e-new-swivel'] });
	bench.at('2025-06-28T12:00:00Z', 'Joss');
	await step(bench, 'c-stop', 'made', { reason: 'On the test bed and on the third airframe.' });
	bench.at('2025-06-28T16:00:00Z', 'Joss');
	await test(bench, 'e-stop', '2025-06-28 15:00', {
		title: 'Dummy igniter behind its stop, tipped twelve times',
		by: 'Joss',
		under: [
			['the stop holds it', 'all twelve within 5 mm'],
			['it is no better than tape', 'some three of twelve slip more']
		],
		result: 'Twelve of twelve within 2 mm.',
		value: '12'
	});
	await step(bench, 'c-stop', 'verified', { cites: ['e-stop'] });
}

async function fly(bench: Bench) {
	bench.at('2025-07-11T17:00:00Z', 'Joss');
	await clear(bench, FIRST_BUILD, 'Test bed only, for the igniter stop.');
	bench.at('2025-07-12T15:00:00Z', 'Marit');
	await bench.doVehicle('build.flew', {
		build: FIRST_BUILD,
		flight: 'first airframe, flight 6, 12 July 2025'
	});
	bench.at('2025-07-12T17:00:00Z', 'Joss');
	await step(bench, 'c-stop', 'flown', { flight: 'first airframe, flight 6, 12 July 2025' });
	await step(bench, 'c-stop', 'closed', {
		reason: 'Lift-off 0.3 s after the switch; the head was at its mark when the vehicle stood on the rail.',
		flight: 'first airframe, flight 6, 12 July 2025',
		turned: 'onAndOff'
	});
	bench.at('2025-08-02T09:00:00Z', 'Joss');
	await clear(bench, THIRD_BUILD, 'Every required change verified or closed. Waits for a calm weekend.', [
		'c-fins',
		'c-swivel',
		'c-stop'
	]);
	bench.at('2025-08-23T14:00:00Z', 'Edda');
	await test(bench, 'e-sand', '2025-08-23 13:30', {
		title: 'New swivel after an hour in blown sand',
		by: 'Edda',
		under: [
			['the boot keeps the sand out', 'below 0.03 N·m'],
			['it does not', 'above it, and rough']
		],
		result: 'Boot split at its fold. 0.048 N·m, rough.',
		value: '0.048 ± 0.004 N·m',
		description:
			'Heath sand, a fan, leader under 20 N and turning now and then. Nobody had asked for it; the tripwire of A2 did.'
	});
	await step(bench, 'c-swivel', 'reopened', {
		reason:
			'Clean it met its number; with the sand of the heath it does not. It was verified against the wrong day.',
		cites: ['e-sand']
	});
	bench.at('2025-08-23T16:00:00Z', 'Joss');
	await bench.doVehicle('clearance.withdraw', {
		build: THIRD_BUILD,
		reason: 'C2 is reopened: the swivel binds with sand in it. Nothing flies on it until that is settled.'
	});
	const again = await bench.refusedByVehicle('clearance.clear', {
		build: THIRD_BUILD,
		by: 'Joss',
		waivers: [],
		note: ''
	});
	if (!again.some((message) => message.includes('C2')))
		throw new Error('the third airframe is not held by C2');
}

async function observations(bench: Bench) {
	bench.at('2025-08-24T09:00:00Z', 'Marit');
	const note = (id: string, statement: string, evidence: string[]) =>
		bench.do('observation.save', { id, record: { statement, evidence, watch: true } });
	await note(
		'o-supply',
		'The recorder’s supply fell to 7.3 V while an output fired, 0.3 V above its limit. Watch it on the next flight.',
		['e-log']
	);
	await note(
		'o-main',
		'The main opened at a good third more than the speed it was made for and held. Its seams want a look by lamp before the next flight.',
		['e-log', 'e-main']
	);
	await note(
		'o-checklist',
		'Twice in ten set-ups the own checklist was not followed when the rail was tipped up. The stop helps; the habit stays.',
		['e-joss-later']
	);
}
