import type { StartingTree } from '../starting-tree';

export const motorBreach: StartingTree = {
	id: 'motor-breach',
	title: 'Breach of case, closure or nozzle',
	takeIt: 'Gas left the motor anywhere but through the throat, or a part of it was thrown out.',
	causes: [
		{
			name: 'pressure',
			title: 'Chamber pressure rose above what the parts hold',
			of: [
				{
					name: 'area',
					title: 'More grain burned than planned',
					of: [
						{
							name: 'crack',
							title: 'Grain cracked, or with voids, exposing more surface',
							often: 0.05,
							fault: 'primary'
						},
						{
							name: 'bond',
							title: 'Inhibited face or liner bond of the grain let go',
							often: 0.05,
							fault: 'primary'
						}
					]
				},
				{ name: 'throat', title: 'Throat blocked or smaller than planned', often: 0.01, fault: 'secondary' },
				{ name: 'rate', title: 'Propellant burned faster than planned', often: 0.01, fault: 'primary' }
			]
		},
		{
			name: 'hot',
			title: 'Wall lost its strength to heat',
			of: [
				{
					name: 'liner',
					title: 'Liner or insulation too thin, split or short',
					often: 0.05,
					fault: 'primary'
				},
				{ name: 'seal', title: 'Seal leaked and hot gas passed it', often: 0.05, fault: 'primary' },
				{
					name: 'long',
					title: 'Burn lasted longer than the wall was made for',
					often: 0.01,
					fault: 'command'
				}
			]
		},
		{
			name: 'weak',
			title: 'Part weaker than planned',
			of: [
				{
					name: 'case',
					title: 'Case thinned, scored or tired by earlier firings',
					often: 0.01,
					fault: 'primary'
				},
				{ name: 'closure', title: 'Closure thread, ring or screws let go', often: 0.01, fault: 'primary' },
				{ name: 'nozzle', title: 'Nozzle cracked or its seat gave way', often: 0.05, fault: 'primary' }
			]
		}
	],
	signs: [
		{
			sign: 'Thrust or pressure spike before the breach',
			where: 'acceleration or pressure trace; sound on the video',
			anyway: 0.05,
			minutes: 20,
			shownBy: { crack: 0.9, bond: 0.7, throat: 0.9, rate: 0.7 }
		},
		{
			sign: 'Case swollen along its length',
			where: 'diameter at several stations, motor cold and safe',
			anyway: 0.01,
			minutes: 20,
			shownBy: { pressure: 0.7 }
		},
		{
			sign: 'Sister grain shows cracks or voids',
			where: 'same batch, seen by its keeper; never cut or drilled',
			anyway: 0.05,
			minutes: 30,
			shownBy: { crack: 0.7 }
		},
		{
			sign: 'Soot between grain and liner, or on an inhibited face',
			where: 'liner and grain remains, cold and safe',
			anyway: 0.05,
			minutes: 15,
			shownBy: { bond: 0.9 }
		},
		{
			sign: 'Lump lodged or marked at the throat',
			where: 'throat and the ground behind the pad',
			anyway: 0.01,
			minutes: 30,
			shownBy: { throat: 0.9 }
		},
		{
			sign: 'Sister motor of the batch runs above its curve',
			where: 'stand firing by the rules of the range',
			anyway: 0.05,
			minutes: 240,
			shownBy: { rate: 0.9 },
			destructive: true
		},
		{
			sign: 'Hole with melted, thinned edges',
			where: 'edges of the hole',
			anyway: 0.01,
			minutes: 5,
			shownBy: { liner: 0.9, seal: 0.7, long: 0.9 }
		},
		{
			sign: 'Liner burned through beside the hole',
			where: 'liner laid open, its place marked',
			anyway: 0.05,
			minutes: 60,
			shownBy: { liner: 0.9, long: 0.7 },
			destructive: true
		},
		{
			sign: 'Soot track across a seal groove',
			where: 'grooves and seals, before cleaning',
			anyway: 0.05,
			minutes: 15,
			shownBy: { seal: 0.9 }
		},
		{
			sign: 'Burn longer than the plan in the log',
			where: 'acceleration trace from ignition on',
			anyway: 0.05,
			minutes: 20,
			shownBy: { long: 0.99 }
		},
		{
			sign: 'Case torn open with sharp edges, no melting',
			where: 'fracture, followed to where it begins',
			anyway: 0.01,
			minutes: 15,
			shownBy: { pressure: 0.7, case: 0.9 }
		},
		{
			sign: 'Score, corrosion or high use count at the origin of the tear',
			where: 'origin under a lens; parts list',
			anyway: 0.05,
			minutes: 15,
			shownBy: { case: 0.9 }
		},
		{
			sign: 'Closure gone whole, thread or groove sheared',
			where: 'thread, ring groove, screw holes',
			anyway: 0.01,
			minutes: 5,
			shownBy: { closure: 0.9, pressure: 0.3 }
		},
		{
			sign: 'Nozzle pieces with an old or radial crack',
			where: 'nozzle pieces fitted together; behind the pad',
			anyway: 0.05,
			minutes: 45,
			shownBy: { nozzle: 0.9 }
		}
	],
	calculations: ['chamber-pressure', 'wall-temperature', 'breach', 'attachment-strength', 'sound-and-light']
};
