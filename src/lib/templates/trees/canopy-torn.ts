import type { StartingTree } from '../starting-tree';

export const canopyTorn: StartingTree = {
	id: 'canopy-torn',
	title: 'Torn canopy or lines',
	takeIt: 'The parachute opened and cloth, seams or lines gave way.',
	causes: [
		{
			name: 'over',
			title: 'Opening load was greater than planned',
			of: [
				{
					name: 'fast',
					title: 'Canopy opened at too high a speed',
					of: [
						{ name: 'early', title: 'Deployment came before apogee', often: 0.05, fault: 'command' },
						{ name: 'late', title: 'Deployment came late in a fast fall', often: 0.05, fault: 'command' },
						{ name: 'drogue', title: 'Drogue missing, torn or collapsed', often: 0.05, fault: 'secondary' }
					]
				},
				{ name: 'quick', title: 'Canopy opened at once, nothing slowed it', often: 0.05, fault: 'secondary' },
				{ name: 'heavy', title: 'More mass hung on it than it was sized for', often: 0.01, fault: 'command' }
			]
		},
		{
			name: 'weak',
			title: 'Canopy or lines weaker than planned',
			of: [
				{
					name: 'seam',
					title: 'Seam or line stitch opened below its strength',
					often: 0.05,
					fault: 'primary'
				},
				{
					name: 'aged',
					title: 'Cloth or lines aged by light, heat or many uses',
					often: 0.05,
					fault: 'primary'
				},
				{ name: 'burn', title: 'Cloth weakened by heat of the charge', often: 0.05, fault: 'secondary' },
				{ name: 'cut', title: 'Edge or fitting cut a line or the cloth', often: 0.05, fault: 'secondary' }
			]
		},
		{
			name: 'uneven',
			title: 'Load came on a few lines only',
			of: [
				{ name: 'length', title: 'Lines of unequal length', often: 0.01, fault: 'primary' },
				{ name: 'snag', title: 'Line caught and pulled alone', often: 0.05, fault: 'secondary' }
			]
		}
	],
	signs: [
		{
			sign: 'Deployment logged well before apogee',
			where: 'event list against the height trace',
			anyway: 0.01,
			minutes: 20,
			shownBy: { early: 0.99 }
		},
		{
			sign: 'Deployment logged in a fast fall',
			where: 'descent rate just before opening',
			anyway: 0.05,
			minutes: 5,
			shownBy: { late: 0.99, drogue: 0.7 }
		},
		{
			sign: 'Drogue found torn, tangled or gone',
			where: 'drogue and its line',
			anyway: 0.05,
			minutes: 5,
			shownBy: { drogue: 0.9 }
		},
		{
			sign: 'Several panels torn alike',
			where: 'map of the tears on a drawing of the canopy',
			anyway: 0.05,
			minutes: 30,
			shownBy: { early: 0.7, late: 0.7, drogue: 0.7, quick: 0.5, heavy: 0.3, aged: 0.3 }
		},
		{
			sign: 'No bag, reef or slider, or it left no mark of having worked',
			where: 'bundle parts, pad photos',
			anyway: 0.3,
			minutes: 10,
			shownBy: { quick: 0.9 }
		},
		{
			sign: 'Weighed mass under the canopy above the plan',
			where: 'all that hung on it, on a scale',
			anyway: 0.05,
			minutes: 15,
			shownBy: { heavy: 0.99 }
		},
		{
			sign: 'Thread broken while the cloth beside it is whole',
			where: 'seams and line stitches under a lens',
			anyway: 0.05,
			minutes: 15,
			shownBy: { seam: 0.9 }
		},
		{
			sign: 'Strip from a sound panel tears below its rated strength',
			where: 'cut strip, pulled with a scale',
			anyway: 0.05,
			minutes: 45,
			shownBy: { aged: 0.9, burn: 0.3 },
			destructive: true
		},
		{
			sign: 'Cloth faded or its use count high',
			where: 'colour beside a covered fold; parts list',
			anyway: 0.3,
			minutes: 10,
			shownBy: { aged: 0.9 }
		},
		{
			sign: 'Tear begins at a melted or brown spot',
			where: 'beginning of each tear under a lens',
			anyway: 0.01,
			minutes: 15,
			shownBy: { burn: 0.9 }
		},
		{
			sign: 'Line end cut clean, not frayed',
			where: 'both ends of each parted line',
			anyway: 0.05,
			minutes: 5,
			shownBy: { cut: 0.9 }
		},
		{
			sign: 'Lines differ in length',
			where: 'all lines laid out under the same light pull, sound ones too',
			anyway: 0.05,
			minutes: 30,
			shownBy: { length: 0.9 }
		},
		{
			sign: 'One gore and its lines torn, the others whole',
			where: 'map of the tears',
			anyway: 0.05,
			minutes: 30,
			shownBy: { length: 0.5, snag: 0.9, cut: 0.3, seam: 0.3 }
		}
	],
	calculations: ['deployment-speed', 'opening-load', 'descent', 'attachment-strength']
};
