import { POWDER_J_PER_KG } from '$lib/physics/charge';
import { formatSi } from '$lib/quantity/format';
import { defineCalculation, type Addition, type AdditionContext, type FigureContext } from '../calculation';
import type { Figure, Row } from '../figure';
import { outOf100 } from '../likelihood';
import { evidence } from './evidence';
import { INPUTS, ROD, type Inputs } from './inputs';
import { areaOf, holdingOf, jointUnder, meanJointUnder, partingOf, pinsOf, riseOf } from './joint';

const newtons = (n: number) => formatSi(n, 'force', { unit: 'N', figures: 3 });
const kpa = (p: number) => formatSi(p, 'pressure', { unit: 'kPa', figures: 3 });

const BRACKET = [
	{ id: 'cold', label: 'Cold gas, all heat lost', short: 'All heat lost', worth: POWDER_J_PER_KG.cold },
	{
		id: 'trade',
		label: 'The value that the trade takes',
		short: 'Trade’s value',
		worth: POWDER_J_PER_KG.trade
	},
	{ id: 'adiabatic', label: 'No heat lost: a bound', short: 'No heat lost', worth: POWDER_J_PER_KG.adiabatic }
] as const;

/** Under this, heat loss and the igniter decide. */
const SMALL_CHARGE_KG = 0.3e-3;
/** Above this a bay gives way before its joint; common practice, no source. */
const BURSTS_PA = 1e6;
/** Nylon's tensile strength begins here; its shear strength ends below. */
const TENSILE_NYLON_PA = 70e6;

interface Series {
	parted: number;
	stalled: number;
}

const stopsInside = (x: Inputs) =>
	`${pinsOf(x) > 0 ? 'shears the pins' : 'moves the joint'} but stops inside the joint`;

/** Which of the three values for black powder part the joint: a hotter one does wherever a colder one does. */
function bracketWords(x: Inputs): string {
	if (x.substance !== 'black-powder') return '';
	const [cold, trade, adiabatic] = BRACKET.map(({ worth }) => meanJointUnder(x, riseOf(x, 1, worth)).parted);
	if (cold) return ' Even the coldest gas parts it.';
	if (trade)
		return ' It parts with the value that the trade takes for the gas, and with no heat lost, but not with cold gas.';
	return adiabatic
		? ' It parts only if the gas loses no heat: not with the value that the trade takes, nor with cold gas.'
		: ' Even without any loss of heat it does not part.';
}

function* chances({ nominal: x, samples, random }: AdditionContext<Inputs>): Generator<void, Addition> {
	const pins = random('pins');
	let parted = 0;
	let stalled = 0;
	for (const [i, s] of samples.entries()) {
		const outcome = jointUnder(s, riseOf(s), pins);
		if (outcome.parted) parted++;
		if (outcome.stalled) stalled++;
		if (i % 500 === 499) yield;
	}
	const share = parted / samples.length;
	const stops = stalled / samples.length;
	return {
		series: { parted: share, stalled: stops } satisfies Series,
		statements: [
			`The joint parts in ${outOf100(share)} firings as built: what holds it is about ${newtons(holdingOf(x))}.${bracketWords(x)}`,
			...(stops >= 0.005
				? [`In ${outOf100(stops)} it ${stopsInside(x)}: the gas has no work left over the engaged length.`]
				: [])
		]
	};
}

function figure({ nominal: x, outputs, series }: FigureContext<Inputs>): Figure {
	const force = outputs['force']!;
	const holding = outputs['holding']!;
	const { parted, stalled } = series as Series;
	const at = BRACKET.map(({ short, worth }): Row => ({
		label: short,
		value: riseOf(x, 1, worth) * areaOf(x)
	}));
	return {
		title: `This charge as built parts the joint in ${outOf100(parted)} firings${
			stalled >= 0.005 ? `; in ${outOf100(stalled)} it ${stopsInside(x)}` : ''
		}`,
		x: { label: 'Force on the bulkhead', unit: 'N', min: 0 },
		y: { label: 'What is taken for the gas', unit: '1' },
		layers: [
			{
				kind: 'rule',
				axis: 'x',
				label: 'holds the joint',
				at: (holding.low90 + holding.high90) / 2,
				halfWidth: (holding.high90 - holding.low90) / 2
			},
			{
				kind: 'rows',
				label: 'force',
				rows: [
					{ label: 'As stated', value: force.nominal!, low: force.low90, high: force.high90 },
					...(x.substance === 'black-powder' ? at : [])
				]
			}
		]
	};
}

