import { THREADS } from '$lib/physics/thread';
import { formatSi } from '$lib/quantity/format';
import type { Inputs, Link } from './inputs';
import { isUnknown, nameOf, sagOf, unknownWords } from './links';

/** Twice the overlap of the usual coupon (ASTM D1002, 12.7 mm): above it strength does not grow with length. */
const LONG_OVERLAP_M = 0.0254;
/** Plies roll at 1.4 to 2.1 MPa; what is typed above this is a strength through the thickness. */
const ROLLING_PA = 3e6;
const WARM_K = 273.15 + 50;

const mm = (m: number) => formatSi(m, 'length', { unit: 'mm', figures: 2 });

function bolt({ count = 1 }: Link): string[] {
	return [
		'this is its thread in tension; a bent, unwelded eye straightens at a fraction of that, and a sideways pull bends the shank.',
		...(count > 1
			? ['its legs or screws are taken to share the load evenly; one pulled aslant carries most of it.']
			: [])
	];
}

function thread(l: Link): string[] {
	const turns = l.engagement! / THREADS[l.thread!]!.pitchM;
	return [
		...(turns < 3
			? [`only ${turns.toFixed(1)} threads are engaged: below three full threads the formula does not hold.`]
			: []),
		...(l.female === 'printed'
			? [
					'a printed or plastic thread creeps, softens and shears between its layers: test it, or use an insert.'
				]
			: []),
		...(l.female === 'wood'
			? ['a thread tapped in wood has no reliable shear strength: test it, or use a nut and a washer.']
			: []),
		'count no threads on a chamfer or at the end of a tap’s cut; the screw’s own thread is taken to shear at 0.6 of its tensile strength.'
	];
}

function washer(l: Link): string[] {
	if (l.material !== 'wood') return [];
	return [
		...(l.shearStrength! > ROLLING_PA
			? [
					`${formatSi(l.shearStrength!, 'pressure', { unit: 'MPa', figures: 2 })} is a shear strength through the thickness; where the plies roll over each other, as round a glued rim or under bending, it is 3 to 5 times less.`
				]
			: [])
	];
}

function plate(l: Link, loadN: number): string[] {
	const sag = sagOf(l, loadN);
	return [
		sag === undefined
			? 'without its modulus the sag is not known: past half its thickness the plate formula says nothing.'
			: sag.clamped > l.thickness! / 2
				? `under this load it would sag ${mm(sag.clamped)} to ${mm(sag.simplySupported)}, more than half its thickness: the plate formula says nothing there, it then carries as a membrane.`
				: sag.simplySupported > l.thickness! / 2
					? `if its edge were free to turn it would sag ${mm(sag.simplySupported)}, more than half its thickness: the simply supported answer says nothing there.`
					: '',
		l.thickness! > l.radius! / 4
			? 'it is thicker than a quarter of its radius: shear bends it further and breaks it sooner than the formula for thin plates says.'
			: '',
		'its edge lies between simply supported and clamped, and both are shown; the hole at its middle is not counted.',
		...(l.material === 'wood'
			? [
					'plywood is weaker across the grain of its face: give that strength; glued round its rim it can also fail by rolling of its plies: add that as a joint of 1.4 to 2.1 MPa.'
				]
			: []),
		...(l.material === 'printed'
			? ['a print bent so that its layers are pulled apart has only its strength across them.']
			: [])
	].filter(Boolean);
}

function bond(l: Link, { temperature }: Inputs): string[] {
	return [
		...(l.overlap! > LONG_OVERLAP_M
			? [
					`an overlap of ${mm(l.overlap!)} is long: beyond about 25 mm the ends carry the load and the strength no longer grows with length, so this answer is too high.`
				]
			: []),
		...(l.holdsAt !== 'here' && (temperature === undefined || temperature > WARM_K)
			? [
					'room-temperature epoxies lose half their strength and more above 50 to 60 °C: beside a motor the data sheet does not hold.'
				]
			: []),
		'lap-shear strengths of coupons are no design values: peel, cleavage and a surface that was not abraded take most of it, and a paper or phenolic tube comes apart in its own layers first.'
	];
}

function printed({ temperature }: Inputs): string[] {
	return [
		'only a strength across the layers counts here; a data sheet’s is along them, and 0.3 to 0.8 of it holds across.',
		...(temperature === undefined || temperature > WARM_K
			? ['PLA softens above about 50 °C, as in a parked car or a dark airframe in the sun.']
			: [])
	];
}

const line = [
	'a knot halves a line and more; heat, soot, wear and wet change its strength, and webbing that was hot is not what its label says.'
];

/** Where not to believe it, in whole sentences. */
export function limits(x: Inputs): string[] {
	const ofLinks = x.links.flatMap((l, i) => {
		const said =
			l.kind === 'bolt'
				? bolt(l)
				: l.kind === 'thread'
					? thread(l)
					: l.kind === 'washer'
						? washer(l)
						: l.kind === 'plate'
							? plate(l, x.load)
							: l.kind === 'bond'
								? bond(l, x)
								: l.kind === 'printed'
									? printed(x)
									: l.kind === 'line'
										? line
										: [];
		return [...(isUnknown(x, l) ? [unknownWords(x)] : []), ...said].map(
			(sentence) => `${capital(nameOf(x, i))}: ${sentence}`
		);
	});
	const wooden = x.links.some((l) => l.material === 'wood' || l.female === 'wood');
	return [
		...ofLinks,
		...(wooden
			? [
					'Wood above 12 % moisture, and hobby plywood of unknown species and voids, is weaker than the tables say.'
				]
			: []),
		...(x.basis === 'typical'
			? [
					'The margins rest on typical strengths: half of all parts are weaker. A margin to rely on takes the least strength that nearly all reach.'
				]
			: ['How often it fails is told from least strengths as if they were mean ones: it is overstated.']),
		'This is one load case. A sideways pull, a second opening or a load that comes faster is another one.',
		`A margin is not a factor: the load times ${Number(x.factor.toPrecision(3))} is already in it, so 0 is just enough and +1 is twice that.`
	];
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
