import type { StartingTree } from '../starting-tree';

export const noseOrBayBroken: StartingTree = {
	id: 'nose-or-bay-broken',
	title: 'Broken nose or bay',
	takeIt: 'A nose, coupler or electronics bay came back cracked, crushed or apart.',
	causes: [
		{
			name: 'air',
			title: 'It broke in the air',
			of: [
				{
					name: 'flight',
					title: 'Flight load broke it',
					of: [
						{
							name: 'bend',
							title: 'Side load at a large angle to the air bent it',
							often: 0.01,
							fault: 'secondary'
						},
						{ name: 'heat', title: 'Air heating softened the shell', often: 0.01, fault: 'secondary' },
						{
							name: 'inner',
							title: 'Trapped air or charge gas burst the shell',
							often: 0.01,
							fault: 'secondary'
						}
					]
				},
				{
					name: 'jolt',
					title: 'Deployment jolt broke it',
					of: [
						{ name: 'snatch', title: 'Tether jolt tore its attachment out', often: 0.05, fault: 'secondary' },
						{
							name: 'strike',
							title: 'Sections struck each other on the tether',
							often: 0.05,
							fault: 'secondary'
						},
						{
							name: 'layers',
							title: 'Printed layers or bond weaker than planned',
							often: 0.05,
							fault: 'primary'
						},
						{
							name: 'early',
							title: 'Deployment at high speed on a wrong command',
							often: 0.05,
							fault: 'command'
						}
					]
				}
			]
		},
		{
			name: 'ground',
			title: 'It broke at landing or after',
			of: [
				{ name: 'fast', title: 'It struck the ground faster than planned', often: 0.05, fault: 'secondary' },
				{
					name: 'hard',
					title: 'It struck stone or hard ground at the planned speed',
					often: 0.05,
					fault: 'secondary'
				},
				{ name: 'handling', title: 'It broke while carried or stored', often: 0.01, fault: 'secondary' }
			]
		}
	],
	signs: [
		{
			sign: 'Its pieces lie far from the rest',
			where: 'plan of the pieces',
			anyway: 0.01,
			minutes: 15,
			shownBy: { air: 0.7 }
		},
		{
			sign: 'Earth, grass or stone dust in the fracture',
			where: 'fracture faces under a lens, before cleaning',
			anyway: 0.05,
			minutes: 15,
			shownBy: { fast: 0.7, hard: 0.7 }
		},
		{
			sign: 'Crushed on one side, broken on the other',
			where: 'around the shell at the break',
			anyway: 0.05,
			minutes: 5,
			shownBy: { bend: 0.9 }
		},
		{
			sign: 'Path bends before the break',
			where: 'video, side acceleration',
			anyway: 0.05,
			minutes: 20,
			shownBy: { bend: 0.9 }
		},
		{
			sign: 'Shell sagged, blistered or gone dull at the tip',
			where: 'tip and shoulder, beside an unused part',
			anyway: 0.05,
			minutes: 5,
			shownBy: { heat: 0.9 }
		},
		{
			sign: 'Wall bent outward, no vent hole',
			where: 'edges of the break; vent holes',
			anyway: 0.05,
			minutes: 5,
			shownBy: { inner: 0.9 }
		},
		{
			sign: 'Anchor torn out along the pull of the tether',
			where: 'anchor, bolt holes, direction of the tear',
			anyway: 0.01,
			minutes: 5,
			shownBy: { snatch: 0.9, layers: 0.3, early: 0.7 }
		},
		{
			sign: 'Dent or paint of the other section',
			where: 'paint marks on both sections, fitted together',
			anyway: 0.1,
			minutes: 15,
			shownBy: { strike: 0.9 }
		},
		{
			sign: 'Break runs along a printed layer or leaves a bond face clean',
			where: 'fracture faces in slanting light',
			anyway: 0.05,
			minutes: 15,
			shownBy: { layers: 0.9 }
		},
		{
			sign: 'Log shows high speed at deployment',
			where: 'speed at the firing',
			anyway: 0.05,
			minutes: 15,
			shownBy: { early: 0.99 }
		},
		{
			sign: 'Descent rate above the plan',
			where: 'last part of the height trace, video',
			anyway: 0.05,
			minutes: 20,
			shownBy: { fast: 0.99 }
		},
		{
			sign: 'Stone or hard spot in the print on the ground',
			where: 'place where it was found',
			anyway: 0.05,
			minutes: 5,
			shownBy: { hard: 0.9 }
		},
		{
			sign: 'Whole in the photos from the field',
			where: 'photos as found',
			anyway: 0.01,
			minutes: 10,
			shownBy: { handling: 0.99 }
		}
	],
	calculations: ['fall-separation', 'attachment-strength', 'tether-load', 'impact', 'deployment-speed']
};
