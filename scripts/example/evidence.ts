/** What was found, photographed, read and said on the day. */
import { fromLocal, type Position } from '$lib/physics/geodesy';
import type { Bench } from './bench';
import { circle, type More, phone, picture, piece, reading, statement } from './kinds';
import { photo } from './pictures';
import { BEACON_LAST_S, receiverLog, recorderLog } from './recordings';
import type { SceneName } from './scenes';
import { decimalDegrees, degreesMinutes, FIN, fix, FLIGHT, LOG, PAD } from './world';

/** Keeps a drawing as the photo that it stands for, and says what its tag says. */
async function shoot(bench: Bench, scene: SceneName, time: string, place: Position, accuracyM = 4.5) {
	const taken = { localTime: `2025-05-17T${time}`, zone: '-01:00', place, accuracyM };
	const id = await bench.attach(`f-${scene}`, `${scene}.jpg`, await photo(scene, taken));
	const tag = (await bench.file()).attachments[id]?.taken;
	if (tag?.latitude == null || tag.longitude == null) throw new Error(`${scene} carries no position`);
	return {
		id,
		position: (radius: string) => ({
			kind: 'photo',
			attachment: id,
			latitudeDeg: tag.latitude,
			longitudeDeg: tag.longitude,
			circle: circle(radius)
		})
	};
}

