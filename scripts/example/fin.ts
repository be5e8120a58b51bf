/** A1: the outer half of fin 2. Where it lay speaks: four falls are computed and enter the tree. */
import { conclude, decide, percent, sign, state } from './anomaly';
import type { Bench, Run } from './bench';
import { LOG } from './world';

const A = 'a1';

export async function fin(bench: Bench): Promise<void> {
	bench.at('2025-05-26T19:00:00Z', 'Marit');
	await state(
		bench,
		A,
		{
			title: 'The outer half of fin 2 was not on the vehicle when it was found',
			expected: 'Three whole fins at recovery, as after flights 1 and 2',
			observed: 'Fin 2 ends 62 mm from the tube; its outer half lay about 200 m away, on the pad’s side',
			when: 'Between lift-off and landing',
			consequence: `Apogee ${LOG.shortfallM} m lower than expected; the vehicle turned under the drogue`,
			phase: 'notKnown',
			firstImpression: 'It came down on that fin and broke it. They always break at landing.',
			subject: 'Outer half of fin 2',
			failedState: 'parts from the vehicle',
			boundary: [
				'The fin, its scarf joint and whatever loads them from lift-off to recovery',
				'Not: the descent after it (A2)'
			]
		},
		'Outer half of fin 2 parts from the vehicle',
		0.03,
		[
			{
				id: 'a1-10',
				title: 'Air load parts the fin while the motor burns',
				gate: 'and',
				inputs: [
					{
						id: 'a1-11',
						title: 'Scarf joint holds less than the sheet',
						p: 0.14,
						basis: 'ownHistory',
						why: 'two of fourteen own scarf joints parted early when pulled'
					},
					{
						id: 'a1-12',
						title: 'Load on the fin is high while the motor burns',
						gate: 'or',
						inputs: [
							{
								id: 'a1-13',
								title: 'Fin flutters near the greatest speed',
								p: 0.1,
								basis: 'guess',
								why: 'thinner sheet than on the first airframe, never computed'
							},
							{
								id: 'a1-14',
								title: 'Gust or wobble loads the fin sideways',
								p: 0.05,
								basis: 'guess',
								why: 'breezy day, short rail'
							}
						]
					}
				]
			},
			{
				id: 'a1-20',
				title: 'Air load parts the fin in the coast',
				gate: 'and',
				inputs: [
					{ shared: 'a1-11' },
					{
						id: 'a1-21',
						title: 'Fin goes on fluttering after burnout',
						p: 0.04,
						basis: 'guess',
						why: 'speed falls at once after burnout'
					}
				]
			},
			{
				id: 'a1-30',
				title: 'Tether strikes the fin off under the drogue',
				p: 0.03,
				basis: 'commonPractice',
				why: 'common practice, no source: now and then on a turning vehicle'
			},
			{
				id: 'a1-40',
				title: 'Sections knock the fin off under the main',
				gate: 'inhibit',
				condition: {
					id: 'a1-42',
					title: 'Nose section hangs at the height of the fins',
					p: 0.3,
					why: 'the nose hangs on the longer leg of the tether'
				},
				inputs: [
					{
						id: 'a1-41',
						title: 'Nose section swings hard against the body',
						p: 0.05,
						basis: 'guess',
						why: 'seen once in nine flights, without damage'
					}
				]
			},
			{
				id: 'a1-50',
				title: 'Fin breaks off at landing',
				p: 0.1,
				basis: 'commonPractice',
				why: 'common practice, no source: most lost fins are lost there'
			}
		],
		{ 'a1-50': '70 %', 'a1-11': '20 %', 'a1-13': '5 %', 'a1-30': '5 %', 'a1-99': '5 %' }
	);
	await bench.do('exclusion.add', {
		id: 'a1-once',
		record: {
			anomaly: A,
			events: ['a1-30', 'a1-41', 'a1-50'],
			reason: 'The outer half can leave only once: what is off already is not struck off again.'
		}
	});
	await signs(bench);
	await falls(bench);
	await conclusion(bench);
}

