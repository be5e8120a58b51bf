import type { StartingTree } from '../starting-tree';

export const landingDamage: StartingTree = {
	id: 'landing-damage',
	title: 'Landing damage',
	takeIt: 'It hung under its parachute as planned and still came back broken.',
	causes: [
		{
			name: 'hard',
			title: 'It struck harder than planned',
			of: [
				{
					name: 'fast',
					title: 'It sank faster than planned',
					of: [
						{ name: 'small', title: 'Canopy too small for the mass under it', often: 0.05, fault: 'command' },
						{ name: 'part', title: 'Canopy open in part, or torn', often: 0.05, fault: 'secondary' },
						{ name: 'sink', title: 'Sinking or gusting air near the ground', often: 0.05, fault: 'secondary' }
					]
				},
				{ name: 'swing', title: 'It swung into the ground', often: 0.1, fault: 'secondary' },
				{ name: 'stone', title: 'It struck stone, a vehicle or a structure', often: 0.05, fault: 'secondary' }
			]
		},
		{
			name: 'weak',
			title: 'Part weaker than planned',
			of: [
				{
					name: 'fin',
					title: 'Fin or root touched first and was not made for it',
					often: 0.1,
					fault: 'primary'
				},
				{ name: 'old', title: 'Part cracked before or in the flight', often: 0.05, fault: 'primary' }
			]
		},
		{
			name: 'after',
			title: 'It was damaged after touching down',
			of: [
				{ name: 'drag', title: 'Wind dragged it along the ground', often: 0.1, fault: 'secondary' },
				{ name: 'handling', title: 'It was damaged while lifted or carried', often: 0.05, fault: 'secondary' }
			]
		}
	],
	signs: [
		{
			sign: 'Descent rate above the plan',
			where: 'height trace over the last minute, video',
			anyway: 0.05,
			minutes: 20,
			shownBy: { small: 0.99, part: 0.99, sink: 0.5 }
		},
		{
			sign: 'Mass under the canopy above the plan',
			where: 'all that hung on it, on a scale',
			anyway: 0.05,
			minutes: 15,
			shownBy: { small: 0.7 }
		},
		{
			sign: 'Canopy seen part open, or torn when found',
			where: 'video, canopy against the light',
			anyway: 0.05,
			minutes: 15,
			shownBy: { part: 0.9 }
		},
		{
			sign: 'Descent rate grows near the ground only',
			where: 'height trace, gust notes',
			anyway: 0.05,
			minutes: 20,
			shownBy: { sink: 0.7 }
		},
		{
			sign: 'Swing of the load before touching',
			where: 'video of the last seconds',
			anyway: 0.1,
			minutes: 20,
			shownBy: { swing: 0.9 }
		},
		{
			sign: 'Mark of stone, metal or paint at the break',
			where: 'break and the place where it lay',
			anyway: 0.05,
			minutes: 5,
			shownBy: { stone: 0.9 }
		},
		{
			sign: 'First touch at a fin tip',
			where: 'print on the ground, earth on the tip',
			anyway: 0.1,
			minutes: 5,
			shownBy: { fin: 0.9, swing: 0.3 }
		},
		{
			sign: 'Dirt, soot or old paint in part of the crack',
			where: 'fracture face under a lens, before cleaning',
			anyway: 0.01,
			minutes: 15,
			shownBy: { old: 0.7 }
		},
		{
			sign: 'Piece lies apart from the landing place',
			where: 'plan of the pieces',
			anyway: 0.01,
			minutes: 15,
			shownBy: { old: 0.5 }
		},
		{
			sign: 'Drag track on the ground',
			where: 'ground upwind of where it lay',
			anyway: 0.05,
			minutes: 10,
			shownBy: { drag: 0.9 }
		},
		{
			sign: 'Scratches along one direction',
			where: 'side that lay on the ground',
			anyway: 0.1,
			minutes: 5,
			shownBy: { drag: 0.9 }
		},
		{
			sign: 'Whole in the photos from the field',
			where: 'photos as found',
			anyway: 0.01,
			minutes: 10,
			shownBy: { handling: 0.99 }
		}
	],
	calculations: ['descent', 'impact', 'attachment-strength', 'fall-separation']
};
