import type { StartingTree } from '../starting-tree';

export const separationUnderBoost: StartingTree = {
	id: 'separation-under-boost',
	title: 'Separation under boost',
	takeIt: 'Sections came apart while the motor burned or just after.',
	causes: [
		{
			name: 'bending',
			title: 'Side load bent the joint open',
			gate: 'and',
			of: [
				{
					name: 'side',
					title: 'Airframe met a large side load',
					of: [
						{
							name: 'angle',
							title: 'Vehicle flew at a large angle to the air',
							often: 0.05,
							fault: 'secondary'
						},
						{ name: 'thrust', title: 'Thrust pushed beside the axis', often: 0.01, fault: 'secondary' }
					]
				},
				{
					name: 'short',
					title: 'Coupler too short or too loose for the side load',
					often: 0.1,
					fault: 'primary'
				}
			]
		},
		{
			name: 'let-go',
			title: 'Joint let go below its strength',
			of: [
				{
					name: 'pins',
					title: 'Pins or screws of the joint missing or too weak',
					often: 0.05,
					fault: 'primary'
				},
				{ name: 'bond', title: 'Bond of the coupler or bulkhead peeled', often: 0.01, fault: 'primary' }
			]
		},
		{
			name: 'pushed',
			title: 'Joint was pushed apart from inside',
			of: [
				{ name: 'early', title: 'Charge burned on a wrong command', often: 0.01, fault: 'command' },
				{ name: 'static', title: 'Stray current or heat set off a charge', often: 0.001, fault: 'secondary' },
				{ name: 'air', title: 'Trapped air pushed the bay apart', often: 0.01, fault: 'secondary' },
				{ name: 'gas', title: 'Motor gas came through the forward closure', often: 0.01, fault: 'secondary' }
			]
		},
		{
			name: 'pulled',
			title: 'Joint was pulled apart by drag or a jolt',
			of: [
				{
					name: 'drag',
					title: 'Aft section slowed more than the forward one at burnout',
					often: 0.05,
					fault: 'secondary'
				},
				{ name: 'surge', title: 'Thrust rose or fell in a jolt', often: 0.01, fault: 'secondary' }
			]
		}
	],
	signs: [
		{
			sign: 'Coupler broken or creased on one side',
			where: 'coupler edge and tube mouth, both halves together',
			anyway: 0.1,
			minutes: 5,
			shownBy: { bending: 0.9, bond: 0.1 }
		},
		{
			sign: 'Path bends or rolls before parting',
			where: 'video, smoke trail, side acceleration',
			anyway: 0.05,
			minutes: 20,
			shownBy: { angle: 0.9, thrust: 0.9 }
		},
		{
			sign: 'Wind or rail speed outside what was planned',
			where: 'weather notes; speed at the end of the rail from the log',
			anyway: 0.1,
			minutes: 20,
			shownBy: { angle: 0.7 }
		},
		{
			sign: 'Nozzle worn or broken on one side',
			where: 'throat and exit cone, motor cold and safe',
			anyway: 0.05,
			minutes: 15,
			shownBy: { thrust: 0.7 }
		},
		{
			sign: 'Coupler sits less than one diameter deep or wobbles',
			where: 'depth and play of the joint, measured',
			anyway: 0.1,
			minutes: 5,
			shownBy: { short: 0.9 }
		},
		{
			sign: 'Pin holes without stubs, or fewer pins than planned',
			where: 'every hole, beside the photo of the pad',
			anyway: 0.05,
			minutes: 10,
			shownBy: { pins: 0.7 }
		},
		{
			sign: 'Bond left one face clean',
			where: 'bonded faces under a lens and slanting light',
			anyway: 0.05,
			minutes: 15,
			shownBy: { bond: 0.7 }
		},
		{
			sign: 'Firing logged before parting',
			where: 'event list against acceleration',
			anyway: 0.01,
			minutes: 15,
			shownBy: { early: 0.99 }
		},
		{
			sign: 'Charge burned though no firing was logged',
			where: 'charge holder, once safe; event list',
			anyway: 0.01,
			minutes: 15,
			shownBy: { static: 0.9 }
		},
		{
			sign: 'Soot inside the parted bay',
			where: 'bay wall and protector',
			anyway: 0.05,
			minutes: 5,
			shownBy: { early: 0.99, static: 0.99, gas: 0.7 }
		},
		{
			sign: 'No vent hole in the parted bay',
			where: 'wall of the bay',
			anyway: 0.1,
			minutes: 5,
			shownBy: { air: 0.9 }
		},
		{
			sign: 'Hot track at the forward closure',
			where: 'closure, its seal and the bulkhead ahead of it',
			anyway: 0.05,
			minutes: 15,
			shownBy: { gas: 0.9 }
		},
		{
			sign: 'Parting falls together with burnout',
			where: 'acceleration trace, video',
			anyway: 0.1,
			minutes: 20,
			shownBy: { drag: 0.9, surge: 0.3 }
		},
		{
			sign: 'Spike in thrust just before parting',
			where: 'acceleration trace, sound on the video',
			anyway: 0.01,
			minutes: 20,
			shownBy: { surge: 0.9 }
		}
	],
	calculations: ['ascent', 'attachment-strength', 'deployment-charge', 'fall-separation', 'sound-and-light']
};