async function signs(bench: Bench) {
	await bench.do('origin.add', {
		id: 'o-joss-ear',
		record: {
			name: 'Joss, 90 m from the pad',
			reliability: 0.85,
			saysAnyway: 0.1,
			note: 'One person’s eye and ear in a busy minute. Both signs below rest on it, so that they are not counted as two witnesses.'
		}
	});
	await sign(bench, A, 'f-along', {
		statement: 'Parted along the scarf joint, not through the sheet',
		state: 'present',
		base: 0.1,
		links: { 'a1-11': 0.9, 'a1-50': 0.3, 'a1-30': 0.3, 'a1-41': 0.3 },
		evidence: ['e-fin', 'e-photo-stub']
	});
	await sign(bench, A, 'f-dry', {
		statement: 'Half of the joint or more met dry',
		state: 'present',
		base: 0.08,
		links: { 'a1-11': 0.85 },
		evidence: ['e-joint']
	});
	await sign(bench, A, 'f-sister', {
		statement: 'Sister joint parts below half of what a sound one carries',
		state: 'present',
		base: 0.05,
		links: { 'a1-11': 0.7 },
		evidence: ['e-pull']
	});
	await sign(bench, A, 'f-soil', {
		statement: 'Soil, sap or crushed fibres on the joint edge',
		state: 'absent',
		base: 0.04,
		links: { 'a1-50': 0.7 },
		evidence: ['e-no-soil'],
		note: 'Looked for under the lens with nine chances in ten of seeing it; the link is lowered for that.'
	});
	await sign(bench, A, 'f-chafe', {
		statement: 'Mark of webbing or of the nose section on the stub',
		state: 'absent',
		base: 0.02,
		links: { 'a1-30': 0.6, 'a1-41': 0.5 },
		evidence: ['e-no-chafe']
	});
	await sign(bench, A, 'f-crack', {
		statement: 'A crack heard while the motor burns',
		state: 'present',
		base: 0.03,
		links: { 'a1-10': 0.6, 'a1-20': 0.1 },
		evidence: ['e-joss'],
		origin: 'o-joss-ear',
		note: 'Edda puts it just after. The two stand as a conflict, and nothing below hangs on it alone.'
	});
	await sign(bench, A, 'f-passing', {
		statement: 'Something small seen to fall, turning, long before the landing',
		state: 'present',
		base: 0.02,
		links: { 'a1-10': 0.5, 'a1-20': 0.4, 'a1-30': 0.4 },
		evidence: ['e-joss'],
		origin: 'o-joss-ear'
	});
	await sign(bench, A, 'f-low', {
		statement: 'Apogee more than 10 % lower than expected',
		state: 'present',
		base: 0.1,
		links: { 'a1-10': 0.8, 'a1-20': 0.5 },
		evidence: ['e-log'],
		note: 'A vehicle that has lost half a fin flies at an angle and with more drag. A weak motor would do it too, hence the base rate.'
	});
	await sign(bench, A, 'f-blur', {
		statement: 'Fin edge blurred in the film before burnout, sharp before that',
		state: 'notExamined',
		base: 0.05,
		links: { 'a1-13': 0.6, 'a1-14': 0.05 },
		cost: 90,
		note: 'Edda’s film, picture by picture. It can tell flutter from a gust.'
	});
	await sign(bench, A, 'f-cracks', {
		statement: 'Fine cracks at the root of fins 1 and 3',
		state: 'notExamined',
		base: 0.05,
		links: { 'a1-13': 0.5 },
		cost: 120,
		destructive: true,
		note: 'Dye and a saw cut through the fillets: fins 1 and 3 would not fly again.'
	});
}

/** Where the outer half would have come down for each moment at which it may have left. */
async function falls(bench: Bench) {
	bench.at('2025-05-31T09:00:00Z', 'Marit');
	const air = {
		siteElevation: { from: ['site', 'main', 'elevation'] },
		siteTemperature: { from: ['weather', 'main', 'temperature'] },
		sitePressure: { from: ['weather', 'main', 'pressure'] },
		windFactor: { from: ['weather', 'main', 'speedSpread'] },
		windTurn: { from: ['weather', 'main', 'directionSpread'] }
	} satisfies Run['inputs'];
	const fromPad = {
		east: { from: ['evidence', 'e-fin', 'east:pad'] },
		north: { from: ['evidence', 'e-fin', 'north:pad'] }
	} satisfies Run['observed'];
	const alone = (
		id: string,
		event: string,
		title: string,
		height: string,
		east: string,
		north: string,
		speed: string,
		note: string
	) =>
		bench.calculate({
			id,
			calculation: 'landing-footprint',
			anomaly: A,
			title,
			note,
			inputs: {
				apogeeHeight: height,
				apogeeEast: east,
				apogeeNorth: north,
				groundSpeed: speed,
				separatedRate: { from: ['evidence', 'e-drop', 'value'] },
				...air
			},
			observed: fromPad,
			scenarios: [{ id: 'separated' }, { id: 'none-of-these', reach: '600 m' }],
			events: [event, null]
		});
	const counted =
		' One place on the ground is looked at from several sides: in each run the other moments are “none of these”, with the same broad density, so that the place counts once.';
	await alone(
		'k-coast',
		'a1-20',
		'Where the outer half lies if it left in the coast',
		'250 to 1060 m',
		'-50 ± 30 m',
		'25 ± 20 m',
		'0 to 12 m/s',
		'“Apogee” is here the highest point of the piece itself: so light a piece rises only some 25 m after it has left. Heights from burnout to the apogee of the vehicle.' +
			counted
	);
	await alone(
		'k-drogue',
		'a1-30',
		'Where the outer half lies if it left under the drogue',
		'200 to 1050 m',
		'40 ± 90 m',
		'-30 ± 60 m',
		'4 to 10 m/s',
		'It would start where the vehicle was: carried from upwind of the pad at apogee to downwind of it where the main opened, hence the wide east and north.' +
			counted
	);
	await alone(
		'k-boost',
		'a1-10',
		'Where the outer half lies if it left while the motor burned',
		'30 to 250 m',
		'-8 ± 8 m',
		'4 ± 5 m',
		'0 to 10 m/s',
		'From the rail to burnout, by the recorder’s log, and 25 m more for the rise of the piece.' + counted
	);
	await bench.calculate({
		id: 'k-main',
		calculation: 'fall-separation',
		anomaly: A,
		title: 'Did body and outer half part under the main, or at landing?',
		note:
			'The body fell at 6.4 m/s below 200 m, by the recorder’s log; its ballistic coefficient is worked out from that.' +
			counted,
		inputs: {
			pieces: [
				{
					name: { from: ['evidence', 'e-body', 'title'], as: 'Body under the main' },
					ballisticCoefficient: '2.5 ± 0.2 kg/m²'
				},
				{
					name: { from: ['evidence', 'e-fin', 'title'], as: 'Outer half' },
					ballisticCoefficient: { from: ['evidence', 'e-fin', 'ballisticCoefficient'] }
				}
			],
			highestParting: { from: ['expected', 'x-main-height', 'value'] },
			...air,
			climbRate: '-6.4 ± 0.5 m/s',
			impactScatter: '5 m'
		},
		observed: {
			found: [
				{
					piece: 'Outer half',
					east: { from: ['evidence', 'e-fin', 'east:e-body'] },
					north: { from: ['evidence', 'e-fin', 'north:e-body'] }
				}
			]
		},
		scenarios: [
			{ id: 'parted-in-the-air', from: '0 m', to: '200 m' },
			{ id: 'parted-at-impact' },
			{ id: 'none-of-these', reach: '600 m' }
		],
		events: ['a1-40', 'a1-50', null]
	});
}

