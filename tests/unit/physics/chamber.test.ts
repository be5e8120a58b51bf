import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { burnMotor, type Motor } from '$lib/physics/chamber';
import { grainAt, portAreaM2, webM, type Grain } from '$lib/physics/grain';

const near = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value / expected - 1), `${value} for ${expected}`).toBeLessThan(tolerance);

const plain: Grain = {
	outerM: 0.05,
	coreM: 0.02,
	lengthM: 0.08,
	freeEnds: 2,
	outerBurns: false,
	slots: 0,
	slotWidthM: 0
};
const grains: fc.Arbitrary<Grain> = fc
	.record({
		outerM: fc.double({ min: 0.02, max: 0.2, noNaN: true }),
		core: fc.double({ min: 0.1, max: 0.8, noNaN: true }),
		lengthM: fc.double({ min: 0.02, max: 0.5, noNaN: true }),
		freeEnds: fc.constantFrom(0, 1, 2),
		outerBurns: fc.boolean(),
		slots: fc.constantFrom(0, 1, 2, 3, 4, 6),
		width: fc.double({ min: 0.05, max: 0.9, noNaN: true })
	})
	.map(({ core, width, ...g }) => ({ ...g, coreM: core * g.outerM, slotWidthM: width * core * g.outerM }));

describe('a burning grain', () => {
	it('loses as much volume as its surface sweeps, down to nothing at its web', () => {
		fc.assert(
			fc.property(grains, (g) => {
				const web = webM(g);
				if (!(web > 1e-5)) return;
				const n = 2000;
				let swept = 0;
				for (let i = 0; i < n; i++) swept += grainAt(g, ((i + 0.5) / n) * web).burningM2 * (web / n);
				const whole = grainAt(g, 0).volumeM3;
				near(swept, whole, 2e-4);
				expect(grainAt(g, web * (1 + 1e-9)).burningM2).toBe(0);
				expect(grainAt(g, web * (1 - 1e-6)).volumeM3 / whole).toBeLessThan(1e-4);
			}),
			{ numRuns: 200 }
		);
	});
	it('with slots, has the section that counting points finds', () => {
		for (const slots of [1, 2, 3, 4, 6])
			for (const burnt of [0, 0.003, 0.006]) {
				const g = { ...plain, slots, slotWidthM: 0.006, freeEnds: 0 };
				const n = 1500;
				let inside = 0;
				for (let i = 0; i < n; i++)
					for (let j = 0; j < n; j++) {
						const [px, py] = [((i + 0.5) / n - 0.5) * g.outerM, ((j + 0.5) / n - 0.5) * g.outerM];
						const r = Math.hypot(px, py);
						if (r > g.outerM / 2 || r < g.coreM / 2 + burnt) continue;
						const sector = (2 * Math.PI) / slots;
						const turn = Math.atan2(py, px);
						const from = turn - Math.round(turn / sector) * sector;
						// Behind the axis nothing of this slot reaches.
						const across = Math.abs(from) < Math.PI / 2 ? Math.abs(r * Math.sin(from)) : Infinity;
						if (across > g.slotWidthM / 2 + burnt) inside++;
					}
				near(grainAt(g, burnt).volumeM3 / g.lengthM, inside * (g.outerM / n) ** 2, 3e-3);
			}
	});
	it('has the port of its core and slots', () => {
		near(portAreaM2(plain), Math.PI * 0.01 ** 2, 1e-12);
		expect(portAreaM2({ ...plain, slots: 4, slotWidthM: 0.004 })).toBeGreaterThan(
			Math.PI * 0.01 ** 2 + 4 * 0.004 * 0.0149
		);
	});
});

const motor: Motor = {
	grains: [{ ...plain, count: 4 }],
	rate: { rateMS: 8.26e-3, atPa: 1e6, exponent: 0.319 },
	propellantKgM3: 1800,
	characteristicVelocityMS: 885,
	throatM: () => 0.014,
	ambientPa: 101_325
};
const loaded = (m: Motor) =>
	m.grains.reduce((s, g) => s + g.count * grainAt(g, 0).volumeM3, 0) * m.propellantKgM3;

