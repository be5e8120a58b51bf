import { requireNotNegative, requirePositive } from './checks';

/** Drag coefficient by Mach number, linear between the points and constant outside them. */
export interface DragCurve {
	readonly mach: Float64Array;
	readonly cd: Float64Array;
	readonly slope: Float64Array;
}

/** @throws {RangeError} where Mach numbers do not rise or a coefficient is not positive */
export function makeDragCurve(mach: ArrayLike<number>, cd: ArrayLike<number>): DragCurve {
	if (mach.length === 0 || mach.length !== cd.length)
		throw new RangeError('a drag curve needs as many coefficients as Mach numbers, one at least');
	const slope = new Float64Array(mach.length);
	for (let i = 0; i < mach.length; i++) {
		requireNotNegative({ mach: mach[i]! });
		requirePositive({ cd: cd[i]! });
		if (i === 0) continue;
		if (!(mach[i]! > mach[i - 1]!))
			throw new RangeError(`Mach numbers must rise, got ${mach[i - 1]} then ${mach[i]}`);
		slope[i - 1] = (cd[i]! - cd[i - 1]!) / (mach[i]! - mach[i - 1]!);
	}
	return { mach: Float64Array.from(mach), cd: Float64Array.from(cd), slope };
}
