/** Linear between the points of an ascending table, constant outside it. */
export function interpolate(xs: ArrayLike<number>, ys: ArrayLike<number>, x: number): number {
	const n = xs.length;
	if (n === 0 || ys.length !== n)
		throw new RangeError(`a table needs as many values as points, got ${n} and ${ys.length}`);
	let i = 0;
	while (i < n && x > xs[i]!) i++;
	if (i === 0) return ys[0]!;
	if (i === n) return ys[n - 1]!;
	return ys[i - 1]! + ((ys[i]! - ys[i - 1]!) * (x - xs[i - 1]!)) / (xs[i]! - xs[i - 1]!);
}
