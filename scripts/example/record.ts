/** Before the flight and the first evening: the vehicle, what flew, make-safe, site, weather, what was expected. */
import { asChanges, beginInvestigation, partsAsFlown } from '$lib/investigation/start';
import { emptyVehicle, FORMAT_VERSION } from '$lib/investigation/case';
import { readWindTable } from '$lib/investigation/operations/wind-table';
import { type Bench, INVESTIGATION_ID, VEHICLE_ID } from './bench';
import { balloonWind } from './recordings';
import { decimalDegrees, DROGUE, FLIGHT, PAD, SITE } from './world';

export const FIRST_BUILD = 'airframe-1';
export const SECOND_BUILD = 'airframe-2';
export const THIRD_BUILD = 'airframe-3';

/** Name, group, grams, uses before flight 3 (null: not counted), what it is. */
const PARTS: readonly [
	id: string,
	name: string,
	group: string,
	grams: string,
	uses: number | null,
	note: string
][] = [
	[
		'nose',
		'Nose section',
		'airframe',
		'640 g',
		2,
		'turned foam core under glass laminate, carries the beacon'
	],
	[
		'tube',
		'Body tube',
		'airframe',
		'1920 g',
		2,
		'98 mm, wound glass laminate, 1.32 m, with motor mount and fillets'
	],
	['fin-1', 'Fin 1', 'airframe', '212 g', 2, '4 mm glass laminate from one sheet'],
	[
		'fin-2',
		'Fin 2',
		'airframe',
		'218 g',
		2,
		'4 mm glass laminate; outer half joined on by a scarf after flight 2'
	],
	['fin-3', 'Fin 3', 'airframe', '213 g', 2, '4 mm glass laminate from one sheet'],
	[
		'case',
		'Motor case',
		'motor',
		'1620 g',
		4,
		'turned aluminium tube, own work; proof-tested before flight 1'
	],
	['nozzle', 'Nozzle', 'motor', '240 g', 2, 'turned graphite, own work'],
	['closure', 'Forward closure', 'motor', '310 g', 4, 'turned aluminium, own work'],
	['igniter', 'Igniter', 'motor', '6 g', 0, 'from the bag of six made in April'],
	[
		'bay',
		'Electronics bay with recorder',
		'electronics',
		'930 g',
		2,
		'printed sled; one recorder, two outputs'
	],
	['beacon', 'Beacon sled', 'electronics', '138 g', 3, 'own board in the nose section, sends once a second'],
	[
		'cell',
		'Beacon cell',
		'electronics',
		'46 g',
		7,
		'one lithium cell with a protection board, two-pin connector'
	],
	['drogue', 'Drogue', 'recovery', '96 g', 5, 'nine gores, 0.36 m² of drag area as measured behind a car'],
	['swivel', 'Swivel of the drogue leader', 'recovery', '22 g', 3, 'plain bearing, greased'],
	['tether', 'Tether', 'recovery', '310 g', 5, '9 m of tubular webbing'],
	['main', 'Main canopy', 'recovery', '480 g', 5, 'sixteen gores, opens at 200 m']
];

/** The vehicle's own file, its builds and two earlier flights. */
export async function vehicle(bench: Bench): Promise<void> {
	bench.at('2024-06-02T18:00:00Z', 'Marit');
	const file = {
		...emptyVehicle(),
		format: { main: { version: FORMAT_VERSION } },
		vehicle: {
			main: {
				name: 'Lantern 2',
				description:
					'98 mm, 2.1 m long, home-built airframe, motor hardware and electronics. Drogue at apogee, main at 200 m. Part of the example: an invented vehicle.'
			}
		}
	};
	await bench.create(`vehicles/${VEHICLE_ID}`, 'vehicle.begin', { name: 'Lantern 2' }, asChanges(file));
	await build(bench, FIRST_BUILD, 'first airframe', 'Heavier paper tube; test bed for procedures.');
	await part(bench, 'first-igniter-stop', FIRST_BUILD, 'Igniter and its stop', 'motor', '9 g', 5, 'test bed');
	await build(bench, SECOND_BUILD, 'second airframe', 'Wound tube, thinner fins, 0.9 kg lighter.');
	for (const [id, name, group, grams, uses, note] of PARTS)
		await part(
			bench,
			`p-${id}`,
			SECOND_BUILD,
			name,
			group,
			grams,
			uses === null ? null : Math.max(0, uses - 2),
			note
		);

	for (const [cleared, flown, flight] of [
		['2024-09-13T17:00:00Z', '2024-09-14T19:00:00Z', 'flight 1, 14 September 2024'],
		['2025-03-21T17:00:00Z', '2025-03-22T18:00:00Z', 'flight 2, 22 March 2025']
	] as const) {
		bench.at(cleared, 'Joss');
		await clear(bench, SECOND_BUILD, 'Parts list read, ground tests seen.');
		bench.at(flown, 'Marit');
		await bench.doVehicle('build.flew', { build: SECOND_BUILD, flight });
	}
	// What was renewed after flight 2 starts anew.
	bench.at('2025-04-12T16:00:00Z', 'Marit');
	await part(
		bench,
		'p-igniter',
		SECOND_BUILD,
		'Igniter',
		'motor',
		'6 g',
		0,
		'from the bag of six made in April',
		true
	);
	bench.at('2025-05-16T18:00:00Z', 'Joss');
	await clear(bench, SECOND_BUILD, 'Repair of fin 2 looked at and accepted; drogue repacked by Marit.');
}

