import type { StartingTree } from './starting-tree';

/**
 * A branch on what lies between the systems, to stand beside the branches on each of them: faults that no single part
 * owns. Written by us from the trade's knowledge, no source.
 */
export const interfaces: StartingTree = {
	id: 'interfaces',
	title: 'Between the systems',
	takeIt: 'Faults that no single part owns: electrics to charges, air to structure, motor to airframe.',
	causes: [
		{
			name: 'between',
			title: 'Two systems that are each sound did not fit together',
			of: [
				{
					name: 'current',
					title: 'Recorder output gives less current than the igniter needs',
					often: 0.05,
					fault: 'command'
				},
				{
					name: 'supply',
					title: 'One load pulls down the supply that another shares',
					often: 0.05,
					fault: 'secondary'
				},
				{
					name: 'radio',
					title: 'Transmitter disturbs the recorder or its wiring',
					often: 0.01,
					fault: 'secondary'
				},
				{
					name: 'ports',
					title: 'Flow around the shape falsifies the pressure at the ports',
					often: 0.05,
					fault: 'command'
				},
				{
					name: 'heat',
					title: 'Heat or gas of the motor reaches what stands ahead of it',
					often: 0.01,
					fault: 'secondary'
				},
				{
					name: 'shift',
					title: 'A part that moves in flight blocks or unplugs another',
					often: 0.05,
					fault: 'secondary'
				},
				{
					name: 'order',
					title: 'A change to one system was not carried over to the next',
					often: 0.1,
					fault: 'primary'
				}
			]
		}
	],
	signs: [
		{
			sign: 'Igniter fires late or not at all from this output, at once from a cell',
			where: 'sister igniter and a dummy load, by the rules of the range',
			anyway: 0.01,
			minutes: 60,
			shownBy: { current: 0.9 }
		},
		{
			sign: 'Voltage dips in the log when another load starts',
			where: 'supply trace beside the event list',
			anyway: 0.05,
			minutes: 20,
			shownBy: { supply: 0.9 }
		},
		{
			sign: 'Readings jump when the transmitter sends',
			where: 'both on the bench, charges removed, antenna where it flew',
			anyway: 0.05,
			minutes: 45,
			shownBy: { radio: 0.9 }
		},
		{
			sign: 'Pressure height steps where speed or angle changes',
			where: 'pressure trace beside the acceleration',
			anyway: 0.05,
			minutes: 30,
			shownBy: { ports: 0.7 }
		},
		{
			sign: 'Soot, browning or melted plastic ahead of the motor',
			where: 'forward closure and all that faces it',
			anyway: 0.05,
			minutes: 15,
			shownBy: { heat: 0.9 }
		},
		{
			sign: 'Rub marks or a pulled plug between neighbours',
			where: 'everything that can move, beside the photos of the packing',
			anyway: 0.05,
			minutes: 20,
			shownBy: { shift: 0.7 }
		},
		{
			sign: 'A note of a late change on one side only',
			where: 'build notes, changes at the pad, asked apart',
			anyway: 0.1,
			minutes: 20,
			shownBy: { order: 0.9, current: 0.3, supply: 0.3 }
		}
	],
	calculations: ['deployment-charge', 'pressure-altitude']
};