/** The first evening and the days after it. */
export async function evidence(bench: Bench): Promise<void> {
	const add = (id: string, record: object) => bench.do('evidence.add', { id, record });
	const bodyFix = fix(FLIGHT.body, 4, 'body');
	const finFix = fix(FLIGHT.fin, 4, 'fin');

	bench.at('2025-05-17T17:50:00Z', 'Marit');
	await add(
		'e-body',
		piece({
			title: 'Body with fins, on its side',
			description:
				'Lay where it came down, main canopy spread downwind. Fins 1 and 3 whole, fin 2 a stub. Aft end toward the south.',
			at: phone('14:58'),
			position: { kind: 'typed', typed: degreesMinutes(bodyFix), circle: circle('4 m') },
			parts: ['tube', 'fin-1', 'fin-2', 'fin-3', 'case', 'nozzle', 'closure', 'bay'],
			mass: '5.57 kg',
			pieceType: 'loaded-tube',
			damage:
				'Fin 2 ends 62 mm from the tube, along the scarf joint of the repair. Scuffed paint on one side of the tube. Nothing bent, no soil in the tube.'
		})
	);
	const finPhoto = await shoot(bench, 'fin', '16:31:40', finFix);
	await add(
		'e-fin',
		piece({
			title: 'Outer half of fin 2',
			description: 'Found by Edda in short grass, flat, joint edge up, on the fourth line of the search.',
			by: 'Edda',
			at: phone('16:31'),
			position: finPhoto.position('4.5 m'),
			parts: ['fin-2'],
			attachments: [finPhoto.id],
			mass: '88 g',
			pieceType: 'fin',
			damage: 'Whole but for the joint edge. No soil on the edge, tip corner clean.'
		})
	);
	await add(
		'e-drogue',
		piece({
			title: 'Drogue, wound round the tether',
			at: phone('14:59'),
			position: {
				kind: 'bearing',
				from: 'e-body',
				distance: '3.4 ± 0.1 m',
				bearingDeg: '118',
				reference: 'magnetic',
				bearingPlusMinusDeg: '5'
			},
			parts: ['drogue', 'swivel'],
			mass: '118 g',
			damage:
				'No tear, no burn. The leader is wound round the tether eleven times; three of nine gores could not open.'
		})
	);
	await add(
		'e-main',
		piece({
			title: 'Main canopy, spread out',
			at: phone('14:59'),
			position: {
				kind: 'bearing',
				from: 'e-body',
				distance: '6.1 ± 0.2 m',
				bearingDeg: '131',
				reference: 'magnetic',
				bearingPlusMinusDeg: '5'
			},
			parts: ['main'],
			mass: '480 g',
			pieceType: 'open-canopy',
			damage: 'None seen.'
		})
	);
	await add(
		'e-nose',
		piece({
			title: 'Nose section with the beacon',
			by: 'Edda',
			at: phone('15:01'),
			position: {
				kind: 'bearing',
				from: 'e-body',
				distance: '7.2 ± 0.2 m',
				bearingDeg: '074',
				reference: 'magnetic',
				bearingPlusMinusDeg: '5'
			},
			state: 'disturbed',
			parts: ['nose', 'beacon', 'cell', 'tether'],
			mass: '1.13 kg',
			damage:
				'Wrapper of the cell dented. Edda unplugged the cell at once, before anyone had looked how its connector sat.'
		})
	);
	await add(
		'e-leads',
		piece({
			title: 'Igniter leads with the burnt head',
			by: 'Joss',
			at: phone('14:41'),
			position: {
				kind: 'bearing',
				from: 'pad',
				distance: '2.3 ± 0.1 m',
				bearingDeg: '205',
				reference: 'magnetic',
				bearingPlusMinusDeg: '4'
			},
			parts: ['igniter'],
			mass: '4 g',
			damage: 'Insulation scorched over the last 58 mm; tape mark intact.'
		})
	);
	await add(
		'e-splinter',
		piece({
			title: 'Splinter, thought to be of the fin',
			at: phone('16:20'),
			position: {
				kind: 'typed',
				typed: decimalDegrees(fix({ eastM: 61, northM: -12 }, 4, 'splinter')),
				circle: circle('4 m')
			},
			basis: 'assumed',
			trust: 'low',
			damage: '31 mm long, pale.'
		})
	);

	const overview = await shoot(bench, 'overview', '15:04:20', bodyFix);
	const shots: [id: string, scene: SceneName, time: string, more: More][] = [
		[
			'e-photo-stub',
			'stub',
			'19:22:05',
			{
				title: 'Stub of fin 2, at the joint',
				shows: 'e-body',
				subject: 'joint edge of the stub',
				view: 'looking inward along the sheet',
				scale: 'bar, 50 mm',
				moved: 'afterMoved',
				parts: ['fin-2']
			}
		],
		[
			'e-photo-drogue',
			'drogue',
			'15:09:51',
			{
				title: 'Drogue and tether as they lay',
				shows: 'e-drogue',
				subject: 'leader wound round the tether',
				view: 'from above',
				scale: 'bar, 100 mm',
				moved: 'beforeMoved',
				parts: ['drogue', 'tether']
			}
		],
		[
			'e-photo-swivel',
			'swivel',
			'19:40:33',
			{
				title: 'Swivel of the drogue leader',
				shows: 'e-drogue',
				subject: 'gap between the two halves',
				view: 'from the side',
				scale: 'bar, 20 mm',
				moved: 'afterMoved',
				parts: ['swivel']
			}
		],
		[
			'e-photo-leads',
			'igniter',
			'19:48:12',
			{
				title: 'Igniter leads on the bench',
				shows: 'e-leads',
				subject: 'tape mark and burnt head',
				view: 'from above',
				scale: 'bar, 40 mm',
				moved: 'afterMoved',
				parts: ['igniter']
			}
		],
		[
			'e-photo-beacon',
			'beacon',
			'19:55:47',
			{
				title: 'Beacon sled, connector at the left',
				shows: 'e-nose',
				subject: 'two-pin connector of the cell, unplugged by hand',
				view: 'from above',
				scale: 'bar, 20 mm',
				moved: 'afterMoved',
				parts: ['beacon', 'cell']
			}
		]
	];
	await add(
		'e-photo-body',
		picture({
			title: 'Body, tether and nose section as found',
			shows: 'e-body',
			by: 'Joss',
			at: phone('15:04:20'),
			position: overview.position('4.5 m'),
			attachments: [overview.id],
			subject: 'all that hung on the tether',
			view: 'from the west, 5 m away',
			scale: 'bar, 0.5 m',
			moved: 'beforeMoved'
		})
	);
	for (const [id, scene, time, more] of shots) {
		const shot = await shoot(bench, scene, time, moreThan19(time) ? PAD : bodyFix);
		await add(
			id,
			picture({
				...more,
				by: 'Joss',
				at: phone(time),
				attachments: [shot.id],
				state: moreThan19(time) ? 'disturbed' : 'asFound'
			})
		);
	}
	const still = await shoot(bench, 'still', '14:35:36', fromLocal(PAD, { eastM: -120, northM: -85 }));
	await add(
		'e-still',
		picture({
			title: 'Film, 0.4 s after the switch',
			description:
				'Single picture from Edda’s film. The lamp of the pad box, which lights with the switch, comes on ten pictures earlier (25 a second).',
			by: 'Edda',
			at: { kind: 'clock', clock: 'c-edda', reading: '2025-05-17 14:35:36' },
			position: still.position('5 m'),
			attachments: [still.id],
			state: 'notKnown',
			subject: 'white smoke under the nozzle, no flame',
			view: 'from the camera line, 147 m',
			scale: 'the vehicle, 2.1 m',
			moved: 'beforeMoved'
		})
	);

	bench.at('2025-05-17T19:30:00Z', 'Joss');
	await add(
		'e-power-up',
		reading({
			title: 'Recorder at first power-up',
			by: 'Joss',
			at: phone('18:20'),
			device: 'flight recorder, in the electronics bay',
			readingKind: 'firstPowerUp',
			wiredToCharges: 'no',
			tones: 'one long, nought, nought; written down as counted, twice',
			display: 'no display',
			parts: ['bay'],
			values: [{ label: 'peak height', value: `${LOG.apogeeM} m` }]
		})
	);
	bench.at('2025-05-17T20:10:00Z', 'Marit');
	const log = await bench.attach('f-log', 'recorder-flight-3.csv', recorderLog());
	await add(
		'e-log',
		reading({
			title: 'Height and supply, whole flight',
			at: phone('19:05'),
			device: 'flight recorder',
			parts: ['bay'],
			attachments: [log],
			description:
				'Twenty samples a second. Heights are pressure heights above the pad, corrected for the temperature of the day.',
			values: [
				{ label: 'apogee', value: `${LOG.apogeeM} ± 8 m` },
				{ label: 'mean descent rate under the drogue', value: `${LOG.drogueMS.toFixed(1)} ± 0.4 m/s` },
				{ label: 'mean descent rate under the main', value: '6.4 ± 0.2 m/s' },
				{ label: 'lowest supply while an output fired', value: '7.3 ± 0.1 V' }
			]
		})
	);
	const heard = await bench.attach('f-receiver', 'receiver.csv', receiverLog());
	await add(
		'e-receiver',
		reading({
			title: 'Beacon as heard on the ground',
			by: 'Edda',
			at: { kind: 'clock', clock: 'c-receiver', reading: '2025-05-17 14:32:51' },
			device: 'ground receiver',
			attachments: [heard],
			description: 'One packet a second, none lost until the last. Antenna followed by hand.',
			values: [
				{ label: 'last packet after lift-off', value: `${BEACON_LAST_S} ± 1 s` },
				{ label: 'fall of the signal over the last ten packets', value: '1 ± 2' }
			]
		})
	);
	await add(
		'e-pad-box',
		reading({
			title: 'Pad box while the switch was closed',
			by: 'Joss',
			at: phone('14:32'),
			device: 'pad box, lowest-value display',
			readingKind: 'display',
			display: '11.8 V lowest, 6.2 A highest',
			values: [
				{ label: 'lowest voltage under load', value: '11.8 ± 0.1 V' },
				{ label: 'highest current', value: '6.2 ± 0.2 A' }
			]
		})
	);

	bench.at('2025-05-17T20:40:00Z', 'Marit');
	await add(
		'e-joss',
		statement({
			title: 'What Joss saw and heard',
			by: 'Marit',
			at: phone('15:10'),
			from: 'Joss, range safety, 90 m from the pad',
			words:
				'I closed the switch and there was a puff straight away, then nothing. I counted four and was about to call a hang fire when it lit. There was a crack while it still burned. Something small went over my head a bit later, turning.',
			trustReason: 'Written down 40 minutes after the flight, before anyone spoke about it'
		})
	);
	await add(
		'e-edda',
		statement({
			title: 'What Edda saw and heard',
			by: 'Marit',
			at: phone('15:25'),
			from: 'Edda, at the camera, 147 m from the pad',
			words:
				'A crack just after the motor went quiet. On the way down it was turning like a top, faster and faster, and the orange thing never really opened. I lost the beacon and thought it was my aim.',
			trustReason: 'Written down before anyone spoke about it'
		})
	);
	await add(
		'e-joss-later',
		statement({
			title: 'What Joss added on the Sunday',
			by: 'Marit',
			at: { kind: 'clock', clock: 'c-joss', reading: '2025-05-18 10:15' },
			from: 'Joss, range safety',
			words:
				'When we tipped the vehicle up on the rail the igniter was in already, and nobody pulled the leads straight afterwards. We only taped them again.',
			beforeDiscussion: 'no',
			trustReason: 'Said after the photos had been looked at together'
		})
	);
	bench.ids('k-crack');
	await bench.do('conflict.save', {
		record: {
			between: ['e-joss', 'e-edda'],
			what: 'Joss heard the crack while the motor burned, Edda after it had gone quiet; both stood where sound needs under a second.',
			owner: 'Marit',
			state: 'unresolved',
			resolution: ''
		}
	});
	await bench.do('evidence.withdraw', {
		id: 'e-splinter',
		reason: 'Under the lens it is wood, an old fence stake; no glass in it.'
	});
	const before = (await bench.file()).evidence['e-fin'];
	await bench.do('evidence.correct', {
		id: 'e-fin',
		record: { ...before, mass: `${FIN.massG} ± 0.2 g` },
		reason: 'The field scale showed 88 g with a flat battery; weighed again at home on the bench scale.'
	});
}

const moreThan19 = (time: string) => time >= '19';
