import { requirePositive } from './checks';

/**
 * Dormand and Prince's 5(4) pair with local extrapolation, adaptive steps and stopping events.
 * Source: J. R. Dormand and P. J. Prince, "A family of embedded Runge-Kutta formulae",
 * J. Comput. Appl. Math. 6 (1980) 19-26; coefficients from memory, proven by the order test.
 */
export interface OdeProblem {
	/** Writes dy/dt into dy. */
	derivative: (t: number, y: Float64Array, dy: Float64Array) => void;
	y0: ArrayLike<number>;
	t0?: number;
	tEnd: number;
	relTol?: number;
	/** One for all, or one for each component. */
	absTol?: number | readonly number[];
	maxStep?: number;
	/** The first that falls from above 0 to 0 or below stops the integration there. */
	events?: readonly ((t: number, y: Float64Array) => number)[];
	/** Called at the start and after each accepted step. */
	onStep?: (t: number, y: Float64Array) => void;
	maxSteps?: number;
}

export interface OdeEnd {
	t: number;
	y: Float64Array;
	/** Which event stopped it, or -1 at tEnd. */
	event: number;
	steps: number;
}

/** @throws {Error} where the steps run out or shrink to nothing: no number is better than a wrong one */
export function integrate(problem: OdeProblem): OdeEnd {
	const { derivative, t0 = 0, tEnd, relTol = 1e-8, absTol = 1e-8, events = [], onStep } = problem;
	const { maxStep = tEnd - t0, maxSteps = 100_000 } = problem;
	requirePositive({ duration: tEnd - t0, relTol, maxStep });
	const n = problem.y0.length;
	const tolerance = typeof absTol === 'number' ? Array<number>(n).fill(absTol) : absTol;
	let y = Float64Array.from(problem.y0);
	let next = new Float64Array(n);
	const trial = new Float64Array(n);
	let [k1, k7] = [new Float64Array(n), new Float64Array(n)];
	const [k2, k3, k4, k5, k6] = [0, 0, 0, 0, 0].map(() => new Float64Array(n)) as [
		Float64Array,
		Float64Array,
		Float64Array,
		Float64Array,
		Float64Array
	];

	/** One step of length h from (t, y) into `next`; returns the error in units of the tolerance. */
	const step = (t: number, h: number): number => {
		for (let i = 0; i < n; i++) trial[i] = y[i]! + (h / 5) * k1[i]!;
		derivative(t + h / 5, trial, k2);
		for (let i = 0; i < n; i++) trial[i] = y[i]! + h * ((3 / 40) * k1[i]! + (9 / 40) * k2[i]!);
		derivative(t + 0.3 * h, trial, k3);
		for (let i = 0; i < n; i++)
			trial[i] = y[i]! + h * ((44 / 45) * k1[i]! - (56 / 15) * k2[i]! + (32 / 9) * k3[i]!);
		derivative(t + 0.8 * h, trial, k4);
		for (let i = 0; i < n; i++)
			trial[i] =
				y[i]! +
				h *
					((19372 / 6561) * k1[i]! -
						(25360 / 2187) * k2[i]! +
						(64448 / 6561) * k3[i]! -
						(212 / 729) * k4[i]!);
		derivative(t + (8 / 9) * h, trial, k5);
		for (let i = 0; i < n; i++)
			trial[i] =
				y[i]! +
				h *
					((9017 / 3168) * k1[i]! -
						(355 / 33) * k2[i]! +
						(46732 / 5247) * k3[i]! +
						(49 / 176) * k4[i]! -
						(5103 / 18656) * k5[i]!);
		derivative(t + h, trial, k6);
		for (let i = 0; i < n; i++)
			next[i] =
				y[i]! +
				h *
					((35 / 384) * k1[i]! +
						(500 / 1113) * k3[i]! +
						(125 / 192) * k4[i]! -
						(2187 / 6784) * k5[i]! +
						(11 / 84) * k6[i]!);
		derivative(t + h, next, k7);
		let sum = 0;
		for (let i = 0; i < n; i++) {
			const error =
				h *
				((71 / 57600) * k1[i]! -
					(71 / 16695) * k3[i]! +
					(71 / 1920) * k4[i]! -
					(17253 / 339200) * k5[i]! +
					(22 / 525) * k6[i]! -
					(1 / 40) * k7[i]!);
			const scale = tolerance[i]! + relTol * Math.max(Math.abs(y[i]!), Math.abs(next[i]!));
			sum += (error / scale) ** 2;
		}
		return Math.sqrt(sum / n);
	};

	let t = t0;
	derivative(t, y, k1);
	let h = Math.min(maxStep, firstStep(y, k1, tolerance, relTol, tEnd - t0));
	let before = events.map((e) => e(t, y));
	onStep?.(t, y);
	for (let steps = 1; steps <= maxSteps; steps++) {
		h = Math.min(h, maxStep, tEnd - t);
		const error = step(t, h);
		if (!(error <= 1)) {
			// A step that left the realm of numbers is cut hard, like any other that is much too long.
			h *= Number.isFinite(error) ? Math.max(0.2, 0.9 * error ** -0.2) : 0.2;
			if (!(t + h > t))
				throw new Error(`the integration cannot go on at t = ${t}: its step has shrunk to nothing`);
			continue;
		}
		const after = events.map((e) => e(t + h, next));
		const crossed = after.map((v, i) => (before[i]! > 0 && v <= 0 ? i : -1)).filter((i) => i >= 0);
		if (crossed.length > 0) {
			const hits = crossed.map((i) => {
				const valueAt = (s: number) => (step(t, s), events[i]!(t + s, next));
				return [crossing(valueAt, before[i]!, h), i] as const;
			});
			const [hit, event] = hits.reduce((a, b) => (b[0] < a[0] ? b : a));
			step(t, hit);
			onStep?.(t + hit, next);
			return { t: t + hit, y: next, event, steps };
		}
		t += h;
		[y, next] = [next, y];
		[k1, k7] = [k7, k1];
		before = after;
		onStep?.(t, y);
		if (t >= tEnd) return { t, y, event: -1, steps };
		h *= Math.min(5, 0.9 * Math.max(error, 1e-10) ** -0.2);
	}
	throw new Error(`the integration took ${maxSteps} steps and was not done at t = ${t}`);
}

/** Length of step from the same point at which the event falls to 0: Illinois method on real steps. */
function crossing(valueAt: (stepLength: number) => number, atStart: number, h: number): number {
	let [a, fa, b, fb] = [0, atStart, h, valueAt(h)];
	let kept = 0; // which end was kept last: kept twice, its value is halved
	for (let i = 0; i < 100 && b - a > 1e-14 * h; i++) {
		const s = (a * fb - b * fa) / (fb - fa);
		const f = valueAt(s);
		if (Math.abs(s - a) < 1e-13 * h || Math.abs(s - b) < 1e-13 * h || f === 0) return s;
		if (f > 0) {
			[a, fa] = [s, f];
			if (kept === 1) fb /= 2;
			kept = 1;
		} else {
			[b, fb] = [s, f];
			if (kept === -1) fa /= 2;
			kept = -1;
		}
	}
	return b;
}

function firstStep(
	y: Float64Array,
	dy: Float64Array,
	tolerance: readonly number[],
	relTol: number,
	span: number
) {
	let rate = 0;
	for (let i = 0; i < y.length; i++)
		rate = Math.max(rate, Math.abs(dy[i]!) / (tolerance[i]! + relTol * Math.abs(y[i]!)));
	return rate === 0 ? span / 100 : Math.min(span, 10 / rate + 1e-6);
}
