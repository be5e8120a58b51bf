import type { StartingTree } from '../starting-tree';

export const tubeZipper: StartingTree = {
	id: 'tube-zipper',
	title: 'Tube zipper',
	takeIt: 'The tether slit the tube wall from its edge.',
	causes: [
		{
			name: 'load',
			title: 'Tether pulled on the tube edge harder than planned',
			of: [
				{
					name: 'fast',
					title: 'Sections parted at too high an air speed',
					of: [
						{ name: 'early', title: 'Deployment came before apogee', often: 0.05, fault: 'command' },
						{ name: 'late', title: 'Deployment came late in a fast fall', often: 0.05, fault: 'command' },
						{
							name: 'flat',
							title: 'Vehicle crossed apogee at high sideways speed',
							often: 0.1,
							fault: 'secondary'
						}
					]
				},
				{ name: 'charge', title: 'Charge threw the sections apart too fast', often: 0.05, fault: 'command' },
				{
					name: 'short',
					title: 'Tether too short or too stiff to take the jolt',
					often: 0.05,
					fault: 'primary'
				}
			]
		},
		{
			name: 'edge',
			title: 'Tube edge gave way below its strength',
			of: [
				{
					name: 'wall',
					title: 'Tube wall thin, damp or cracked before the flight',
					often: 0.05,
					fault: 'primary'
				},
				{
					name: 'bare',
					title: 'Edge without ring, sleeve or ball where the tether bears',
					often: 0.1,
					fault: 'primary'
				},
				{ name: 'thin', title: 'Tether so thin that it cuts', often: 0.05, fault: 'primary' }
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
			sign: 'Deployment logged well after apogee',
			where: 'event list against the height trace',
			anyway: 0.05,
			minutes: 20,
			shownBy: { late: 0.99 }
		},
		{
			sign: 'Vehicle flew far from the vertical',
			where: 'video, distance of the landing, side acceleration',
			anyway: 0.1,
			minutes: 20,
			shownBy: { flat: 0.9 }
		},
		{
			sign: 'Sections parted faster than planned on the video or in the log',
			where: 'video frames; acceleration at the firing',
			anyway: 0.05,
			minutes: 20,
			shownBy: { charge: 0.9 }
		},
		{
			sign: 'Slit longer than two tube diameters',
			where: 'slit, measured from the edge',
			anyway: 0.1,
			minutes: 5,
			shownBy: { early: 0.7, late: 0.7, flat: 0.5, charge: 0.5, thin: 0.3 }
		},
		{
			sign: 'Tether shorter than three vehicle lengths or of stiff fibre',
			where: 'tether',
			anyway: 0.1,
			minutes: 10,
			shownBy: { short: 0.9 }
		},
		{
			sign: 'Tether stitched or taped in folds and the folds still closed',
			where: 'energy folds of the tether',
			anyway: 0.05,
			minutes: 5,
			shownBy: { short: 0.3 }
		},
		{
			sign: 'Wall soft, swollen or cracked away from the slit',
			where: 'tube edge all around, wall thickness',
			anyway: 0.05,
			minutes: 5,
			shownBy: { wall: 0.7 }
		},
		{
			sign: 'No protection on the edge where the slit begins',
			where: 'beginning of the slit; pad photos',
			anyway: 0.3,
			minutes: 10,
			shownBy: { bare: 0.99 }
		},
		{
			sign: 'Narrow slit with rubbed edges and a thin cord',
			where: 'edges of the slit beside the cord',
			anyway: 0.05,
			minutes: 5,
			shownBy: { thin: 0.9 }
		}
	],
	calculations: ['deployment-speed', 'tether-load', 'deployment-charge', 'ascent']
};
