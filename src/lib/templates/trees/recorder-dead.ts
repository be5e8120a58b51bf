import type { StartingTree } from '../starting-tree';

export const recorderDead: StartingTree = {
	id: 'recorder-dead',
	title: 'Recorder dead or contradicting',
	takeIt: 'A recorder kept nothing, stopped, or says what cannot be.',
	causes: [
		{
			name: 'power',
			title: 'Recorder lost its supply',
			of: [
				{ name: 'cell', title: 'Cell too low, too cold or damaged', often: 0.05, fault: 'primary' },
				{
					name: 'contact',
					title: 'Contact, clip or switch opened under shock',
					often: 0.05,
					fault: 'secondary'
				},
				{ name: 'drop', title: 'Firing current pulled the supply down', often: 0.05, fault: 'secondary' },
				{ name: 'off', title: 'Recorder not switched on at lift-off', often: 0.01, fault: 'command' }
			]
		},
		{
			name: 'store',
			title: 'It ran but kept nothing or too little',
			of: [
				{ name: 'trigger', title: 'Launch not detected, log never began', often: 0.01, fault: 'command' },
				{ name: 'full', title: 'Memory full or overwritten', often: 0.05, fault: 'command' },
				{ name: 'chip', title: 'Memory or board broken at impact', often: 0.05, fault: 'secondary' }
			]
		},
		{
			name: 'wrong',
			title: 'It kept readings that are wrong',
			of: [
				{
					name: 'ports',
					title: 'Static ports blocked, too small or leaking',
					often: 0.05,
					fault: 'secondary'
				},
				{ name: 'sensor', title: 'Sensor drifted or was past its range', often: 0.05, fault: 'primary' },
				{ name: 'loose', title: 'Board moved or shook in its mount', often: 0.05, fault: 'secondary' },
				{ name: 'clock', title: 'Clock of the recorder off or restarted', often: 0.05, fault: 'primary' }
			]
		}
	],
	signs: [
		{
			sign: 'Cell low at rest or under load',
			where: 'cell voltage, taken off the circuit; a damaged cell is left alone',
			anyway: 0.05,
			minutes: 15,
			shownBy: { cell: 0.9 }
		},
		{
			sign: 'Supply drops out when shaken',
			where: 'clip, switch and plug on the bench, charges removed',
			anyway: 0.05,
			minutes: 45,
			shownBy: { contact: 0.7 }
		},
		{
			sign: 'Log ends at a jolt',
			where: 'last second of the log',
			anyway: 0.05,
			minutes: 20,
			shownBy: { contact: 0.9, chip: 0.5 }
		},
		{
			sign: 'Log ends or restarts at a firing',
			where: 'last record and the event list',
			anyway: 0.01,
			minutes: 15,
			shownBy: { drop: 0.9 }
		},
		{
			sign: 'No start-up tones on any video of the pad',
			where: 'sound of the pad videos',
			anyway: 0.1,
			minutes: 20,
			shownBy: { off: 0.9 }
		},
		{
			sign: 'Switch found open',
			where: 'switch as found, before any hand is on it',
			anyway: 0.05,
			minutes: 1,
			shownBy: { off: 0.9, contact: 0.3 }
		},
		{
			sign: 'Recorder still waiting for launch when found',
			where: 'tones and display, video running, before power is cut',
			anyway: 0.01,
			minutes: 5,
			shownBy: { trigger: 0.9 }
		},
		{
			sign: 'Old flight in place of this one, or a log cut short',
			where: 'read-out of the whole memory, on a copy',
			anyway: 0.01,
			minutes: 60,
			shownBy: { full: 0.9, trigger: 0.5 }
		},
		{
			sign: 'Crack or missing part on the board',
			where: 'board under a lens, before power is put on',
			anyway: 0.05,
			minutes: 15,
			shownBy: { chip: 0.9 }
		},
		{
			sign: 'Height lags the acceleration or jumps',
			where: 'pressure trace beside the integrated acceleration',
			anyway: 0.05,
			minutes: 30,
			shownBy: { ports: 0.9, sensor: 0.3 }
		},
		{
			sign: 'Ports blocked or off their planned size',
			where: 'ports and the seal of the bay',
			anyway: 0.05,
			minutes: 20,
			shownBy: { ports: 0.7 }
		},
		{
			sign: 'Reading off at rest, or held at its end stop',
			where: 'bench against a known pressure and 1 g',
			anyway: 0.05,
			minutes: 45,
			shownBy: { sensor: 0.9 }
		},
		{
			sign: 'Mount broken or board free to move',
			where: 'mount, screws and tape',
			anyway: 0.1,
			minutes: 5,
			shownBy: { loose: 0.9, contact: 0.3 }
		},
		{
			sign: 'Same moment differs between two logs',
			where: 'lift-off and landing in each log',
			anyway: 0.1,
			minutes: 30,
			shownBy: { clock: 0.9 }
		}
	],
	calculations: ['reconcile-readings', 'pressure-altitude', 'ascent', 'descent', 'sound-and-light']
};
