import { describe, expect, it } from 'vitest';
import { planOf, trailOf } from '$lib/investigation/views/plan';
import { apart, positions, wouldCircle } from '$lib/investigation/views/positions';
import { roundStep } from '$lib/report/drawing';
import { drawPlan, wholeView } from '$lib/report/plan-drawing';
import { textWidth } from '$lib/report/text-width';
import { piece, Workbench } from './workbench';

const circle = { radius: '8 m', level: 0.95 };

function withPad(declinationDeg: number | null = null) {
	const bench = new Workbench();
	bench.do('site.save', {
		record: {
			...bench.file.site['main'],
			pad: { kind: 'typed', typed: '32.99 N, 106.97 W', circle },
			declinationDeg
		}
	});
	return bench;
}

const place = (bench: Workbench, position: unknown, title = 'A piece') =>
	bench.do('evidence.add', { record: piece({ title, position }) })[0]!;

const measured = (from: string, distance: string, bearingDeg: number, reference = 'true') => ({
	kind: 'bearing',
	from,
	distance,
	bearingDeg,
	reference,
	bearingPlusMinusDeg: 1
});

describe('places on the plan', () => {
	// GeographicLib 2.1.2 command-line solver, direct problem from 32.99 N 106.97 W, 5000 m: computed, not published.
	it.each([
		[0, 33.03508376, -106.97],
		[45, 33.02187333, -106.93215853],
		[90, 32.98998854, -106.91650333],
		[180, 32.94491591, -106.97]
	])('5000 m at %i° leads where the solver says', (bearing, latitude, longitude) => {
		const bench = withPad();
		const id = place(bench, measured('pad', '5000 m', bearing));
		const at = positions(bench.file).get(id)!;
		expect(at.place.latitudeDeg).toBeCloseTo(latitude, 8);
		expect(at.place.longitudeDeg).toBeCloseTo(longitude, 8);
	});

	it('turns a compass bearing by the declination', () => {
		const bench = withPad(8);
		const id = place(bench, measured('pad', '100 m', 82, 'magnetic'));
		const at = positions(bench.file).get(id)!;
		expect(at.eastM).toBeCloseTo(100, 6);
		expect(at.northM).toBeCloseTo(0, 6);
	});

	it('keeps a taped distance exact however poor the fix of the other item is', () => {
		const bench = withPad();
		const body = place(bench, {
			kind: 'typed',
			typed: '32.995 N, 106.965 W',
			circle: { radius: '30 m', level: 0.95 }
		});
		const ring = place(bench, measured(body, '2 m ± 0.05 m', 30));
		const between = apart(bench.file, body, ring)!;
		expect(between.distanceM).toBeCloseTo(2, 3);
		expect(between.bearingDeg).toBeCloseTo(30, 1);
		// 1° over 2 m across, 0.05 m along: the 30 m circle of the body is in neither.
		expect(between.sigmaM).toBeCloseTo(Math.sqrt(((2 * Math.PI) / 180) ** 2 / 2 + 0.05 ** 2 / 2), 9);
		// Seen from the pad, both share it: 30 m at 95 % is 12.26 m on each axis (R95 = 2.4477 sigma).
		expect(positions(bench.file).get(ring)!.sigmaM).toBeCloseTo(30 / 2.4477, 2);
	});

	it('says what was assumed for want of a plus-minus; a range of the distance counts as the spread that it is', () => {
		const bench = withPad();
		const bare = { ...measured('pad', '310 m', 62), bearingPlusMinusDeg: null };
		place(bench, bare);
		place(bench, { ...bare, distance: '300 to 320 m' });
		place(bench, { ...bare, distance: '310 ± 4 m', bearingPlusMinusDeg: 0 });
		const drawn = planOf(bench.file);
		if (!drawn.ok) throw new Error(drawn.missing);
		expect(drawn.plan.items.map(({ assumed }) => assumed)).toEqual([
			'bearing ± 3° assumed, distance taken as exact',
			'bearing ± 3° assumed',
			''
		]);
		// Hand-worked: 310 m times 3° in radians, a uniform range of 20 m over √12, each axis a share of √½.
		const across = 310 * 0.0523599;
		const sigmas = [across / Math.SQRT2, Math.hypot(across, 20 / Math.sqrt(12)) / Math.SQRT2, 4 / Math.SQRT2];
		drawn.plan.items.forEach(({ sigmaM }, i) => expect(sigmaM).toBeCloseTo(sigmas[i]!, 3));
	});

	it('leaves out what hangs on nothing, and refuses to measure in a circle', () => {
		const bench = withPad();
		const a = place(bench, measured('pad', '10 m', 0));
		const b = place(bench, measured(a, '5 m', 90));
		expect(wouldCircle(bench.file, a, b)).toBe(true);
		expect(wouldCircle(bench.file, b, 'pad')).toBe(false);
		const problem = bench.refuse('evidence.correct', {
			id: a,
			reason: 'measured again',
			record: { ...bench.file.evidence[a], position: measured(b, '5 m', 270) }
		});
		expect(problem.field).toContain('position');
	});

	it('has no plan without a pad, and says so', () => {
		expect(planOf(new Workbench().file)).toMatchObject({ ok: false });
	});
});