async function conclusion(bench: Bench) {
	bench.at('2025-06-01T15:00:00Z', 'Marit');
	const w = await bench.weights(A);
	const at = (id: string) => w[id] ?? Number.NaN;
	await decide(
		bench,
		A,
		'a1-50',
		'ruledOutByCalculation',
		'It lay some 200 m from the body, upwind; pieces that part at landing lie within a few metres. The joint edge is clean as well.',
		['k-main', 'f-soil']
	);
	await decide(
		bench,
		A,
		'a1-41',
		'ruledOutByCalculation',
		'From 200 m under the main it could not have got nearly as far from the body as it lay.',
		['k-main', 'f-chafe']
	);
	await decide(
		bench,
		A,
		'a1-30',
		'unlikely',
		'It would lie farther from the pad in 97 of 100 computed falls, and no webbing touched the stub. Not called out: three falls in a hundred do reach the place.',
		['k-drogue', 'f-chafe']
	);
	await decide(
		bench,
		A,
		'a1-21',
		'unlikely',
		'It would lie farther from the pad in 94 of 100 computed falls. Flutter may well have gone on for the other fins; for this one it no longer matters.',
		['k-coast']
	);
	await decide(
		bench,
		A,
		'a1-11',
		'established',
		'Dry over more than half of its area, parted along it, and its sister from the same evening carried 430 N instead of 1000 N.',
		['f-along', 'f-dry', 'f-sister', 'e-pull'],
		'root'
	);
	await decide(
		bench,
		A,
		'a1-13',
		at('a1-13') >= 0.55 ? 'likely' : 'unlikely',
		'Leads over a gust on its starting weight only: nothing looked at so far tells the two apart. The film can.',
		['k-boost'],
		'proximate'
	);
	await decide(
		bench,
		A,
		'a1-14',
		'unlikely',
		'Not excluded. Nobody saw the vehicle leave its line before the crack.',
		['e-joss']
	);
	await decide(bench, A, 'a1-99', 'unlikely', 'Kept open by what it is; little is left for it to explain.', [
		'k-boost'
	]);
	await conclude(
		bench,
		A,
		{
			state: 'probableCause',
			statement: `The outer half of fin 2 parted from the vehicle while the motor burned (${percent(at('a1-10'))}). The scarf joint of the repair held less than the sheet: more than half of it met dry (${percent(at('a1-11'))}). What loaded it is less sure: flutter near the greatest speed (${percent(at('a1-13'))}) before a gust (${percent(at('a1-14'))}).\n\nIt did not break at landing, as was thought at first.`,
			confidence: 'moderate',
			confidenceReason:
				'Four independent kinds of evidence agree: where it lay, the joint itself, its sister, and the apogee. Starting weights are guesses and own history of fourteen joints; the wind was measured once, 72 minutes earlier.',
			counterArgument:
				'Had the wind been a good deal weaker than the balloon said, the place would fit the first seconds of the coast better than the burn. The witnesses do not agree whether the motor still ran. Either way it is the joint that let go.',
			tripwires:
				'The film shows a sharp fin edge up to the crack. Fine cracks in fins 1 and 3. A second sister joint that carries more than 1000 N.'
		},
		[
			['it parted while the motor burned, very likely', at('a1-10') > 0.8],
			['the joint was weak', at('a1-11') > 0.95],
			['flutter stands before a gust', at('a1-13') > at('a1-14')],
			['landing is out', at('a1-50') < 0.02]
		]
	);
}
