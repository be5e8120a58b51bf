/** Guards against a programmer's mistake: each throws a RangeError that names the argument. */

type Numbers = Readonly<Record<string, number>>;

export function requireFinite(values: Numbers): void {
	for (const [name, x] of Object.entries(values))
		if (!Number.isFinite(x)) throw new RangeError(`${name} must be a finite number, got ${x}`);
}

export function requirePositive(values: Numbers): void {
	for (const [name, x] of Object.entries(values))
		if (!(x > 0 && Number.isFinite(x))) throw new RangeError(`${name} must be positive and finite, got ${x}`);
}

export function requireNotNegative(values: Numbers): void {
	for (const [name, x] of Object.entries(values))
		if (!(x >= 0 && Number.isFinite(x)))
			throw new RangeError(`${name} must be zero or more and finite, got ${x}`);
}

export function requireRange(values: Numbers, low: number, high: number): void {
	for (const [name, x] of Object.entries(values))
		if (!(x >= low && x <= high))
			throw new RangeError(`${name} must lie between ${low} and ${high}, got ${x}`);
}
