import type { StartingTree } from '../starting-tree';

export const finLossOrFlutter: StartingTree = {
	id: 'fin-loss-or-flutter',
	title: 'Fin loss or flutter',
	takeIt: 'A fin broke, tore off or shook in flight, or is missing afterwards.',
	causes: [
		{
			name: 'aero',
			title: 'Air load broke the fin or its root',
			of: [
				{
					name: 'flutter',
					title: 'Fin fluttered above its flutter speed',
					of: [
						{ name: 'thin', title: 'Fin too thin or too soft for the speed', often: 0.05, fault: 'primary' },
						{ name: 'fast', title: 'Vehicle flew faster than planned', often: 0.05, fault: 'secondary' },
						{ name: 'warm', title: 'Fin or bond softened by heat', often: 0.01, fault: 'secondary' },
						{ name: 'crack', title: 'Fin cracked or split before the flight', often: 0.05, fault: 'primary' }
					]
				},
				{ name: 'angle', title: 'Vehicle flew at a large angle to the air', often: 0.05, fault: 'secondary' }
			]
		},
		{
			name: 'root',
			title: 'Root let go below its strength',
			of: [
				{
					name: 'bond',
					title: 'Bond or fillet peeled from tube or motor mount',
					often: 0.05,
					fault: 'primary'
				},
				{ name: 'screws', title: 'Screws of a removable fin loose or missing', often: 0.01, fault: 'primary' }
			]
		},
		{
			name: 'struck',
			title: 'Something struck the fin',
			of: [
				{
					name: 'pad',
					title: 'Fin touched rail, clip or pad on the way out',
					often: 0.01,
					fault: 'secondary'
				},
				{
					name: 'section',
					title: 'Section on the tether struck the fin after deployment',
					often: 0.05,
					fault: 'secondary'
				},
				{ name: 'landing', title: 'Fin struck the ground at landing', often: 0.1, fault: 'secondary' },
				{
					name: 'early',
					title: 'Wrong early deployment threw a section on the fin',
					often: 0.01,
					fault: 'command'
				}
			]
		}
	],
	signs: [
		{
			sign: 'Fin lies under the ascent, far from the landing',
			where: 'plan of the pieces',
			anyway: 0.01,
			minutes: 15,
			shownBy: { aero: 0.9, root: 0.9, pad: 0.5, early: 0.5 }
		},
		{
			sign: 'Roll, buzz or a kink in the path near the top speed',
			where: 'video sound, roll rate, acceleration',
			anyway: 0.05,
			minutes: 20,
			shownBy: { flutter: 0.7, angle: 0.3, bond: 0.3, screws: 0.5 }
		},
		{
			sign: 'Cracks crossing from both faces, edges frayed',
			where: 'fin faces in slanting light',
			anyway: 0.05,
			minutes: 15,
			shownBy: { thin: 0.7, fast: 0.7, warm: 0.5 }
		},
		{
			sign: 'Top speed in the log above the plan',
			where: 'speed trace',
			anyway: 0.05,
			minutes: 20,
			shownBy: { fast: 0.99 }
		},
		{
			sign: 'Fin bends more than a sister fin under the same weight',
			where: 'sister fin, weight at the tip',
			anyway: 0.05,
			minutes: 45,
			shownBy: { thin: 0.5, warm: 0.3, crack: 0.5 }
		},
		{
			sign: 'Resin or paint blistered, leading edge browned',
			where: 'leading edge and fillets',
			anyway: 0.05,
			minutes: 5,
			shownBy: { warm: 0.9 }
		},
		{
			sign: 'Dirt or old paint in part of the crack',
			where: 'fracture face under a lens',
			anyway: 0.01,
			minutes: 15,
			shownBy: { crack: 0.7 }
		},
		{
			sign: 'Path bends before the fin leaves',
			where: 'video, side acceleration',
			anyway: 0.05,
			minutes: 20,
			shownBy: { angle: 0.9 }
		},
		{
			sign: 'Fillet left one face clean',
			where: 'root and tube in slanting light',
			anyway: 0.05,
			minutes: 15,
			shownBy: { bond: 0.9, warm: 0.3 }
		},
		{
			sign: 'Screw holes whole, screws gone',
			where: 'root fitting',
			anyway: 0.01,
			minutes: 5,
			shownBy: { screws: 0.9 }
		},
		{
			sign: 'Scrape with metal or paint of the pad',
			where: 'fin edge, rail, clips',
			anyway: 0.05,
			minutes: 5,
			shownBy: { pad: 0.9 }
		},
		{
			sign: 'Dent that fits an edge of another section',
			where: 'fin and section fitted together',
			anyway: 0.05,
			minutes: 15,
			shownBy: { section: 0.9, early: 0.7 }
		},
		{
			sign: 'Earth or grass in the break',
			where: 'fracture face, before cleaning',
			anyway: 0.05,
			minutes: 15,
			shownBy: { landing: 0.7 }
		},
		{
			sign: 'Deployment logged before apogee at high speed',
			where: 'event list',
			anyway: 0.01,
			minutes: 15,
			shownBy: { early: 0.99 }
		}
	],
	calculations: ['fin-flutter', 'ascent', 'fall-separation', 'impact', 'attachment-strength']
};
