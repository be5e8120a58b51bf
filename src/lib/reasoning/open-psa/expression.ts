/**
 * Numbers of a file: what a basic event's probability is computed from. Open-PSA Model Exchange Format, stochastic
 * layer (from memory); a random deviate is taken at its mean.
 */
import { Fault, type XmlElement } from './xml';

/** A number, and the words that say what it was computed from. */
export interface Computed {
	value: number;
	says: string;
}

export interface Surroundings {
	/** The number of a parameter by its name. @throws {Fault} */
	parameter: (name: string, at: XmlElement) => Computed;
	/** In the unit of the file's rates. */
	missionTime: number | undefined;
	warn: (at: XmlElement, message: string) => void;
}

type Numbers = readonly number[];
interface Operator {
	least: number;
	most: number;
	of: (x: Numbers) => number;
	/** A distribution, of which only the mean is taken. */
	deviate?: true;
}

const any = (of: Operator['of'], least = 1): Operator => ({ least, most: Infinity, of });
const one = (f: (x: number) => number): Operator => ({ least: 1, most: 1, of: ([x = NaN]) => f(x) });
const two = (f: (x: number, y: number) => number): Operator => ({
	least: 2,
	most: 2,
	of: ([x = NaN, y = NaN]) => f(x, y)
});
const deviate = (least: number, most: number, of: Operator['of']): Operator => ({
	least,
	most,
	of,
	deviate: true
});

const OPERATORS: Readonly<Record<string, Operator>> = {
	neg: one((x) => -x),
	add: any((x) => x.reduce((a, b) => a + b)),
	sub: any((x) => x.reduce((a, b) => a - b)),
	mul: any((x) => x.reduce((a, b) => a * b)),
	div: any((x) => x.reduce((a, b) => a / b)),
	min: any((x) => Math.min(...x)),
	max: any((x) => Math.max(...x)),
	mean: any((x) => x.reduce((a, b) => a + b) / x.length),
	pow: two((x, y) => x ** y),
	mod: two((x, y) => x % y),
	...Object.fromEntries(
		(
			[
				'abs',
				'ceil',
				'floor',
				'sqrt',
				'exp',
				'log',
				'log10',
				'sin',
				'cos',
				'tan',
				'asin',
				'acos',
				'atan',
				'sinh',
				'cosh',
				'tanh'
			] as const
		).map((name) => [name, one((x) => Math[name](x))])
	),
	not: one((x) => Number(x === 0)),
	and: any((x) => Number(x.every(Boolean))),
	or: any((x) => Number(x.some(Boolean))),
	eq: two((x, y) => Number(x === y)),
	df: two((x, y) => Number(x !== y)),
	lt: two((x, y) => Number(x < y)),
	gt: two((x, y) => Number(x > y)),
	leq: two((x, y) => Number(x <= y)),
	geq: two((x, y) => Number(x >= y)),
	ite: { least: 3, most: 3, of: ([test, then = NaN, otherwise = NaN]) => (test ? then : otherwise) },
	/** Rate and time. */
	exponential: two((rate, time) => -Math.expm1(-rate * time)),
	/** Not started, failure rate, repair rate, time: unavailability of a part that is repaired. */
	GLM: {
		least: 4,
		most: 4,
		of: ([gamma = NaN, lambda = NaN, mu = NaN, t = NaN]) => {
			const both = lambda + mu;
			return (lambda - (lambda - gamma * both) * Math.exp(-both * t)) / both;
		}
	},
	/** Scale, shape, time before which nothing fails, time. */
	Weibull: {
		least: 4,
		most: 4,
		of: ([scale = NaN, shape = NaN, start = NaN, t = NaN]) =>
			t <= start ? 0 : -Math.expm1(-(((t - start) / scale) ** shape))
	},
	'uniform-deviate': deviate(2, 2, ([low = NaN, high = NaN]) => (low + high) / 2),
	'normal-deviate': deviate(2, 2, ([mean = NaN]) => mean),
	/** Mean, error factor and its level; or mean and standard deviation of the logarithm. */
	'lognormal-deviate': deviate(2, 3, ([a = NaN, b = NaN, level]) =>
		level === undefined ? Math.exp(a + (b * b) / 2) : a
	),
	'gamma-deviate': deviate(2, 2, ([shape = NaN, scale = NaN]) => shape * scale),
	'beta-deviate': deviate(2, 2, ([a = NaN, b = NaN]) => a / (a + b))
};

/** The number that an expression stands for. @throws {Fault} */
export function evaluate(at: XmlElement, around: Surroundings): Computed {
	const { name, line, children } = at;
	const plain = (value: number): Computed => ({ value, says: String(value) });
	switch (name) {
		case 'float':
		case 'int':
			return plain(numberIn(at));
		case 'bool':
			return plain(Number(truth(at)));
		case 'pi':
			return { value: Math.PI, says: 'pi' };
		case 'parameter':
			return around.parameter(attribute(at, 'name'), at);
		case 'system-mission-time':
			if (around.missionTime === undefined)
				throw new Fault(
					line,
					'<system-mission-time> stands here, and a file does not say how long that is; give the mission time'
				);
			return { value: around.missionTime, says: `mission time ${around.missionTime}` };
	}
	const operator = OPERATORS[name];
	if (!operator) throw new Fault(line, `<${name}> is not an expression that is read here`);
	const { least, most, of, deviate: isDeviate } = operator;
	if (children.length < least || children.length > most)
		throw new Fault(
			line,
			`<${name}> takes ${least === most ? least : most === Infinity ? `at least ${least}` : `${least} to ${most}`} numbers, and here are ${children.length}`
		);
	const parts = children.map((child) => evaluate(child, around));
	const value = of(parts.map((part) => part.value));
	if (!Number.isFinite(value)) throw new Fault(line, `<${name}> comes to no number`);
	if (isDeviate)
		around.warn(at, `is taken at its mean, ${Number(value.toPrecision(6))}; its spread is not weighed`);
	return { value, says: shortened(`${name}(${parts.map(({ says }) => says).join(', ')})`) };
}

/** What a number was computed from is told in a line, however often its parts stand in one another. */
export const shortened = (says: string) => (says.length > 200 ? `${says.slice(0, 199)}…` : says);

/** An attribute that must be there. @throws {Fault} */
export function attribute(at: XmlElement, name: string): string {
	const value = at.attributes.get(name)?.trim();
	if (!value) throw new Fault(at.line, `<${at.name}> has no ${name}`);
	return value;
}

/** The number in `value`, or in another attribute. @throws {Fault} */
export function numberIn(at: XmlElement, name = 'value'): number {
	const written = attribute(at, name);
	const value = Number(written);
	if (!Number.isFinite(value))
		throw new Fault(at.line, `<${at.name}> has ${name}="${written}", which is no number`);
	return value;
}

/** `value`, true or false. @throws {Fault} */
export function truth(at: XmlElement): boolean {
	const written = attribute(at, 'value');
	if (written !== 'true' && written !== 'false')
		throw new Fault(at.line, `<${at.name}> has value="${written}"; it is true or false`);
	return written === 'true';
}
