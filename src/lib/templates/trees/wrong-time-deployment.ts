import type { StartingTree } from '../starting-tree';

export const wrongTimeDeployment: StartingTree = {
	id: 'wrong-time-deployment',
	title: 'Early or late deployment',
	takeIt: 'It deployed, but at another height, speed or moment than planned.',
	causes: [
		{
			name: 'told',
			title: 'Recorder fired at the wrong moment',
			of: [
				{
					name: 'setting',
					title: 'Stored delay or height differed from the plan',
					often: 0.05,
					fault: 'command'
				},
				{
					name: 'ports',
					title: 'Static ports misplaced, too small or shaded by a step',
					often: 0.05,
					fault: 'command'
				},
				{
					name: 'mach',
					title: 'Pressure wave near the speed of sound read as apogee',
					often: 0.01,
					fault: 'secondary'
				},
				{
					name: 'sensor',
					title: 'Pressure or acceleration sensor drifted or was off',
					often: 0.01,
					fault: 'primary'
				},
				{ name: 'leak', title: 'Charge gas or wind got into the sensor bay', often: 0.01, fault: 'secondary' }
			]
		},
		{
			name: 'train',
			title: 'Delay train of the motor burned off its time',
			of: [
				{
					name: 'slow',
					title: 'Delay grain of another length or burning rate',
					often: 0.05,
					fault: 'primary'
				},
				{ name: 'path', title: 'Flame passed beside the delay grain', often: 0.01, fault: 'primary' }
			]
		},
		{
			name: 'untold',
			title: 'Sections parted without a command',
			of: [
				{
					name: 'drag',
					title: 'Aft section slowed more than the forward one at burnout',
					often: 0.05,
					fault: 'secondary'
				},
				{
					name: 'pressure',
					title: 'Trapped air pushed the joint apart in the climb',
					often: 0.01,
					fault: 'secondary'
				},
				{ name: 'pins', title: 'Shear pins missing, cracked or too weak', often: 0.05, fault: 'primary' }
			]
		},
		{
			name: 'hung',
			title: 'Command came in time but the part let go late',
			of: [
				{ name: 'release', title: 'Release of the main stuck, then let go', often: 0.05, fault: 'primary' },
				{ name: 'bag', title: 'Bundle came out slowly against friction', often: 0.05, fault: 'primary' }
			]
		}
	],
	signs: [
		{
			sign: 'Setting read back differs from the plan',
			where: 'settings of the recorder, read out before anything is written to it',
			anyway: 0.01,
			minutes: 15,
			shownBy: { setting: 0.99 }
		},
		{
			sign: 'Firing logged at the moment of deployment',
			where: 'event list against the acceleration trace',
			anyway: 0.3,
			minutes: 20,
			shownBy: { setting: 0.99, ports: 0.99, mach: 0.99, sensor: 0.99, leak: 0.9 }
		},
		{
			sign: 'Pressure height and integrated acceleration disagree',
			where: 'both traces on one clock',
			anyway: 0.1,
			minutes: 30,
			shownBy: { ports: 0.7, mach: 0.9, sensor: 0.7, leak: 0.5 }
		},
		{
			sign: 'Step in pressure within a second of the speed of sound',
			where: 'pressure trace beside the speed',
			anyway: 0.1,
			minutes: 20,
			shownBy: { mach: 0.99 }
		},
		{
			sign: 'Port near a shoulder, rail button or fin, or smaller than planned',
			where: 'ports measured on the airframe',
			anyway: 0.1,
			minutes: 5,
			shownBy: { ports: 0.9 }
		},
		{
			sign: 'Recorder reads off at rest against a second instrument',
			where: 'bench, at two known pressures',
			anyway: 0.05,
			minutes: 45,
			shownBy: { sensor: 0.9 }
		},
		{
			sign: 'Soot or a gap on the wall of the sensor bay',
			where: 'wire passes and joints of the bay',
			anyway: 0.05,
			minutes: 5,
			shownBy: { leak: 0.7 }
		},
		{
			sign: 'Delay of a sister motor measures off on the stand',
			where: 'same batch, fired by the rules of the range',
			anyway: 0.05,
			minutes: 240,
			shownBy: { slow: 0.7, path: 0.1 },
			destructive: true
		},
		{
			sign: 'Burn track along the side of the delay grain',
			where: 'delay bore and seal, motor taken apart when cold and safe',
			anyway: 0.01,
			minutes: 60,
			shownBy: { path: 0.9 }
		},
		{
			sign: 'Parting falls together with burnout',
			where: 'acceleration trace, video',
			anyway: 0.05,
			minutes: 20,
			shownBy: { drag: 0.9, pins: 0.5 }
		},
		{
			sign: 'No vent hole in the closed bay',
			where: 'each bay that is closed at lift-off',
			anyway: 0.1,
			minutes: 10,
			shownBy: { pressure: 0.9 }
		},
		{
			sign: 'Charge burned after the sections were apart',
			where: 'soot on the outside or none in the bay; log against video',
			anyway: 0.01,
			minutes: 20,
			shownBy: { drag: 0.7, pressure: 0.7, pins: 0.7 }
		},
		{
			sign: 'Pin stubs missing or broken at a flaw',
			where: 'pin holes and stubs under a lens',
			anyway: 0.05,
			minutes: 15,
			shownBy: { pins: 0.7 }
		},
		{
			sign: 'Release sticks when worked by hand',
			where: 'release under its flight load on the bench',
			anyway: 0.05,
			minutes: 45,
			shownBy: { release: 0.7 }
		},
		{
			sign: 'Cloth scuffed along its folds, long gap between parting and opening',
			where: 'bundle, video, descent rate in the log',
			anyway: 0.05,
			minutes: 20,
			shownBy: { bag: 0.7, release: 0.3 }
		}
	],
	calculations: ['pressure-altitude', 'reconcile-readings', 'ascent', 'deployment-speed', 'deployment-charge']
};
