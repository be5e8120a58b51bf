import type { StartingTree } from '../starting-tree';

export const hangFire: StartingTree = {
	id: 'hang-fire',
	title: 'Hang fire, chuffing or over-pressure',
	takeIt: 'The motor lit late, in puffs, or with a hard jolt.',
	causes: [
		{
			name: 'late',
			title: 'Grain took fire slowly or in part',
			of: [
				{ name: 'weak', title: 'Igniter gave too little heat', often: 0.05, fault: 'primary' },
				{
					name: 'place',
					title: 'Igniter not at the forward end of the core',
					often: 0.05,
					fault: 'secondary'
				},
				{ name: 'current', title: 'Launch line gave too little current', often: 0.05, fault: 'command' },
				{ name: 'surface', title: 'Core surface smooth, damp or aged', often: 0.05, fault: 'primary' },
				{ name: 'cold', title: 'Motor colder than planned', often: 0.05, fault: 'secondary' }
			]
		},
		{
			name: 'low',
			title: 'Chamber pressure too low to burn steadily',
			of: [
				{ name: 'wide', title: 'Throat wider than planned', often: 0.01, fault: 'primary' },
				{ name: 'leak', title: 'Gas leaked past a seal or closure', often: 0.05, fault: 'primary' },
				{ name: 'slow', title: 'Propellant burned slower than planned', often: 0.05, fault: 'primary' }
			]
		},
		{
			name: 'high',
			title: 'Chamber pressure jumped at the start',
			of: [
				{ name: 'strong', title: 'Igniter gave too much gas at once', often: 0.01, fault: 'command' },
				{ name: 'plug', title: 'Throat held shut by igniter, lead or cap', often: 0.05, fault: 'secondary' },
				{ name: 'crack', title: 'Grain cracked, exposing more surface', often: 0.05, fault: 'primary' }
			]
		}
	],
	signs: [
		{
			sign: 'Seconds between fire and thrust',
			where: 'video with sound from the press of the button on',
			anyway: 0.05,
			minutes: 20,
			shownBy: { weak: 0.7, place: 0.7, current: 0.7, surface: 0.7, cold: 0.5 }
		},
		{
			sign: 'Puffs with pauses',
			where: 'sound and smoke on the video, thrust trace',
			anyway: 0.01,
			minutes: 20,
			shownBy: { wide: 0.9, leak: 0.5, slow: 0.7, surface: 0.5 }
		},
		{
			sign: 'Igniter of the batch burns weak in a test',
			where: 'sister igniter, by the rules of the range',
			anyway: 0.05,
			minutes: 120,
			shownBy: { weak: 0.7 },
			destructive: true
		},
		{
			sign: 'Igniter lead marked too short for the core',
			where: 'lead, its mark and the core length',
			anyway: 0.05,
			minutes: 5,
			shownBy: { place: 0.9 }
		},
		{
			sign: 'Low voltage at the clips under load',
			where: 'launch line with a dummy load, nothing armed',
			anyway: 0.05,
			minutes: 45,
			shownBy: { current: 0.9 }
		},
		{
			sign: 'Sister grain with glossy or damp core',
			where: 'same batch, seen by its keeper',
			anyway: 0.1,
			minutes: 20,
			shownBy: { surface: 0.7 }
		},
		{
			sign: 'Motor stood below its planned temperature',
			where: 'night and pad temperatures, place of storage',
			anyway: 0.1,
			minutes: 10,
			shownBy: { cold: 0.9, slow: 0.1 }
		},
		{
			sign: 'Throat measures wider than the plan',
			where: 'throat across several diameters, cold and safe',
			anyway: 0.1,
			minutes: 15,
			shownBy: { wide: 0.9 }
		},
		{
			sign: 'Soot track across a seal',
			where: 'seals and grooves, before cleaning',
			anyway: 0.05,
			minutes: 15,
			shownBy: { leak: 0.9 }
		},
		{
			sign: 'Long burn at low thrust',
			where: 'acceleration trace beside the planned curve',
			anyway: 0.05,
			minutes: 30,
			shownBy: { slow: 0.9, wide: 0.7, leak: 0.5 }
		},
		{
			sign: 'Spike at the very first of the thrust',
			where: 'acceleration trace, sound',
			anyway: 0.05,
			minutes: 20,
			shownBy: { strong: 0.9, plug: 0.9, crack: 0.5 }
		},
		{
			sign: 'Igniter heavier or other than planned',
			where: 'sister igniters, notes of who made them',
			anyway: 0.05,
			minutes: 10,
			shownBy: { strong: 0.9, weak: 0.1 }
		},
		{
			sign: 'Cap or lead thrown far, with a print of the throat',
			where: 'ground behind the pad, throat edge',
			anyway: 0.05,
			minutes: 30,
			shownBy: { plug: 0.7 }
		},
		{
			sign: 'Sister grain shows cracks',
			where: 'same batch, seen by its keeper; never cut or drilled',
			anyway: 0.05,
			minutes: 30,
			shownBy: { crack: 0.7 }
		}
	],
	calculations: ['chamber-pressure', 'breach', 'ascent']
};