function limits(x: Inputs): string[] {
	const pins = pinsOf(x);
	const holes = [
		'The peak lies between the cold and the adiabatic value and hangs on heat loss, leaks and how fast it burned; temperatures in this subject are not known to a factor of two. The solids are already in these values: nothing is to be halved for them.',
		'Vents, loose joints and wiring holes let gas out before the peak; packed cloth and cord take up volume and cool it. Only a ground test of the same build tells.'
	];
	if (x.charge < SMALL_CHARGE_KG)
		holes.push(
			`A charge of ${formatSi(x.charge, 'mass', { unit: 'g', figures: 2 })} is so small that the igniter and the loss of heat decide, not this formula.`
		);
	if (x.height > 3000)
		holes.push(
			'In thin air powder that lies loose or in a soft sleeve burns in part only: the share that burned is not known.'
		);
	if (x.substance !== 'black-powder')
		holes.push(
			'Substitute powders have other gas and heat: the black-powder bracket does not hold for them.'
		);
	if (x.bay === 'sealed')
		holes.push(
			`Air shut in since the pad adds ${kpa(riseOf(x, 0))}; the pressures here are those above the air outside, not absolute.`
		);
	if (pins > 0)
		holes.push(
			'Nylon pins are stronger cold and dry, weaker hot and damp, by 30 % and more either way, and dry nylon can be brittle. Their length does not count; a pin in a soft or thin wall bends or tears out at another load.'
		);
	if (pins === 1 || pins === 2)
		holes.push('One or two pins let the sections cock and jam, or hold on one side only.');
	if (x.pin === ROD)
		holes.push('A rod counts with its whole section: a screw does not, choose it by its thread.');
	if (pins > 0 && x.pinShear! > TENSILE_NYLON_PA && x.pinShear! < 120e6)
		holes.push(
			`${formatSi(x.pinShear!, 'pressure', { unit: 'MPa', figures: 2 })} is a tensile strength for nylon; in shear it bears about 0.6 of that.`
		);
	const { stalled } = meanJointUnder(x, riseOf(x));
	if (stalled)
		holes.push(
			`With the values as given it ${stopsInside(x)}: as the gas expands, the air outside and friction take more than it gives. Speed and energy are none.`
		);
	if (riseOf(x) > BURSTS_PA)
		holes.push(
			`${formatSi(riseOf(x), 'pressure', { unit: 'bar', figures: 2 })} is more than bays are built for: above about 10 bar (common practice, no source) a tube or bulkhead gives way first, and the numbers here mean little.`
		);
	if (partingOf(x, riseOf(x))?.energy)
		holes.push(
			'The speed is a bound: gas leaves as soon as the joint opens, and drag and trapped air take their part. Do not add it to a parachute’s load: it loads the tether, see there.'
		);
	return holes;
}

export const deploymentCharge = defineCalculation({
	id: 'deployment-charge',
	title: 'What a deployment charge did',
	question:
		'Was the pressure of this charge enough to part the joint, how surely, and how fast did the sections part?',
	version: 3,
	inputs: INPUTS,
	outputs: [
		{ id: 'ratio', label: 'Force over what holds the joint', dimension: 'ratio', unit: '1', main: true },
		{ id: 'pressure', label: 'Pressure above the air outside', dimension: 'pressure', unit: 'kPa' },
		{
			id: 'bracket',
			label: 'Pressure above the air outside, black powder',
			dimension: 'pressure',
			unit: 'kPa'
		},
		{ id: 'force', label: 'Force on the bulkhead', dimension: 'force', unit: 'N' },
		{ id: 'holding', label: 'What holds the joint: pins and friction', dimension: 'force', unit: 'N' },
		{
			id: 'apart',
			label: 'Speed at which the sections part, at most',
			dimension: 'speed',
			unit: 'm/s',
			main: true
		},
		{ id: 'speedA', label: 'Speed of the one section', dimension: 'speed', unit: 'm/s' },
		{ id: 'speedB', label: 'Speed of the other section', dimension: 'speed', unit: 'm/s' },
		{ id: 'energy', label: 'Energy that goes into the tether', dimension: 'energy', unit: 'J' }
	],
	sources: [
		{
			text: 'Davis, The Chemistry of Powder and Explosives, p. 43: gas volume of black powder',
			basis: 'seen'
		},
		{ text: 'A hobby page on ejection charges: R 266, T 3307, 15 psi', basis: 'seen' },
		{ text: 'Shigley, table 8-2, and ISO 724: root areas of threads', basis: 'from memory' },
		{ text: 'Hobby articles on nylon shear pins (2009): shear 0.6 of tensile strength', basis: 'seen' },
		{ text: 'Separation by energy, adiabatic expansion', basis: 'hand-worked' }
	],
	docs: 'methods/deployment-charge.md',
	cautions: [
		'Every charge and igniter is live until a competent person has disarmed it: power off or disarm before anything is touched, nobody in line with the nose or the tube ends, no bending, drilling or cutting.',
		'This looks back at a charge that was used. It is no guide to choosing, making or loading one: that is settled by ground tests of the same build, by people allowed to do them.',
		'High Power Rocket Safety Code, August 2012: firing circuits stay inhibited but in launching position, and only those needed stay near. Energetic materials are licensed in many places. Local rules and the range’s safety officer prevail.'
	],
	check(x) {
		if (x.pins !== undefined && !Number.isInteger(x.pins)) return 'the number of pins must be a whole number';
		const given = [x.massA, x.massB, x.stroke].filter((v) => v !== undefined).length;
		if (given > 0 && given < 3)
			return 'for the speed both masses and the engaged length of the joint are needed; give all three or none';
		return undefined;
	},
	model(x) {
		const rise = riseOf(x);
		const force = rise * areaOf(x);
		const holding = holdingOf(x);
		if (!(holding > 0))
			throw new RangeError('something must hold the joint: give pins or a friction above zero');
		const parting = partingOf(x, rise);
		return {
			ratio: force / holding,
			pressure: rise,
			bracket:
				x.substance === 'black-powder'
					? Object.fromEntries(BRACKET.map(({ label, worth }) => [label, riseOf(x, 1, worth)]))
					: undefined,
			force,
			holding,
			apart: parting?.apart,
			speedA: parting?.a,
			speedB: parting?.b,
			energy: parting?.energy
		};
	},
	limits,
	evidence,
	addition: chances,
	figure
});
