import { describe, expect, it } from 'vitest';
import { integrate } from '$lib/physics/ode';

const swing = (_: number, y: Float64Array, dy: Float64Array) => {
	dy[0] = y[1]!;
	dy[1] = -y[0]!;
};

describe('integration', () => {
	it('follows a swing for ten turns within its tolerance', () => {
		const end = integrate({
			derivative: swing,
			y0: [1, 0],
			tEnd: 20 * Math.PI,
			relTol: 1e-10,
			absTol: 1e-10
		});
		expect(end.y[0]).toBeCloseTo(1, 7);
		expect(end.y[1]).toBeCloseTo(0, 7);
		expect(end.event).toBe(-1);
	});
	it('is of fifth order: a tolerance 1000 times finer costs about four times the steps', () => {
		const steps = (tol: number) =>
			integrate({ derivative: swing, y0: [1, 0], tEnd: 20, relTol: tol, absTol: tol }).steps;
		expect(steps(1e-10) / steps(1e-7)).toBeGreaterThan(3.2);
		expect(steps(1e-10) / steps(1e-7)).toBeLessThan(5);
	});
	it('is exact for a polynomial of fourth degree in time, whatever the step', () => {
		const end = integrate({
			derivative: (t, _, dy) => (dy[0] = 5 * t ** 4),
			y0: [0],
			tEnd: 3,
			relTol: 1,
			absTol: 1e9
		});
		expect(end.y[0]).toBeCloseTo(243, 9);
	});
	it('stops at the first event, to rounding', () => {
		const end = integrate({
			derivative: swing,
			y0: [1, 0],
			tEnd: 100,
			events: [(_, y) => y[0]! + 0.5, (_, y) => y[0]!]
		});
		expect(end.event).toBe(1);
		expect(end.t).toBeCloseTo(Math.PI / 2, 8);
		expect(Math.abs(end.y[0]!)).toBeLessThan(1e-12);
	});
	it('tells each step, from the start to the end', () => {
		const times: number[] = [];
		integrate({ derivative: swing, y0: [1, 0], tEnd: 1, onStep: (t) => times.push(t) });
		expect(times[0]).toBe(0);
		expect(times.at(-1)).toBe(1);
		expect([...times].sort((a, b) => a - b)).toEqual(times);
	});
	it('says so rather than give a number where it cannot go on', () => {
		const blowUp = (_: number, y: Float64Array, dy: Float64Array) => (dy[0] = y[0]! ** 2);
		expect(() => integrate({ derivative: blowUp, y0: [1], tEnd: 2 })).toThrow(
			/step has shrunk|steps and was not done/
		);
		expect(() => integrate({ derivative: swing, y0: [1, 0], tEnd: 100, maxSteps: 3 })).toThrow(
			'took 3 steps'
		);
		expect(() => integrate({ derivative: swing, y0: [1, 0], tEnd: 0 })).toThrow('duration');
	});
});
