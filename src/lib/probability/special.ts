/** Sum of c_i x^(n-i), highest power first. */
const polynomial = (x: number, c: readonly number[]) => c.reduce((sum, ci) => sum * x + ci, 0);

/**
 * log Γ(x) for x > 0, relative error under 1e-13.
 * Source: Lanczos approximation with g = 7 and 9 terms (Numerical Recipes and others; coefficients from memory,
 * checked against factorials and Γ(1/2)).
 */
export function logGamma(x: number): number {
	if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
	const c = [
		0.9999999999998099, 676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406,
		12.507343278686905, -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7
	];
	const t = x + 6.5;
	const sum = c.reduce((s, ci, i) => (i === 0 ? ci : s + ci / (x - 1 + i)), 0);
	return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(t) - t + Math.log(sum);
}

/**
 * Complementary error function, relative error under 1e-13 where it does not underflow.
 * Series for |x| < 2, continued fraction beyond (Abramowitz & Stegun 7.1.6 and 7.1.14).
 */
export function erfc(x: number): number {
	if (x < 0) return 2 - erfc(-x);
	if (x < 2) {
		let term = x;
		let sum = x;
		for (let n = 1; n < 100; n++) {
			term *= (2 * x * x) / (2 * n + 1);
			sum += term;
		}
		return 1 - (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
	}
	let fraction = 0;
	for (let k = 100; k > 0; k--) fraction = k / 2 / (x + fraction);
	return Math.exp(-x * x) / (Math.sqrt(Math.PI) * (x + fraction));
}

/** P(Z < z) of the standard normal distribution. */
export const normalCdf = (z: number) => 0.5 * erfc(-z / Math.SQRT2);

/**
 * z with P(Z < z) = p. Relative error about 1e-16.
 * Source: Wichura 1988, algorithm AS 241 (PPND16), coefficients from memory, checked by the round trip.
 */
export function normalQuantile(p: number): number {
	if (!(p > 0 && p < 1)) throw new RangeError(`p must lie between 0 and 1, got ${p}`);
	const q = p - 0.5;
	if (Math.abs(q) <= 0.425) {
		const r = 0.180625 - q * q;
		return (
			(q *
				polynomial(
					r,
					[
						2509.0809287301227, 33430.57558358813, 67265.7709270087, 45921.95393154987, 13731.69376550946,
						1971.5909503065513, 133.14166789178438, 3.3871328727963665
					]
				)) /
			polynomial(
				r,
				[
					5226.495278852546, 28729.085735721943, 39307.89580009271, 21213.794301586597, 5394.196021424751,
					687.1870074920579, 42.31333070160091, 1
				]
			)
		);
	}
	const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
	const tail =
		r <= 5
			? polynomial(
					r - 1.6,
					[
						0.0007745450142783414, 0.022723844989269184, 0.2417807251774506, 1.2704582524523684,
						3.6478483247632045, 5.769497221460691, 4.630337846156546, 1.4234371107496835
					]
				) /
				polynomial(
					r - 1.6,
					[
						1.0507500716444169e-9, 0.0005475938084995345, 0.015198666563616457, 0.14810397642748008,
						0.6897673349851, 1.6763848301838038, 2.053191626637759, 1
					]
				)
			: polynomial(
					r - 5,
					[
						2.0103343992922881e-7, 2.7115555687434876e-5, 0.0012426609473880784, 0.026532189526576124,
						0.29656057182850487, 1.7848265399172913, 5.463784911164114, 6.657904643501103
					]
				) /
				polynomial(
					r - 5,
					[
						2.0442631033899397e-15, 1.421511758316446e-7, 1.8463183175100548e-5, 0.0007868691311456133,
						0.014875361290850615, 0.1369298809227358, 0.599832206555888, 1
					]
				);
	return q < 0 ? -tail : tail;
}

/** I_x(a, b), the regularised incomplete beta function, by Lentz's continued fraction; error under 1e-12. */
export function incompleteBeta(x: number, a: number, b: number): number {
	if (x <= 0) return 0;
	if (x >= 1) return 1;
	if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
	const front =
		Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x)) / a;
	let c = 1;
	let d = 1 / (1 - ((a + b) * x) / (a + 1));
	let f = d;
	for (let m = 1; m <= 300; m++) {
		const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
		d = 1 / (1 + even * d);
		c = 1 + even / c;
		f *= d * c;
		const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
		d = 1 / (1 + odd * d);
		c = 1 + odd / c;
		f *= d * c;
	}
	return front * f;
}

/** P(T < t) of Student's t. */
export function studentCdf(t: number, df: number): number {
	const tail = 0.5 * incompleteBeta(df / (df + t * t), df / 2, 0.5);
	return t > 0 ? 1 - tail : tail;
}

/** Student's t density at t, for location 0 and scale 1. */
export function studentPdf(t: number, df: number): number {
	const norm = Math.exp(logGamma((df + 1) / 2) - logGamma(df / 2)) / Math.sqrt(df * Math.PI);
	return norm * (1 + (t * t) / df) ** (-(df + 1) / 2);
}

/** x in [low, high] with f(x) = p for a rising f: a fixed 80 halvings, so that it never hangs on a last digit. */
export function bisect(f: (x: number) => number, p: number, low: number, high: number): number {
	for (let i = 0; i < 80; i++) {
		const middle = (low + high) / 2;
		if (f(middle) < p) low = middle;
		else high = middle;
	}
	return (low + high) / 2;
}

/** P(χ² > x) with df degrees of freedom: how often agreement this poor comes about by chance. */
export function chiSquareTail(x: number, df: number): number {
	// Exact recurrence from df = 1 or 2 upward (Abramowitz & Stegun 26.4.4-5).
	if (x <= 0) return 1;
	let tail = df % 2 ? erfc(Math.sqrt(x / 2)) : Math.exp(-x / 2);
	for (let n = df % 2 ? 3 : 4; n <= df; n += 2)
		tail += Math.exp((n / 2 - 1) * Math.log(x / 2) - x / 2 - logGamma(n / 2));
	return tail;
}
