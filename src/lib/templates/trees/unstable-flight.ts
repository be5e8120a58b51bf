import type { StartingTree } from '../starting-tree';

export const unstableFlight: StartingTree = {
	id: 'unstable-flight',
	title: 'Unstable or turned flight',
	takeIt: 'It wobbled, looped, or flew in another direction than it was pointed.',
	causes: [
		{
			name: 'margin',
			title: 'Stability margin too small',
			of: [
				{ name: 'tail', title: 'Centre of mass further aft than planned', often: 0.05, fault: 'primary' },
				{ name: 'shift', title: 'Load shifted aft inside the airframe', often: 0.01, fault: 'secondary' },
				{ name: 'fin', title: 'Fin missing, loose or set crooked', often: 0.05, fault: 'primary' }
			]
		},
		{
			name: 'slow',
			title: 'Vehicle left the rail too slowly',
			of: [
				{ name: 'thrust', title: 'Motor gave too little thrust at first', often: 0.05, fault: 'secondary' },
				{
					name: 'rail',
					title: 'Guide bound, or let go before the end of the rail',
					often: 0.05,
					fault: 'primary'
				},
				{ name: 'heavy', title: 'Vehicle heavier than planned', often: 0.05, fault: 'command' }
			]
		},
		{
			name: 'push',
			title: 'Something pushed it off its path',
			of: [
				{
					name: 'wind',
					title: 'Wind stronger than the vehicle was made for',
					often: 0.1,
					fault: 'secondary'
				},
				{ name: 'skew', title: 'Thrust pushed beside the axis', often: 0.01, fault: 'secondary' },
				{ name: 'aim', title: 'Rail moved or pointed elsewhere than planned', often: 0.05, fault: 'command' },
				{ name: 'bent', title: 'Airframe bent at a joint in flight', often: 0.01, fault: 'secondary' }
			]
		}
	],
	signs: [
		{
			sign: 'Balance point of the rebuilt vehicle aft of the plan',
			where: 'all parts weighed and balanced with a dummy of the motor as loaded',
			anyway: 0.05,
			minutes: 45,
			shownBy: { tail: 0.99, shift: 0.1 }
		},
		{
			sign: 'Ballast, battery or bay found out of its place',
			where: 'mounts and marks inside the airframe',
			anyway: 0.05,
			minutes: 5,
			shownBy: { shift: 0.9 }
		},
		{
			sign: 'Fin off its line or free at its root',
			where: 'fin angles against a guide; root in slanting light',
			anyway: 0.05,
			minutes: 45,
			shownBy: { fin: 0.9 }
		},
		{
			sign: 'Swings to both sides from the rail on',
			where: 'video; side acceleration',
			anyway: 0.05,
			minutes: 20,
			shownBy: { tail: 0.9, shift: 0.5, fin: 0.5, thrust: 0.3, heavy: 0.3 }
		},
		{
			sign: 'Low speed at the end of the rail',
			where: 'log or video frames; length of rail in use',
			anyway: 0.05,
			minutes: 20,
			shownBy: { thrust: 0.9, rail: 0.7, heavy: 0.7 }
		},
		{
			sign: 'First thrust below its curve',
			where: 'acceleration times mass beside the planned curve',
			anyway: 0.05,
			minutes: 30,
			shownBy: { thrust: 0.9 }
		},
		{
			sign: 'Guide torn, bent or scored, or rail scored',
			where: 'guides and rail, photographed before the rail is cleaned',
			anyway: 0.1,
			minutes: 10,
			shownBy: { rail: 0.9 }
		},
		{
			sign: 'Loaded mass above the plan',
			where: 'weighing note of the pad, parts on a scale',
			anyway: 0.05,
			minutes: 20,
			shownBy: { heavy: 0.99 }
		},
		{
			sign: 'Path leans into the wind at once, then flies straight',
			where: 'video, wind notes',
			anyway: 0.1,
			minutes: 20,
			shownBy: { wind: 0.9, thrust: 0.3 }
		},
		{
			sign: 'Gust above the limit in the wind record',
			where: 'wind record of the field at the second of launch',
			anyway: 0.1,
			minutes: 30,
			shownBy: { wind: 0.7 }
		},
		{
			sign: 'Nozzle worn or broken on one side, or side hole in the case',
			where: 'nozzle and case, motor cold and safe',
			anyway: 0.01,
			minutes: 15,
			shownBy: { skew: 0.9 }
		},
		{
			sign: 'Turn stays on one side while the motor burns',
			where: 'video, roll and side acceleration',
			anyway: 0.05,
			minutes: 20,
			shownBy: { skew: 0.9, bent: 0.5, fin: 0.3 }
		},
		{
			sign: 'Rail angle after the flight differs from the photo before',
			where: 'rail and its base; pad photos',
			anyway: 0.05,
			minutes: 10,
			shownBy: { aim: 0.9 }
		},
		{
			sign: 'Crease or gap on one side of a joint',
			where: 'joints and couplers',
			anyway: 0.05,
			minutes: 5,
			shownBy: { bent: 0.9 }
		}
	],
	calculations: ['ascent', 'breach', 'landing-footprint', 'sound-and-light', 'fin-flutter']
};
