import type { StartingTree } from '../starting-tree';

export const parachuteTangledOrBurnt: StartingTree = {
	id: 'parachute-tangled-or-burnt',
	title: 'Tangled or burnt parachute',
	takeIt: 'The parachute came out but did not open, or opened in part.',
	causes: [
		{
			name: 'closed',
			title: 'Canopy came out and stayed closed',
			of: [
				{
					name: 'lines',
					title: 'Lines twisted or looped over the canopy',
					of: [
						{ name: 'fold', title: 'Fold let the lines cross over the cloth', often: 0.05, fault: 'primary' },
						{
							name: 'spin',
							title: 'Swivel did not turn while sections spun',
							often: 0.05,
							fault: 'secondary'
						},
						{
							name: 'tether',
							title: 'Slack tether looped around the canopy',
							often: 0.05,
							fault: 'secondary'
						}
					]
				},
				{
					name: 'bound',
					title: 'Something held the cloth shut',
					of: [
						{
							name: 'protector',
							title: 'Protector or bag slid up and held the canopy shut',
							often: 0.05,
							fault: 'primary'
						},
						{ name: 'band', title: 'Packing band or tape stayed on', often: 0.01, fault: 'command' },
						{
							name: 'set',
							title: 'Cloth set stiff by cold, damp or long packing',
							often: 0.05,
							fault: 'secondary'
						}
					]
				}
			]
		},
		{
			name: 'burnt',
			title: 'Canopy was burnt by hot gas',
			of: [
				{
					name: 'cover',
					title: 'Protector shifted or did not cover the cloth',
					often: 0.05,
					fault: 'primary'
				},
				{ name: 'hot', title: 'Charge threw burning grains at the bundle', often: 0.05, fault: 'secondary' },
				{ name: 'motor', title: 'Motor gas reached the bay', often: 0.01, fault: 'secondary' }
			]
		},
		{
			name: 'starved',
			title: 'Canopy hung in the wake or came out too slow',
			of: [
				{ name: 'wake', title: 'Canopy hung in the wake of a section', often: 0.01, fault: 'secondary' },
				{
					name: 'low',
					title: 'Deployment came too low for the canopy to fill',
					often: 0.05,
					fault: 'command'
				}
			]
		}
	],
	signs: [
		{
			sign: 'Line lies over the canopy in the found state',
			where: 'lines and cloth, photographed before lifting',
			anyway: 0.1,
			minutes: 10,
			shownBy: { fold: 0.9, spin: 0.3 }
		},
		{
			sign: 'Lines twisted like a rope',
			where: 'lines between confluence and swivel; count the turns',
			anyway: 0.1,
			minutes: 5,
			shownBy: { spin: 0.9, fold: 0.1 }
		},
		{
			sign: 'Swivel binds under load',
			where: 'turn it by hand with the load hanging from it',
			anyway: 0.05,
			minutes: 10,
			shownBy: { spin: 0.9 }
		},
		{
			sign: 'Tether wound around the cloth',
			where: 'as found; friction marks on the cloth',
			anyway: 0.05,
			minutes: 5,
			shownBy: { tether: 0.9 }
		},
		{
			sign: 'Protector found up the lines',
			where: 'position of the protector as found',
			anyway: 0.05,
			minutes: 5,
			shownBy: { protector: 0.9 }
		},
		{
			sign: 'Band or tape still around the bundle',
			where: 'bundle as found',
			anyway: 0.01,
			minutes: 2,
			shownBy: { band: 0.99 }
		},
		{
			sign: 'Folds stay sharp when the cloth is let fall',
			where: 'dry the cloth and repeat; note the time it was packed',
			anyway: 0.1,
			minutes: 60,
			shownBy: { set: 0.9 }
		},
		{
			sign: 'Melted holes or hard edges in the cloth',
			where: 'each panel against the light; keep the folds for the pattern',
			anyway: 0.05,
			minutes: 5,
			shownBy: { cover: 0.9, hot: 0.9, motor: 0.9 }
		},
		{
			sign: 'Burn pattern repeats along the folds',
			where: 'refold the canopy along its creases',
			anyway: 0.01,
			minutes: 45,
			shownBy: { cover: 0.7, motor: 0.5 }
		},
		{
			sign: 'Small round burns apart from one another',
			where: 'cloth and protector under a lens',
			anyway: 0.05,
			minutes: 15,
			shownBy: { hot: 0.9 }
		},
		{
			sign: 'Hot track from the motor to the bay',
			where: 'forward closure, bulkhead, wire passes',
			anyway: 0.01,
			minutes: 20,
			shownBy: { motor: 0.9 }
		},
		{
			sign: 'Canopy seen trailing close behind a section',
			where: 'video of the descent',
			anyway: 0.05,
			minutes: 20,
			shownBy: { wake: 0.9 }
		},
		{
			sign: 'Deployment logged within seconds of landing',
			where: 'event list, height trace',
			anyway: 0.01,
			minutes: 20,
			shownBy: { low: 0.99 }
		}
	],
	calculations: ['descent', 'deployment-speed', 'landing-footprint', 'impact']
};
