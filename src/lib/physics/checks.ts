/**
 * Guards against a programmer's mistake: each throws a RangeError that names the argument. They stand in inner loops,
 * so nothing is made where all is well.
 */

type Numbers = Readonly<Record<string, number>>;

export function requireFinite(values: Numbers): void {
	for (const name in values)
		if (!Number.isFinite(values[name]))
			throw new RangeError(`${name} must be a finite number, got ${values[name]}`);
}

export function requirePositive(values: Numbers): void {
	for (const name in values)
		if (!(values[name]! > 0 && Number.isFinite(values[name])))
			throw new RangeError(`${name} must be positive and finite, got ${values[name]}`);
}

export function requireNotNegative(values: Numbers): void {
	for (const name in values)
		if (!(values[name]! >= 0 && Number.isFinite(values[name])))
			throw new RangeError(`${name} must be zero or more and finite, got ${values[name]}`);
}

export function requireRange(values: Numbers, low: number, high: number): void {
	for (const name in values)
		if (!(values[name]! >= low && values[name]! <= high))
			throw new RangeError(`${name} must lie between ${low} and ${high}, got ${values[name]}`);
}