describe('a burning motor', () => {
	it('with a constant surface burns at one pressure for web over rate', () => {
		const end = { ...plain, coreM: 0, freeEnds: 1 };
		const b = burnMotor({ ...motor, grains: [{ ...end, count: 1 }], throatM: () => 0.003 });
		const rate = 8.26e-3 * (b.peakPa / 1e6) ** 0.319;
		near(b.burnTimeS, 0.08 / rate, 1e-6);
		near(b.meanPa, b.peakPa, 1e-9);
	});
	it('the gas that leaves, ∫ p At/c* dt, is the propellant burnt; a crack burns no more than there is', () => {
		for (const extra of [{}, { addedM2: 0.01 }, { addedM2: 0.01, addedFromS: 0.3 }]) {
			const b = burnMotor({ ...motor, ...extra });
			const throat = (Math.PI / 4) * 0.014 ** 2;
			let out = 0;
			for (let i = 1; i < b.timeS.length; i++)
				out +=
					((b.pressurePa[i]! + b.pressurePa[i - 1]!) / 2) * (b.timeS[i]! - b.timeS[i - 1]!) * (throat / 885);
			near(out, b.burntKg, 1e-3);
			expect(b.burntKg).toBeLessThanOrEqual(loaded(motor) * (1 + 1e-9));
			near(b.burntKg, loaded(motor), 0.01);
		}
	});
	it('differs by less than 0.1 % from one integrated ten thousand times', () => {
		const b = burnMotor({ ...motor, throatM: (t) => 0.014 + 0.002 * t });
		let [t, y, peak] = [0, 0, 0];
		const dt = 1e-4;
		while (y < webM(plain)) {
			const area = 4 * grainAt(plain, y).burningM2;
			const p =
				1e6 *
				((area * 1800 * 8.26e-3 * 885) / ((Math.PI / 4) * (0.014 + 0.002 * t) ** 2 * 1e6)) **
					(1 / (1 - 0.319));
			peak = Math.max(peak, p);
			y += 8.26e-3 * (p / 1e6) ** 0.319 * dt;
			t += dt;
		}
		near(b.peakPa, peak, 1e-3);
		near(b.timeS.at(-1)!, t, 1e-3);
	});
	it('the added area raises the pressure from its time on, and not before', () => {
		const [before, after] = [burnMotor(motor), burnMotor({ ...motor, addedM2: 0.02, addedFromS: 0.3 })];
		const step = after.timeS.findIndex((t, i) => i > 0 && t === after.timeS[i - 1]);
		expect(after.timeS[step]).toBeCloseTo(0.3, 9);
		expect(after.pressurePa[step]! / after.pressurePa[step - 1]!).toBeGreaterThan(1.3);
		expect(after.pressurePa[0]).toBe(before.pressurePa[0]);
		expect(after.timeS.at(-1)!).toBeLessThan(before.timeS.at(-1)!);
	});
	it('grains of different webs end one after the other', () => {
		const b = burnMotor({
			...motor,
			grains: [
				{ ...plain, count: 2 },
				{ ...plain, coreM: 0.03, count: 2 }
			]
		});
		const steps = b.timeS.filter((t, i) => i > 0 && t === b.timeS[i - 1]).length;
		expect(steps).toBe(1);
		near(
			b.burntKg,
			1800 * 2 * (grainAt(plain, 0).volumeM3 + grainAt({ ...plain, coreM: 0.03 }, 0).volumeM3),
			0.01
		);
	});
	it('a throat that closes is refused', () => {
		expect(() => burnMotor({ ...motor, throatM: (t) => (t > 0.2 ? 0 : 0.014) })).toThrow(/throat has closed/);
	});
	it('a wider throat lowers, a larger area raises the pressure', () => {
		fc.assert(
			fc.property(
				fc.double({ min: 0.008, max: 0.016, noNaN: true }),
				fc.double({ min: 0, max: 0.02, noNaN: true }),
				(d, added) => {
					const peak = (throat: number, area: number) =>
						burnMotor({ ...motor, throatM: () => throat, addedM2: area }).peakPa;
					expect(peak(d * 1.05, added)).toBeLessThan(peak(d, added));
					expect(peak(d, added + 0.001)).toBeGreaterThan(peak(d, added));
				}
			),
			{ numRuns: 40 }
		);
	});
});
