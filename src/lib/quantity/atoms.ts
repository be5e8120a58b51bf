import type { Vector } from './dimensions';

/** Standard gravity, m/s², exact (CGPM 1901). */
export const STANDARD_GRAVITY = 9.80665;

/** One unit that others are built from. `factor` turns a number of it into SI; no offset. */
export interface Atom {
	factor: number;
	vector: Vector;
	prefixable: boolean;
	source: string;
}

const INCH = 0.0254;
const FOOT = 0.3048;
const POUND = 0.45359237;
const POUND_FORCE = POUND * STANDARD_GRAVITY;
const BTU = 1055.05585262;

const L: Vector = [1, 0, 0, 0, 0, 0];
const AREA: Vector = [2, 0, 0, 0, 0, 0];
const VOLUME: Vector = [3, 0, 0, 0, 0, 0];
const M: Vector = [0, 1, 0, 0, 0, 0];
const T: Vector = [0, 0, 1, 0, 0, 0];
const K: Vector = [0, 0, 0, 1, 0, 0];
const ANGLE: Vector = [0, 0, 0, 0, 1, 0];
const NONE: Vector = [0, 0, 0, 0, 0, 0];
const SPEED: Vector = [1, 0, -1, 0, 0, 0];
const ACCELERATION: Vector = [1, 0, -2, 0, 0, 0];
const FORCE: Vector = [1, 1, -2, 0, 0, 0];
const PRESSURE: Vector = [-1, 1, -2, 0, 0, 0];
const ENERGY: Vector = [2, 1, -2, 0, 0, 0];
const POWER: Vector = [2, 1, -3, 0, 0, 0];
const IMPULSE: Vector = [1, 1, -1, 0, 0, 0];

const SI = 'SI brochure';
const YARD_POUND = 'exact by the yard and pound agreement of 1959';
const SP811 = 'NIST SP 811 appendix B, from memory';

/** [spellings, factor, exponents, takes prefixes, source]. The first spelling is the usual one. */
type Row = [string, number, Vector, boolean, string];
const rows: Row[] = [
	['m metre meter', 1, L, true, SI],
	['in inch inches', INCH, L, false, YARD_POUND],
	['ft foot feet', FOOT, L, false, YARD_POUND],
	['kft', 1000 * FOOT, L, false, YARD_POUND],
	['yd yds yard', 3 * FOOT, L, false, YARD_POUND],
	['mi mile', 5280 * FOOT, L, false, YARD_POUND],
	['nmi NM', 1852, L, false, 'exact, International Hydrographic Conference 1929'],
	['thou mil', INCH / 1000, L, false, YARD_POUND],
	['micron', 1e-6, L, false, SI],
	['ha hectare', 1e4, AREA, false, SI],
	['acre', 43560 * FOOT ** 2, AREA, false, YARD_POUND],
	['L l litre liter', 1e-3, VOLUME, true, SI],
	['cc', 1e-6, VOLUME, false, SI],
	['gal gallon', 231 * INCH ** 3, VOLUME, false, 'U.S. gallon of 231 in³, exact; ' + SP811],
	['g gram gramme', 1e-3, M, true, SI],
	['t tonne', 1000, M, false, SI],
	['kgs kilo', 1, M, false, SI],
	['lb lbs lbm pound', POUND, M, false, YARD_POUND],
	['oz ounce', POUND / 16, M, false, YARD_POUND],
	['st stone', 14 * POUND, M, false, YARD_POUND],
	['gr grain', POUND / 7000, M, false, YARD_POUND],
	['slug', POUND_FORCE / FOOT, M, false, SP811],
	['s sec second', 1, T, true, SI],
	['min minute', 60, T, false, SI],
	['h hr hrs hour', 3600, T, false, SI],
	['d day', 86400, T, false, SI],
	['Hz hertz', 1, [0, 0, -1, 0, 0, 0], true, SI],
	['K kelvin', 1, K, true, SI],
	['°C ℃ degC Cdeg celsius', 1, K, false, SI],
	['°F ℉ degF fahrenheit', 5 / 9, K, false, SP811],
	['°R degR rankine', 5 / 9, K, false, SP811],
	['rad radian', 1, ANGLE, true, SI],
	['° deg degree', Math.PI / 180, ANGLE, false, SI],
	['arcmin', Math.PI / 10800, ANGLE, false, SI],
	['arcsec', Math.PI / 648000, ANGLE, false, SI],
	['gon grad', Math.PI / 200, ANGLE, false, SP811],
	['turn rev', 2 * Math.PI, ANGLE, false, SI],
	['rpm', (2 * Math.PI) / 60, [0, 0, -1, 0, 1, 0], false, SP811],
	['mph', (5280 * FOOT) / 3600, SPEED, false, YARD_POUND],
	['mps', 1, SPEED, false, SI],
	['kph kmh kmph', 1000 / 3600, SPEED, false, SI],
	['kn kt kts knot', 1852 / 3600, SPEED, false, 'exact: one nautical mile an hour'],
	['fps', FOOT, SPEED, false, YARD_POUND],
	['fpm', FOOT / 60, SPEED, false, YARD_POUND],
	['gn gee', STANDARD_GRAVITY, ACCELERATION, false, 'CGPM 1901, exact'],
	['N newton', 1, FORCE, true, SI],
	['lbf', POUND_FORCE, FORCE, false, SP811],
	['ozf', POUND_FORCE / 16, FORCE, false, SP811],
	['kgf kp', STANDARD_GRAVITY, FORCE, false, SP811],
	['gf', STANDARD_GRAVITY / 1000, FORCE, false, SP811],
	['dyn dyne', 1e-5, FORCE, false, SP811],
	['Pa pascal', 1, PRESSURE, true, SI],
	['bar', 1e5, PRESSURE, true, SP811],
	['bara', 1e5, PRESSURE, false, SP811],
	['mb millibar', 100, PRESSURE, false, SP811],
	['atm', 101325, PRESSURE, false, SP811],
	['torr', 101325 / 760, PRESSURE, false, SP811],
	['mmHg', 133.322387415, PRESSURE, false, 'conventional; ' + SP811],
	['inHg', 13595.1 * STANDARD_GRAVITY * INCH, PRESSURE, false, 'conventional; ' + SP811],
	['inH2O', 1000 * STANDARD_GRAVITY * INCH, PRESSURE, false, 'conventional; ' + SP811],
	['psi psia', POUND_FORCE / INCH ** 2, PRESSURE, false, SP811],
	['ksi', (1000 * POUND_FORCE) / INCH ** 2, PRESSURE, false, SP811],
	['psf', POUND_FORCE / FOOT ** 2, PRESSURE, false, SP811],
	['J joule', 1, ENERGY, true, SI],
	['Wh', 3600, ENERGY, true, SI],
	['cal', 4.184, ENERGY, true, 'thermochemical; ' + SP811],
	['BTU Btu', BTU, ENERGY, false, 'International Table; ' + SP811],
	['ftlb ftlbf ftlbs', FOOT * POUND_FORCE, ENERGY, false, SP811],
	['inlb inlbf inlbs', INCH * POUND_FORCE, ENERGY, false, SP811],
	['Nm', 1, ENERGY, true, SI],
	['W watt', 1, POWER, true, SI],
	['hp horsepower', 550 * FOOT * POUND_FORCE, POWER, false, 'mechanical; ' + SP811],
	['Ns', 1, IMPULSE, true, SI],
	['lbfs lbs-s', POUND_FORCE, IMPULSE, false, SP811],
	['P poise', 0.1, [-1, 1, -1, 0, 0, 0], true, SP811],
	['1', 1, NONE, false, SI],
	['% percent pct', 0.01, NONE, false, SI],
	['‰', 1e-3, NONE, false, SI],
	['ppm', 1e-6, NONE, false, SI],
	['A amp ampere', 1, [0, 0, 0, 0, 0, 1], true, SI],
	['V volt', 1, [2, 1, -3, 0, 0, -1], true, SI],
	['Ω ohm', 1, [2, 1, -3, 0, 0, -2], true, SI],
	['mAh', 3.6, [0, 0, 1, 0, 0, 1], false, SI],
	['Ah', 3600, [0, 0, 1, 0, 0, 1], false, SI]
];

