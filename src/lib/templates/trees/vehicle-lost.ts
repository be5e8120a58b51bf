import type { StartingTree } from '../starting-tree';

export const vehicleLost: StartingTree = {
	id: 'vehicle-lost',
	title: 'Lost vehicle',
	takeIt: 'Nothing, or not all of it, was found where it was looked for.',
	causes: [
		{
			name: 'elsewhere',
			title: 'It came down outside the area searched',
			of: [
				{
					name: 'high',
					title: 'Main opened high and it drifted far',
					of: [
						{
							name: 'early',
							title: 'Main released at apogee by a wrong command',
							often: 0.05,
							fault: 'command'
						},
						{ name: 'slip', title: 'Main slipped out at the first parting', often: 0.05, fault: 'primary' }
					]
				},
				{ name: 'wind', title: 'Wind aloft other than was planned with', often: 0.1, fault: 'secondary' },
				{
					name: 'turned',
					title: 'Path turned and it flew away from the field',
					often: 0.05,
					fault: 'secondary'
				},
				{
					name: 'line',
					title: 'Line of sight or bearing read off its true value',
					often: 0.1,
					fault: 'command'
				}
			]
		},
		{
			name: 'hidden',
			title: 'It lies inside the area searched, unseen',
			gate: 'and',
			of: [
				{
					name: 'unseen',
					title: 'Nobody can see it from where they walked',
					of: [
						{
							name: 'buried',
							title: 'It fell without parachute and went into the ground',
							often: 0.05,
							fault: 'secondary'
						},
						{ name: 'cover', title: 'Crop, trees or water hide it', often: 0.1, fault: 'secondary' }
					]
				},
				{
					name: 'silent',
					title: 'No signal leads to it',
					of: [
						{ name: 'none', house: 'No beacon or tracker is fitted' },
						{ name: 'cell', title: 'Cell of the beacon low or torn off', often: 0.05, fault: 'primary' },
						{
							name: 'shade',
							title: 'Metal, carbon fibre or ground shades its antenna',
							often: 0.05,
							fault: 'secondary'
						}
					]
				}
			]
		},
		{ name: 'broken', title: 'It broke up and only pieces came down', often: 0.01, fault: 'secondary' },
		{
			name: 'taken',
			title: 'It was moved by somebody before the search',
			often: 0.01,
			fault: 'secondary',
			undeveloped: true
		}
	],
	signs: [
		{
			sign: 'Big canopy seen high up',
			where: 'videos and what each spotter saw, asked apart',
			anyway: 0.01,
			minutes: 30,
			shownBy: { early: 0.9, slip: 0.9 }
		},
		{
			sign: 'Setting of a sister recorder releases the main at apogee',
			where: 'settings kept with the packing notes',
			anyway: 0.01,
			minutes: 15,
			shownBy: { early: 0.7 }
		},
		{
			sign: 'Nothing but friction held the main in the bay',
			where: 'packing notes, pad photos',
			anyway: 0.1,
			minutes: 10,
			shownBy: { slip: 0.9 }
		},
		{
			sign: 'Sounding shows other wind than was planned with',
			where: 'sounding nearest in time and place',
			anyway: 0.1,
			minutes: 30,
			shownBy: { wind: 0.9 }
		},
		{
			sign: 'Smoke trail bends away',
			where: 'video, photos of the trail',
			anyway: 0.05,
			minutes: 20,
			shownBy: { turned: 0.9 }
		},
		{
			sign: 'Bearings of the spotters do not meet',
			where: 'bearings on the plan; each read again from the same spot',
			anyway: 0.1,
			minutes: 45,
			shownBy: { line: 0.9 }
		},
		{
			sign: 'Whistle and a thud, no canopy seen',
			where: 'sound on the videos; what each spotter heard',
			anyway: 0.01,
			minutes: 30,
			shownBy: { buried: 0.7 }
		},
		{
			sign: 'Small fresh hole in the ground',
			where: 'ground under the path, on a slow line search',
			anyway: 0.01,
			minutes: 180,
			shownBy: { buried: 0.5 }
		},
		{
			sign: 'Thick cover on the line of descent',
			where: 'plan, aerial photo',
			anyway: 0.3,
			minutes: 10,
			shownBy: { cover: 0.9 }
		},
		{
			sign: 'Last signal came from low height',
			where: 'tracker log, time against the descent',
			anyway: 0.1,
			minutes: 20,
			shownBy: { shade: 0.7, buried: 0.5, cover: 0.3 }
		},
		{
			sign: 'Signal ended in the air',
			where: 'tracker log, time against the descent',
			anyway: 0.05,
			minutes: 20,
			shownBy: { cell: 0.7, broken: 0.7 }
		},
		{
			sign: 'Several objects seen falling, or a piece found',
			where: 'videos frame by frame, ground under the path',
			anyway: 0.05,
			minutes: 120,
			shownBy: { broken: 0.9 }
		},
		{
			sign: 'Landing print or scraps without a vehicle',
			where: 'landing region, paths, asking the owners of the land',
			anyway: 0.01,
			minutes: 180,
			shownBy: { taken: 0.7 }
		}
	],
	calculations: ['landing-footprint', 'search', 'sound-and-light', 'descent', 'ascent']
};