describe('the trail of the pieces', () => {
	function trail(...places: [distance: string, bearing: number][]) {
		const bench = withPad();
		const ids = places.map(([distance, bearing]) => place(bench, measured('pad', distance, bearing)));
		const drawn = planOf(bench.file);
		if (!drawn.ok) throw new Error(drawn.missing);
		return { ids, found: trailOf(drawn.plan.items) };
	}

	it('runs in the mean direction of the pieces, and orders them along it, not by distance', () => {
		// By hand: offsets (0, 100), (200, 200), (300, 0) m; their sum (500, 300) bears atan(500/300) = 59.04°.
		const { ids, found } = trail(['300 m', 90], ['100 m', 0], ['282.843 m', 45]);
		expect(found?.bearingDeg).toBeCloseTo(59.04, 1);
		const along = ids.map((id) => found!.along.get(id)!);
		expect(along.map(({ order }) => order)).toEqual([2, 1, 3]);
		// 300 sin 59.04° = 257.2; 100 cos 59.04° = 51.4; 200 (sin + cos) = 274.4.
		for (const [i, metres] of [257.2, 51.4, 274.4].entries())
			expect(Math.abs(along[i]!.alongM - metres)).toBeLessThan(0.2);
	});

	it('there is none of one piece, nor where they lie on all sides', () => {
		expect(trail(['300 m', 90]).found).toBeNull();
		expect(trail(['300 m', 90], ['280 m', 270], ['290 m', 0]).found).toBeNull();
	});

	it('photos are no part of it', () => {
		const bench = withPad();
		for (const bearing of [10, 20]) place(bench, measured('pad', '50 m', bearing));
		const position = measured('pad', '500 m', 200);
		bench.do('evidence.add', {
			record: { ...piece({ position }), kind: 'photo', subject: '', view: '', scale: '', moved: 'notKnown' }
		});
		const drawn = planOf(bench.file);
		expect(drawn.ok && trailOf(drawn.plan.items)?.along.size).toBe(2);
	});
});

describe('the drawing of the plan', () => {
	it('escapes what people write', () => {
		const bench = withPad();
		place(bench, measured('pad', '40 m', 200), '<script>alert(1)</script> & "co"');
		const drawn = planOf(bench.file);
		if (!drawn.ok) throw new Error(drawn.missing);
		const svg = drawPlan(drawn.plan, wholeView(drawn.plan, 800, 600), { pressable: true });
		expect(svg).not.toContain('<script');
		expect(svg).toContain('&lt;script&gt;');
	});

	it('puts no label upon another, and none outside', () => {
		const bench = withPad();
		for (let i = 0; i < 30; i++)
			place(bench, measured('pad', `${200 + (i % 5)} m`, 40 + (i % 7)), `Piece number ${i}`);
		const drawn = planOf(bench.file);
		if (!drawn.ok) throw new Error(drawn.missing);
		const svg = drawPlan(drawn.plan, wholeView(drawn.plan, 900, 650));
		const texts = [
			...svg.matchAll(/<text x="([\d.-]+)" y="([\d.-]+)" font-size="13" font-weight="700"/g)
		].map((m) => [Number(m[1]), Number(m[2])] as const);
		expect(texts.length).toBeGreaterThan(3);
		for (const [i, [x, y]] of texts.entries()) {
			expect(x).toBeGreaterThan(0);
			expect(y).toBeLessThan(650);
			for (const [u, v] of texts.slice(i + 1))
				expect(Math.abs(x - u) > 1 || Math.abs(y - v) >= 16).toBe(true);
		}
	});

	it('on a phone the wind is told whole, and what has no room for its words still has its number', () => {
		const bench = withPad();
		const { main: air } = bench.file.weather;
		const level = (height: string, speed: string) => ({ height, speed, fromDeg: '250', temperature: '' });
		bench.do('weather.save', {
			record: { ...air, wind: [level('10 m', '3.4 m/s'), level('1000 m', '9.6 m/s')] }
		});
		const title = 'A long name for half of the swivel with its leader on it';
		for (let i = 0; i < 6; i++) place(bench, measured('pad', `${228 + i} m`, 73), title);
		const drawn = planOf(bench.file);
		if (!drawn.ok) throw new Error(drawn.missing);
		const svg = drawPlan(drawn.plan, wholeView(drawn.plan, 343, 420));
		const texts = [...svg.matchAll(/<text x="([\d.-]+)"[^>]*>([^<]*)</g)];
		for (const [, x, words] of texts) expect(Number(x) + textWidth(words!, 12.5)).toBeLessThan(343);
		const told = texts.map(([, , words]) => words!);
		expect(told).toContain('9.6 m/s from 250° at 1.00 km');
		for (let i = 1; i <= 6; i++) expect(told.some((words) => words.startsWith(String(i)))).toBe(true);
	});

	it.each([
		[0.9, 0.5],
		[4.9, 2],
		[5, 5],
		[730, 500]
	])('the largest round step not above %d is %d', (limit, step) =>
		expect(roundStep(limit)).toBeCloseTo(step, 12)
	);
});