export const ATOMS: ReadonlyMap<string, Atom> = new Map(
	rows.flatMap(([spellings, factor, vector, prefixable, source]) =>
		spellings.split(' ').map((s): [string, Atom] => [s, { factor, vector, prefixable, source }])
	)
);

const PREFIXES: [string, string, number][] = [
	['da', 'deca', 10],
	['G', 'giga', 1e9],
	['M', 'mega', 1e6],
	['k', 'kilo', 1e3],
	['h', 'hecto', 100],
	['d', 'deci', 0.1],
	['c', 'centi', 0.01],
	['m', 'milli', 1e-3],
	['μ', 'micro', 1e-6],
	['u', 'micro', 1e-6],
	['n', 'nano', 1e-9]
];

function exact(name: string): Atom | undefined {
	const atom = ATOMS.get(name);
	if (atom) return atom;
	for (const [short, long, factor] of PREFIXES)
		for (const prefix of [long, short]) {
			const base = name.startsWith(prefix) ? ATOMS.get(name.slice(prefix.length)) : undefined;
			// One-letter prefixes go with symbols, words with words: 'kilometre', never 'kmetre'.
			if (base?.prefixable && name.length - prefix.length > 3 === prefix.length > 2)
				return { ...base, factor: factor * base.factor };
		}
	return undefined;
}

/** Every reading of one unit name: as written, else as a plural, else whatever its case. */
export function readAtom(name: string): Atom[] {
	const found = exact(name) ?? (name.length > 3 && name.endsWith('s') ? exact(name.slice(0, -1)) : undefined);
	if (found) return [found];
	const lower = name.toLowerCase();
	const readings = new Map<string, Atom>();
	const add = (atom: Atom | undefined) => atom && readings.set(`${atom.factor} ${atom.vector.join()}`, atom);
	for (const key of ATOMS.keys()) {
		const keyLower = key.toLowerCase();
		if (keyLower === lower || (key.length > 2 && keyLower + 's' === lower)) add(ATOMS.get(key));
		if (lower.endsWith(keyLower) && ATOMS.get(key)?.prefixable)
			for (const [short, long] of PREFIXES)
				if (lower === short.toLowerCase() + keyLower || lower === long + keyLower)
					add(exact((lower === long + keyLower ? long : short) + key));
	}
	return [...readings.values()];
}
