/** A2: the drogue round the tether. The descent run says how much of it was open. */
import { conclude, decide, percent, sign, state } from './anomaly';
import type { Bench } from './bench';
import { LOG } from './world';

const A = 'a2';

export async function drogue(bench: Bench): Promise<void> {
	bench.at('2025-06-02T18:00:00Z', 'Marit');
	await state(
		bench,
		A,
		{
			title: `Descent at ${LOG.drogueMS.toFixed(0)} m/s instead of 18 m/s, drogue found round the tether`,
			expected: '18 ± 1 m/s under the drogue, as on flights 1 and 2',
			observed: `${LOG.drogueMS.toFixed(1)} m/s between 900 m and 300 m; leader wound eleven times round the tether`,
			when: 'From apogee to the opening of the main at 200 m',
			consequence: 'Main opened at a higher speed than it was made for; it held',
			phase: 'descent',
			firstImpression: 'Packed in a hurry on Friday night. I laid the tether over it, I think.',
			subject: 'Drogue',
			failedState: 'stays partly closed on the way down',
			boundary: ['Canopy, lines, leader, swivel and tether under the drogue', 'Not: the main, which held']
		},
		'Drogue stays partly closed on the way down',
		0.03,
		[
			{
				id: 'a2-10',
				title: 'Turning winds the leader round the tether',
				gate: 'and',
				inputs: [
					{
						id: 'a2-11',
						title: 'Vehicle turns under the drogue',
						gate: 'or',
						inputs: [
							{
								id: 'a2-12',
								title: 'Unequal fins turn the hanging body',
								gate: 'and',
								inputs: [
									{
										id: 'a2-13',
										title: 'Half of fin 2 is missing on the way down',
										house: true,
										note: 'Switched on by the conclusion of A1. Switch it off to see how this tree looks for a whole vehicle.'
									},
									{
										id: 'a2-14',
										title: 'Air on the other fins spins it up',
										p: 0.5,
										basis: 'guess',
										why: 'two fins and a half, hanging aft end first in the wind of the descent'
									}
								]
							},
							{
								id: 'a2-15',
								title: 'Canopy itself rotates',
								p: 0.1,
								basis: 'ownHistory',
								why: 'one of nine drogue descents filmed'
							}
						]
					},
					{
						id: 'a2-16',
						title: 'Swivel does not turn under load',
						p: 0.08,
						basis: 'guess',
						why: 'plain bearing, three flights in sand'
					}
				]
			},
			{
				id: 'a2-20',
				title: 'Drogue comes out across the tether',
				gate: 'and',
				inputs: [
					{
						id: 'a2-21',
						title: 'Tether is stowed across the canopy',
						p: 0.1,
						basis: 'guess',
						why: 'packed alone and late'
					},
					{
						id: 'a2-22',
						title: 'Tether pays out before the canopy has left',
						p: 0.3,
						basis: 'guess',
						why: 'seen twice on ground tests of six'
					}
				]
			},
			{
				id: 'a2-30',
				title: 'Snagged lines hold the canopy half closed',
				gate: 'atLeast',
				k: 2,
				inputs: [1, 4, 7].map((gore, i) => ({
					id: `a2-3${i + 1}`,
					title: `Lines of gores ${gore} to ${gore + 2} are snagged`,
					p: 0.06,
					basis: 'commonPractice' as const,
					why: 'common practice, no source; one group alone leaves it open enough'
				}))
			}
		],
		{ 'a2-21': '60 %', 'a2-22': '50 %', 'a2-16': '10 %', 'a2-14': '10 %', 'a2-99': '10 %' }
	);
	await bench.do('origin.add', {
		id: 'o-edda-eye',
		record: {
			name: 'Edda, at the camera',
			reliability: 0.8,
			saysAnyway: 0.2,
			note: 'Followed the descent by eye until it went behind the rise.'
		}
	});
	await sign(bench, A, 'f-wound', {
		statement: 'Leader wound many times in one direction',
		state: 'present',
		base: 0.02,
		links: { 'a2-10': 0.9, 'a2-20': 0.08 },
		evidence: ['e-drogue', 'e-turns', 'e-photo-drogue']
	});
	await sign(bench, A, 'f-swivel', {
		statement: 'Swivel needs more than 0.03 N·m to turn under 70 N',
		state: 'present',
		base: 0.05,
		links: { 'a2-16': 0.95 },
		evidence: ['e-swivel', 'e-photo-swivel']
	});
	await sign(bench, A, 'f-top', {
		statement: 'Seen turning, faster and faster',
		state: 'present',
		base: 0.1,
		links: { 'a2-12': 0.9, 'a2-15': 0.6 },
		evidence: ['e-edda'],
		origin: 'o-edda-eye'
	});
	await sign(bench, A, 'f-never', {
		statement: 'Seen not to open from the first moment',
		state: 'present',
		base: 0.1,
		links: { 'a2-20': 0.8, 'a2-30': 0.7, 'a2-10': 0.3 },
		evidence: ['e-edda'],
		origin: 'o-edda-eye',
		note: '“The orange thing never really opened.” Speaks against winding up, which takes a while: kept, not explained away.'
	});
	await sign(bench, A, 'f-loops', {
		statement: 'Packing photo shows the tether in its own loops, clear of the canopy',
		state: 'notExamined',
		base: 0.1,
		links: { '!a2-21': 0.9 },
		cost: 20,
		note: 'Marit thinks that one was taken on Friday night; it is on the old phone. The link starts from the tether not being across.'
	});
	await sign(bench, A, 'f-creases', {
		statement: 'Crease of the tether pressed into the canopy cloth',
		state: 'absent',
		base: 0.03,
		links: { 'a2-21': 0.7 },
		evidence: ['e-drogue']
	});
	await sign(bench, A, 'f-snagged', {
		statement: 'Two line groups snagged at places of their own',
		state: 'absent',
		base: 0.02,
		links: { 'a2-30': 0.85 },
		evidence: ['e-drogue', 'e-photo-drogue']
	});
	await sign(bench, A, 'f-worn', {
		statement: 'Bearing of the swivel worn on one side',
		state: 'notExamined',
		base: 0.1,
		links: { 'a2-16': 0.5 },
		cost: 45,
		destructive: true,
		note: 'Sawing the swivel open. It is the only one that flew.'
	});

	bench.at('2025-06-02T19:30:00Z', 'Marit');
	await bench.calculate({
		id: 'k-open',
		calculation: 'descent',
		anomaly: A,
		title: `How much of the drogue was open at ${LOG.drogueMS.toFixed(0)} m/s?`,
		note: 'Does not weigh: that it was partly closed is the top event itself. It says how far, and that a whole drogue can’t explain the rate.',
		inputs: {
			mass: '7.4 ± 0.1 kg',
			dragArea: '0.36 ± 0.03 m²',
			recordedRate: { from: ['evidence', 'e-log', 'reading:1'] },
			rateHeight: '600 m',
			siteElevation: { from: ['site', 'main', 'elevation'] },
			siteTemperature: { from: ['weather', 'main', 'temperature'] },
			sitePressure: { from: ['weather', 'main', 'pressure'] }
		},
		observed: { rate: { from: ['evidence', 'e-log', 'reading:1'] } }
	});
	await bench.calculate({
		id: 'k-plan',
		calculation: 'landing-footprint',
		anomaly: null,
		title: 'Where each descent would have put the body',
		note: 'For the plan of the ground. The apogee lay upwind of the pad; where, nobody measured: 3° of rail and the wind on the way up make it 110 m, give or take 40 m.',
		inputs: {
			apogeeHeight: { from: ['evidence', 'e-log', 'reading:0'] },
			apogeeEast: '-100 ± 40 m',
			apogeeNorth: '45 ± 40 m',
			groundSpeed: '4 to 12 m/s',
			heading: '296 ± 15 °',
			mainHeight: { from: ['expected', 'x-main-height', 'value'] },
			drogueRate: { from: ['expected', 'x-drogue', 'value'] },
			mainRate: { from: ['expected', 'x-main', 'value'] },
			bareRate: '55 ± 8 m/s',
			siteElevation: { from: ['site', 'main', 'elevation'] },
			siteTemperature: { from: ['weather', 'main', 'temperature'] },
			sitePressure: { from: ['weather', 'main', 'pressure'] },
			windFactor: { from: ['weather', 'main', 'speedSpread'] },
			windTurn: { from: ['weather', 'main', 'directionSpread'] }
		},
		observed: {
			east: { from: ['evidence', 'e-body', 'east:pad'] },
			north: { from: ['evidence', 'e-body', 'north:pad'] }
		}
	});

	bench.at('2025-06-03T18:00:00Z', 'Marit');
	const w = await bench.weights(A);
	const at = (id: string) => w[id] ?? Number.NaN;
	await decide(
		bench,
		A,
		'a2-16',
		at('a2-16') >= 0.95 ? 'established' : 'likely',
		'Measured: five times the torque of a new one, sand in the gap.',
		['f-swivel', 'e-swivel'],
		'root'
	);
	await decide(
		bench,
		A,
		'a2-14',
		'likely',
		'Half a fin was gone, and it was seen turning.',
		['f-top', 'f-wound'],
		'proximate'
	);
	await decide(bench, A, 'a2-15', 'unlikely', 'Possible beside the other; nothing asks for it.', ['f-top']);
	await decide(bench, A, 'a2-21', 'unlikely', 'No crease in the cloth. The packing photo would settle it.', [
		'f-creases'
	]);
	await decide(bench, A, 'a2-22', 'unlikely', 'Matters only if the tether lay across the canopy.', [
		'f-creases'
	]);
	for (const id of ['a2-31', 'a2-32', 'a2-33'])
		await decide(bench, A, id, 'unlikely', 'No group was snagged by itself when it was unpicked.', [
			'f-snagged'
		]);
	await decide(
		bench,
		A,
		'a2-99',
		'unlikely',
		`Still holds ${percent(at('a2-99'))} of the belief, for what Edda saw in the first seconds is not well explained by anything in the tree.`,
		['f-wound']
	);
	await conclude(
		bench,
		A,
		{
			state: 'probableCause',
			statement: `The turning vehicle wound the leader round the tether (${percent(at('a2-10'))}), since the swivel did not turn under load (${percent(at('a2-16'))}). The vehicle turned because half of fin 2 was gone (A1). About half of the drogue’s area was open on average: see the descent run.`,
			confidence: 'moderate',
			confidenceReason: 'Leader and swivel were measured; that it turned rests on one pair of eyes.',
			counterArgument:
				'Edda says that it never really opened, which fits a bad packing better than winding up. With a stiff swivel measured after the flight nobody knows whether the sand was in it before.',
			tripwires:
				'The packing photo shows the tether across the canopy. A new swivel of this kind turns freely with the same sand in it.'
		},
		[
			['winding up leads clearly', at('a2-10') > 0.8],
			['packing is well behind', at('a2-20') < 0.2]
		]
	);
}
