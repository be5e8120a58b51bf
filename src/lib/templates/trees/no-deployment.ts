import type { StartingTree } from '../starting-tree';

export const noDeployment: StartingTree = {
	id: 'no-deployment',
	title: 'No deployment',
	takeIt: 'Nothing came out: it fell whole, or parted and the parachute stayed inside.',
	causes: [
		{
			name: 'silent',
			title: 'No charge burned',
			gate: 'and',
			of: [
				{
					name: 'first',
					title: 'First charge did not burn',
					of: [
						{
							name: 'igniter',
							title: 'Igniter of the first charge open or its head cracked',
							often: 0.01,
							fault: 'primary'
						},
						{
							name: 'wire',
							title: 'Igniter wire came loose at its terminal',
							often: 0.01,
							fault: 'secondary'
						},
						{ name: 'output', title: 'First output gave no firing current', often: 0.01, fault: 'primary' },
						'power',
						'ports'
					]
				},
				{
					name: 'second',
					title: 'Second charge did not burn',
					of: [
						{ name: 'none', house: 'No second charge is fitted' },
						{
							name: 'igniter2',
							title: 'Igniter of the second charge open or its head cracked',
							often: 0.01,
							fault: 'primary'
						},
						{
							name: 'power',
							title: 'Supply to both outputs cut or its cell too low',
							often: 0.01,
							fault: 'secondary'
						},
						{
							name: 'ports',
							title: 'Static ports blocked or leaking, apogee not detected',
							often: 0.01,
							fault: 'command'
						}
					]
				}
			]
		},
		{
			name: 'shut',
			title: 'Charge burned but the airframe did not part',
			of: [
				{
					name: 'small',
					title: 'Charge too small for the volume and the pins',
					often: 0.05,
					fault: 'command'
				},
				{
					name: 'leak',
					title: 'Gas leaked past a bulkhead or through an open hole',
					often: 0.01,
					fault: 'primary'
				},
				{ name: 'pins', title: 'Shear pins held more than was planned', often: 0.01, fault: 'primary' },
				{ name: 'joint', title: 'Joint swollen, bent or jammed by dirt', often: 0.05, fault: 'secondary' }
			]
		},
		{
			name: 'inside',
			title: 'Airframe parted but the parachute stayed inside',
			of: [
				{ name: 'tight', title: 'Packed bundle jammed in the tube', often: 0.05, fault: 'primary' },
				{
					name: 'snag',
					title: 'Tether or protector caught on a part in the bay',
					often: 0.01,
					fault: 'secondary'
				}
			]
		}
	],
	signs: [
		{
			sign: 'Charge holder still full',
			where: 'each charge holder, once the scene is safe; an unfired charge can still fire',
			anyway: 0.01,
			minutes: 10,
			shownBy: { silent: 0.99 }
		},
		{
			sign: 'Soot in the parachute bay',
			where: 'bay wall, bulkhead face, protector',
			anyway: 0.05,
			minutes: 5,
			shownBy: { small: 0.9, leak: 0.9, pins: 0.99, joint: 0.99, tight: 0.99, snag: 0.99 }
		},
		{
			sign: 'First igniter reads open',
			where: 'resistance of the removed igniter, measured as its instructions and the range allow',
			anyway: 0.05,
			minutes: 10,
			shownBy: { igniter: 0.99 }
		},
		{
			sign: 'Second igniter reads open',
			where: 'resistance of the removed igniter, measured as its instructions and the range allow',
			anyway: 0.05,
			minutes: 10,
			shownBy: { igniter2: 0.99 }
		},
		{
			sign: 'Wire end bare and free of its terminal',
			where: 'terminals and wire ends, photographed before anything is moved',
			anyway: 0.05,
			minutes: 10,
			shownBy: { wire: 0.99 }
		},
		{
			sign: 'Recorder logged a firing that left the charge unburned',
			where: 'event list of the recorder beside the charge holders',
			anyway: 0.01,
			minutes: 15,
			shownBy: { igniter: 0.7, wire: 0.7, output: 0.5, igniter2: 0.7 }
		},
		{
			sign: 'No voltage on the output in a bench test with a lamp',
			where: 'recorder output, charges removed, on a fresh cell',
			anyway: 0.01,
			minutes: 45,
			shownBy: { output: 0.7 }
		},
		{
			sign: 'Log stops in flight or the cell reads low',
			where: 'last record of the log; cell voltage at rest and under load',
			anyway: 0.05,
			minutes: 20,
			shownBy: { power: 0.9 }
		},
		{
			sign: 'Logged height lags or is flat through apogee',
			where: 'pressure trace between burnout and descent',
			anyway: 0.01,
			minutes: 20,
			shownBy: { ports: 0.9 }
		},
		{
			sign: 'Pressure spike in the bay with the joint still closed',
			where: 'pressure trace at the firing; witness marks at the joint',
			anyway: 0.01,
			minutes: 20,
			shownBy: { small: 0.3, pins: 0.5, joint: 0.5 }
		},
		{
			sign: 'Soot track at a hole, wire pass or bulkhead edge',
			where: 'far side of each bulkhead, avionics bay',
			anyway: 0.05,
			minutes: 5,
			shownBy: { leak: 0.9 }
		},
		{
			sign: 'Pins bent or their holes drawn out, not sheared',
			where: 'pins and pin holes under a lens',
			anyway: 0.05,
			minutes: 15,
			shownBy: { pins: 0.7, small: 0.5 }
		},
		{
			sign: 'Joint takes far more force than before the flight',
			where: 'pull the joint by hand with a scale, at the temperature of the flight',
			anyway: 0.05,
			minutes: 45,
			shownBy: { joint: 0.7 }
		},
		{
			sign: 'Bundle still in the tube, scuffed along its sides',
			where: 'look down the open tube before anything is drawn out',
			anyway: 0.01,
			minutes: 10,
			shownBy: { tight: 0.9, snag: 0.3 }
		},
		{
			sign: 'Loop of tether or cloth hooked on a part',
			where: 'bolt ends, brackets and edges in the bay',
			anyway: 0.05,
			minutes: 5,
			shownBy: { snag: 0.9 }
		}
	],
	calculations: ['deployment-charge', 'pressure-altitude', 'descent', 'impact']
};
