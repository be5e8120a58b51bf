/** Exponents of length, mass, time, temperature, plane angle and electric current. */
export type Vector = readonly [number, number, number, number, number, number];

interface DimensionRow {
	/** With its article, as a sentence needs it: 'a length'. */
	phrase: string;
	/** The SI unit that all computing uses. */
	si: string;
	vector: Vector;
	/** Unit offered first, in the two display systems. */
	metric: string;
	imperial: string;
	/** 'weight': a mass unit may stand for its weight (lb for lbf); 'mass': a weight form is turned into mass. */
	gravity?: 'weight' | 'mass';
	/** Typed without a unit it is refused, because the usual units are too easily confused. */
	unitRequired?: string;
}

const v = (l = 0, m = 0, t = 0, k = 0, a = 0, i = 0): Vector => [l, m, t, k, a, i];

const rows = {
	length: { phrase: 'a length', si: 'm', vector: v(1), metric: 'm', imperial: 'ft' },
	area: { phrase: 'an area', si: 'm²', vector: v(2), metric: 'm²', imperial: 'ft²' },
	volume: { phrase: 'a volume', si: 'm³', vector: v(3), metric: 'L', imperial: 'in³' },
	mass: { phrase: 'a mass', si: 'kg', vector: v(0, 1), metric: 'kg', imperial: 'lb' },
	time: { phrase: 'a time', si: 's', vector: v(0, 0, 1), metric: 's', imperial: 's' },
	frequency: { phrase: 'a frequency', si: 'Hz', vector: v(0, 0, -1), metric: 'Hz', imperial: 'Hz' },
	speed: { phrase: 'a speed', si: 'm/s', vector: v(1, 0, -1), metric: 'm/s', imperial: 'ft/s' },
	acceleration: {
		phrase: 'an acceleration',
		si: 'm/s²',
		vector: v(1, 0, -2),
		metric: 'm/s²',
		imperial: 'ft/s²'
	},
	force: { phrase: 'a force', si: 'N', vector: v(1, 1, -2), metric: 'N', imperial: 'lbf', gravity: 'weight' },
	pressure: {
		phrase: 'a pressure',
		si: 'Pa',
		vector: v(-1, 1, -2),
		metric: 'hPa',
		imperial: 'psi',
		gravity: 'weight'
	},
	energy: {
		phrase: 'an energy',
		si: 'J',
		vector: v(2, 1, -2),
		metric: 'J',
		imperial: 'ft·lbf',
		gravity: 'weight'
	},
	torque: {
		phrase: 'a torque',
		si: 'N·m',
		vector: v(2, 1, -2),
		metric: 'N·m',
		imperial: 'ft·lbf',
		gravity: 'weight'
	},
	power: { phrase: 'a power', si: 'W', vector: v(2, 1, -3), metric: 'W', imperial: 'W' },
	impulse: {
		phrase: 'an impulse',
		si: 'N·s',
		vector: v(1, 1, -1),
		metric: 'N·s',
		imperial: 'lbf·s',
		gravity: 'weight'
	},
	density: { phrase: 'a density', si: 'kg/m³', vector: v(-3, 1), metric: 'kg/m³', imperial: 'lb/ft³' },
	'ballistic coefficient': {
		phrase: 'a ballistic coefficient',
		si: 'kg/m²',
		vector: v(-2, 1),
		metric: 'kg/m²',
		imperial: 'lb/ft²',
		gravity: 'mass',
		unitRequired:
			'write kg/m² or lb/ft² (psf) after it: the same number in lb/ft² is 4.88 times as much in kg/m²'
	},
	'line density': {
		phrase: 'a mass per length',
		si: 'kg/m',
		vector: v(-1, 1),
		metric: 'g/m',
		imperial: 'lb/ft'
	},
	stiffness: {
		phrase: 'a stiffness',
		si: 'N/m',
		vector: v(0, 1, -2),
		metric: 'N/m',
		imperial: 'lbf/in',
		gravity: 'weight'
	},
	'mass flow': { phrase: 'a mass flow', si: 'kg/s', vector: v(0, 1, -1), metric: 'kg/s', imperial: 'lb/s' },
	'moment of inertia': {
		phrase: 'a moment of inertia',
		si: 'kg·m²',
		vector: v(2, 1),
		metric: 'kg·m²',
		imperial: 'lb·ft²'
	},
	viscosity: { phrase: 'a viscosity', si: 'Pa·s', vector: v(-1, 1, -1), metric: 'Pa·s', imperial: 'Pa·s' },
	diffusivity: {
		phrase: 'a diffusivity',
		si: 'm²/s',
		vector: v(2, 0, -1),
		metric: 'm²/s',
		imperial: 'ft²/s'
	},
	temperature: { phrase: 'a temperature', si: 'K', vector: v(0, 0, 0, 1), metric: '°C', imperial: '°F' },
	'temperature difference': {
		phrase: 'a temperature difference',
		si: 'K',
		vector: v(0, 0, 0, 1),
		metric: 'K',
		imperial: '°F'
	},
	'lapse rate': {
		phrase: 'a lapse rate',
		si: 'K/m',
		vector: v(-1, 0, 0, 1),
		metric: 'K/km',
		imperial: '°F/kft'
	},
	'heat flux': {
		phrase: 'a heat flux',
		si: 'W/m²',
		vector: v(0, 1, -3),
		metric: 'W/m²',
		imperial: 'BTU/(h·ft²)'
	},
	conductivity: {
		phrase: 'a thermal conductivity',
		si: 'W/(m·K)',
		vector: v(1, 1, -3, -1),
		metric: 'W/(m·K)',
		imperial: 'BTU/(h·ft·°F)'
	},
	'heat-transfer coefficient': {
		phrase: 'a heat-transfer coefficient',
		si: 'W/(m²·K)',
		vector: v(0, 1, -3, -1),
		metric: 'W/(m²·K)',
		imperial: 'BTU/(h·ft²·°F)'
	},
	'specific heat': {
		phrase: 'a specific heat',
		si: 'J/(kg·K)',
		vector: v(2, 0, -2, -1),
		metric: 'J/(kg·K)',
		imperial: 'BTU/(lb·°F)'
	},
	'specific energy': {
		phrase: 'an energy per mass',
		si: 'J/kg',
		vector: v(2, 0, -2),
		metric: 'kJ/kg',
		imperial: 'BTU/lb'
	},
	'thermal expansion': {
		phrase: 'a thermal expansion',
		si: '1/K',
		vector: v(0, 0, 0, -1),
		metric: '1/K',
		imperial: '1/°F'
	},
	angle: { phrase: 'an angle', si: 'rad', vector: v(0, 0, 0, 0, 1), metric: '°', imperial: '°' },
	'angular rate': {
		phrase: 'a turning rate',
		si: 'rad/s',
		vector: v(0, 0, -1, 0, 1),
		metric: '°/s',
		imperial: '°/s'
	},
	'force slope': {
		phrase: 'a slope per angle',
		si: '1/rad',
		vector: v(0, 0, 0, 0, -1),
		metric: '1/rad',
		imperial: '1/rad'
	},
	ratio: { phrase: 'a plain number or a percentage', si: '1', vector: v(), metric: '1', imperial: '1' },
	current: { phrase: 'a current', si: 'A', vector: v(0, 0, 0, 0, 0, 1), metric: 'A', imperial: 'A' },
	voltage: { phrase: 'a voltage', si: 'V', vector: v(2, 1, -3, 0, 0, -1), metric: 'V', imperial: 'V' },
	resistance: { phrase: 'a resistance', si: 'Ω', vector: v(2, 1, -3, 0, 0, -2), metric: 'Ω', imperial: 'Ω' },
	charge: {
		phrase: 'an electric charge',
		si: 'A·s',
		vector: v(0, 0, 1, 0, 0, 1),
		metric: 'mA·h',
		imperial: 'mA·h'
	}
} satisfies Record<string, DimensionRow>;

export type Dimension = keyof typeof rows;
export const DIMENSIONS: Readonly<Record<Dimension, DimensionRow>> = rows;
export const dimensionNames = Object.keys(rows) as Dimension[];

const same = (a: Vector, b: Vector) => a.every((x, i) => x === b[i]);

/** The first named dimension with these exponents, in words, or undefined. */
export function phraseOf(vector: Vector): string | undefined {
	const name = dimensionNames.find((n) => same(DIMENSIONS[n].vector, vector));
	return name && DIMENSIONS[name].phrase;
}

/** How a unit's exponents fit a dimension: directly, through standard gravity, or not at all. */
export function fit(vector: Vector, dimension: Dimension): 'same' | 'times gravity' | 'over gravity' | 'no' {
	const wanted = DIMENSIONS[dimension];
	if (same(vector, wanted.vector)) return 'same';
	const [l, m, t, ...rest] = vector;
	if (wanted.gravity === 'weight' && same([l + 1, m, t - 2, ...rest], wanted.vector)) return 'times gravity';
	if (wanted.gravity === 'mass' && same([l - 1, m, t + 2, ...rest], wanted.vector)) return 'over gravity';
	return 'no';
}
