import type { StartingTree } from '../starting-tree';

export const altitudeShortfall: StartingTree = {
	id: 'altitude-shortfall',
	title: 'Altitude shortfall',
	takeIt: 'It flew and came back, but not as high as planned.',
	causes: [
		{
			name: 'impulse',
			title: 'Motor gave less impulse than planned',
			of: [
				{
					name: 'rate',
					title: 'Propellant mass or burning rate off the plan',
					often: 0.05,
					fault: 'primary'
				},
				{ name: 'leak', title: 'Gas leaked past a seal or nozzle', often: 0.05, fault: 'primary' },
				{ name: 'throat', title: 'Throat wore wider than planned', often: 0.1, fault: 'secondary' }
			]
		},
		{
			name: 'drag',
			title: 'Drag or mass greater than planned',
			of: [
				{ name: 'heavy', title: 'Vehicle heavier than planned', often: 0.1, fault: 'command' },
				{
					name: 'rough',
					title: 'Surface, guides or fin edges drag more than assumed',
					often: 0.3,
					fault: 'primary'
				},
				{
					name: 'wobble',
					title: 'Vehicle wobbled or rolled and lost speed',
					often: 0.05,
					fault: 'secondary'
				},
				{ name: 'early', title: 'Deployment before apogee cut the coast', often: 0.05, fault: 'command' }
			]
		},
		{
			name: 'lean',
			title: 'Path leaned away from the vertical',
			of: [
				{ name: 'wind', title: 'Vehicle turned into a strong wind', often: 0.1, fault: 'secondary' },
				{ name: 'aim', title: 'Rail pointed or moved off its planned angle', often: 0.05, fault: 'command' }
			]
		},
		{
			name: 'number',
			title: 'Number compared with was wrong',
			of: [
				{ name: 'reading', title: 'Recorded height off: sensor, air or zero', often: 0.1, fault: 'primary' },
				{
					name: 'plan',
					title: 'Predicted height too great for mass, drag or air',
					often: 0.3,
					fault: 'command'
				}
			]
		}
	],
	signs: [
		{
			sign: 'Impulse from the log below the plan',
			where: 'acceleration times mass plus drag, summed over the burn',
			anyway: 0.1,
			minutes: 45,
			shownBy: { rate: 0.9, leak: 0.7, throat: 0.5 }
		},
		{
			sign: 'Soot track across a seal or beside the nozzle',
			where: 'seals, grooves and nozzle seat, cold and safe',
			anyway: 0.05,
			minutes: 15,
			shownBy: { leak: 0.9 }
		},
		{
			sign: 'Grain mass noted off the plan',
			where: 'weighing notes of the grains',
			anyway: 0.05,
			minutes: 10,
			shownBy: { rate: 0.7 }
		},
		{
			sign: 'Throat wider after the burn than allowed for',
			where: 'throat across several diameters',
			anyway: 0.1,
			minutes: 15,
			shownBy: { throat: 0.9 }
		},
		{
			sign: 'Loaded mass above the plan',
			where: 'weighing note of the pad, parts on a scale',
			anyway: 0.05,
			minutes: 20,
			shownBy: { heavy: 0.99 }
		},
		{
			sign: 'Coast slows faster than predicted',
			where: 'acceleration after burnout beside the prediction',
			anyway: 0.1,
			minutes: 30,
			shownBy: { rough: 0.9, wobble: 0.9, plan: 0.5 }
		},
		{
			sign: 'Swing or fast roll in the log',
			where: 'side acceleration, roll rate, video',
			anyway: 0.1,
			minutes: 20,
			shownBy: { wobble: 0.9 }
		},
		{
			sign: 'Deployment logged while still climbing',
			where: 'event list against the height trace',
			anyway: 0.05,
			minutes: 20,
			shownBy: { early: 0.99 }
		},
		{
			sign: 'Path leans into the wind',
			where: 'video from two sides, wind notes',
			anyway: 0.3,
			minutes: 20,
			shownBy: { wind: 0.9, aim: 0.1 }
		},
		{
			sign: 'Rail angle differs from the plan',
			where: 'pad photos, rail after the flight',
			anyway: 0.1,
			minutes: 10,
			shownBy: { aim: 0.9 }
		},
		{
			sign: 'Second instrument gives another height',
			where: 'both logs, corrected for the air of the day',
			anyway: 0.1,
			minutes: 30,
			shownBy: { reading: 0.9 }
		},
		{
			sign: 'Prediction with measured mass, air and wind agrees with the flight',
			where: 'ascent computed again with what was measured',
			anyway: 0.05,
			minutes: 60,
			shownBy: { plan: 0.9, heavy: 0.5, wind: 0.3 }
		}
	],
	calculations: ['ascent', 'pressure-altitude', 'reconcile-readings', 'chamber-pressure']
};