async function build(bench: Bench, id: string, name: string, description: string) {
	bench.ids(id);
	await bench.doVehicle('build.save', { record: { name, description, state: 'building' } });
}

async function part(
	bench: Bench,
	id: string,
	buildId: string,
	name: string,
	group: string,
	mass: string,
	uses: number | null,
	description: string,
	there = false
) {
	if (!there) bench.ids(id);
	const record = { build: buildId, name, group, description, mass, uses };
	await bench.doVehicle('vehiclePart.save', { ...(there ? { id } : {}), record });
}

/** @param built  changes of this investigation that were found built in */
export async function clear(bench: Bench, buildId: string, note: string, built: readonly string[] = []) {
	bench.ids(`clear-${buildId}-${bench.now.toISOString().slice(0, 10)}`);
	await bench.doVehicle('clearance.clear', {
		build: buildId,
		by: 'Joss',
		waivers: [],
		built: built.map((change) => ({ investigation: INVESTIGATION_ID, change })),
		note
	});
}

/** Everything that the record room holds, in the order in which it was written down. */
export async function record(bench: Bench): Promise<void> {
	bench.at('2025-05-17T16:05:00Z', 'Marit');
	const flown = await bench.vehicle();
	let i = 0;
	const parts = partsAsFlown(flown, SECOND_BUILD, () => PARTS[i++]![0]);
	// The list comes in the vehicle's order; each keeps the identity of its part.
	const named = parts.map(([, p]) => [p.vehiclePart!.replace(/^p-/, ''), p] as [string, typeof p]);
	const begun = beginInvestigation(
		{
			title: 'Lantern 2, flight 3: half a fin gone',
			vehicle: VEHICLE_ID,
			vehicleName: 'Lantern 2',
			build: SECOND_BUILD,
			buildName: 'second airframe',
			flownAt: '2025-05-17 14:32:08.0',
			zoneMinutes: -60
		},
		named
	);
	if (!begun.ok) throw new Error(JSON.stringify(begun.problems));
	const { title, changes } = begun.value;
	await bench.create(`investigations/${INVESTIGATION_ID}`, 'begin', { title }, changes);
	await bench.doVehicle('build.flew', { build: SECOND_BUILD, flight: 'flight 3, 17 May 2025' });
	const file = await bench.file();
	await bench.do('about.save', {
		record: {
			...file.about['main'],
			launchDirection: { bearingDeg: '296', reference: 'true', elevationDeg: '87' },
			padChanges:
				'Leads of the igniter taped again at the rail after the vehicle was tipped up. Nothing else.',
			note: 'This is the example that comes with the tool. Vehicle, people, place and every number in it are invented; the flight, the falls and the recordings were computed, and the pictures are drawings. It shows each room with something in it. Change what you like: your own investigations are not touched by it.'
		}
	});
	await hazards(bench);
	await place(bench);
	await air(bench);
	await expectations(bench);
	await clocks(bench);
}

async function hazards(bench: Bench) {
	const save = async (id: string, what: string, kind: string, more: object, there = false) => {
		if (!there) bench.ids(id);
		const record = { what, kind, state: 'notKnown', by: '', at: '', evidence: null, note: '', ...more };
		await bench.do('hazard.save', { ...(there ? { id } : {}), record });
	};
	const joss = (time: string, note: string) => ({
		state: 'safe',
		by: 'Joss',
		at: `2025-05-17 ${time}`,
		note
	});
	await save('h-apogee', 'Apogee charge', 'charge', joss('15:02', 'Fired: holder empty, leads burnt.'));
	await save('h-main-1', 'Main charge, first output', 'charge', joss('15:03', 'Fired: holder empty.'));
	await save('h-main-2', 'Main charge, second output', 'charge', {
		note: 'The canopy was out already, so nobody can tell from outside. Stay clear of the open end until Joss has looked.'
	});
	await save('h-cell', 'Beacon cell in the nose section', 'cell', {
		note: 'Wrapper dented. Leave it in the open, away from the grass.'
	});
	await save(
		'h-case',
		'Motor case',
		'hot',
		joss('15:20', 'Cool to the back of the hand before anyone lifted it.')
	);
	await save(
		'h-unburnt',
		'Unburnt propellant',
		'propellant',
		joss('15:21', 'Looked in from the nozzle end by lamp: none seen.')
	);
	bench.at('2025-05-17T17:10:00Z', 'Joss');
	await save(
		'h-main-2',
		'Main charge, second output',
		'charge',
		joss(
			'16:05',
			'Recorder parted from both outputs, leads shorted, holder opened away from people: it had fired too.'
		),
		true
	);
	await save(
		'h-cell',
		'Beacon cell in the nose section',
		'cell',
		joss(
			'16:12',
			'Unplugged, 3.9 V, cool after an hour in a steel box. Goes to the recycler; nobody charges it again.'
		),
		true
	);
	await bench.do('hazard.allListed', { all: true });
}

async function place(bench: Bench) {
	bench.at('2025-05-17T17:25:00Z', 'Marit');
	const told = (who: string, name: string, when: string, note: string) => ({ who, name, when, note });
	await bench.do('site.save', {
		record: {
			name: 'Tallow Heath, island of Far Morrow (an invented place)',
			pad: { kind: 'typed', typed: decimalDegrees(PAD), circle: { radius: '3 m', level: 0.68 } },
			elevation: `${SITE.elevationM} m`,
			declinationDeg: '8.1 W',
			ownersLeave: 'yes',
			powerLines: 'no',
			water: 'no',
			fireRisk: 'yes',
			accessNote:
				'There is no such heath: open Atlantic lies at these coordinates, so that nobody goes looking. In the story it is grazing land, open heather and short grass, 2 km across. The grass is dry: beaters and water stand by the pad, nobody drives off the track. Leave of the grazier for the day and for the search.',
			told: [
				told(
					'range',
					'Joss, range safety',
					'2025-05-17 14:34',
					'Range closed, stays closed until both pieces are accounted for.'
				),
				told(
					'owner',
					'the grazier',
					'2025-05-17 15:30',
					'Half a fin may lie in the lower field; please do not mow before it is found.'
				),
				told(
					'club',
					'the club’s secretary',
					'2025-05-17 20:10',
					'Half a fin lost in flight, ignition four seconds late, nobody hurt.'
				)
			]
		}
	});
}

async function air(bench: Bench) {
	const text = balloonWind();
	const sounding = await bench.attach('f-wind', 'balloon-wind-13-20.txt', text);
	const read = readWindTable(text, 'abovePad');
	if (!read.ok) throw new Error(JSON.stringify(read.problems));
	const { wind } = read.value;
	await bench.do('weather.save', {
		record: {
			surfaceTemperature: `${SITE.temperatureC} °C`,
			surfacePressure: `${SITE.pressureHPa} hPa`,
			pressureIs: 'atSite',
			heightsAre: 'abovePad',
			fromReference: 'true',
			wind,
			speedSpread: '15 %',
			directionSpreadDeg: '8°',
			sounding,
			source: 'Joss’s pilot balloon, followed by theodolite at 13:20, 72 minutes before the flight',
			note: 'Half cloudy, dry, no showers seen. The balloon is an hour old, so speed and direction carry a spread.'
		}
	});
}

async function expectations(bench: Bench) {
	const expect = (id: string, what: string, value: string, source: string, label = '') =>
		bench.do('expected.add', { id, record: { what, label, value, source } });
	const own = 'own simulation of 10 May, drag taken from flight 1';
	await expect('x-apogee', 'apogee', `${Math.round(FLIGHT.expected.heightM)} ± 60 m`, own);
	await expect('x-time', 'timeToApogee', `${FLIGHT.expected.t.toFixed(1)} ± 0.4 s`, own);
	await expect('x-speed', 'maxSpeed', `${Math.round(FLIGHT.greatestSpeedMS)} ± 6 m/s`, own);
	await expect('x-burn', 'burnTime', '2.6 ± 0.1 s', 'static firing of 2 March');
	await expect('x-descent', 'descentTime', '87 ± 5 s', 'from the rates below');
	await expect('x-drogue', 'drogueRate', `${DROGUE.plannedMS} ± 1 m/s`, 'flights 1 and 2');
	await expect('x-main-height', 'mainHeight', '200 m', 'recorder setting');
	await expect('x-main', 'mainRate', '6.5 ± 0.4 m/s', 'flights 1 and 2');
	await expect('x-ignition', 'other', '0.3 ± 0.2 s', 'nine earlier ignitions', 'switch to ignition');
}

async function clocks(bench: Bench) {
	const clock = (id: string, name: string, kind: string, zone: string, ahead: string, note: string) =>
		bench.do('clock.add', { id, record: { name, kind, zoneMinutes: zone, ahead, note } });
	await clock(
		'c-joss',
		'Joss’s phone',
		'phone',
		'-01:00',
		'0 ± 0.5 s',
		'Network time, checked at noon. All photos were taken with it.'
	);
	await clock(
		'c-edda',
		'Edda’s camera',
		'camera',
		'-01:00',
		'212 ± 1 s',
		'Runs 3 min 32 s ahead: it filmed the screen of Joss’s phone that evening.'
	);
	await clock(
		'c-receiver',
		'Ground receiver',
		'recorder',
		'-01:00',
		'2.0 ± 0.5 s',
		'Set by hand in the morning.'
	);
	await clock(
		'c-marit',
		'Memory of the day',
		'memory',
		'-01:00',
		'0 ± 20 s',
		'Written down at the pad the same hour, by no clock: good to some twenty seconds.'
	);
}
