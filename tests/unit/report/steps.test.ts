import { beforeEach, describe, expect, it } from 'vitest';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import { decibans, stepsOf, weigh } from '$lib/reasoning';
import { drawSteps } from '$lib/report/steps-drawing';
import { dependsOnOrder, inTenths, level, stepRows } from '$lib/report/steps-rows';
import { Case } from '../investigation/anomaly-case';

let c: Case;
beforeEach(() => {
	c = new Case();
	const top = c.state();
	c.add('joint', top, 'Joint <parts> & "slides"');
	c.add('cord', top);
	c.do('event.change', { id: 'joint', record: { weight: 0.3 } });
	c.find('scuff', { joint: 0.9 }, { state: 'present' });
	c.find('knot', { joint: 0.7, cord: 0.4 }, { state: 'present' });
	c.find('clean', { cord: 0.6 }, { state: 'absent' });
	c.find('idle', {}, { state: 'present', baseRate: 0.5 });
});
const rowsOf = (event: string) => {
	const { model } = toTreeModel(c.file, 'a1');
	const weighing = weigh(model);
	const steps = stepsOf(model, event);
	if (!steps.ok) throw new Error(steps.problem);
	const now = weighing.events[event]!.givenAll!;
	const alone = new Map(weighing.contributions.map((p) => [p.id, decibans(now, p.withoutIt[event]!)]));
	return { rows: stepRows(c.file, steps, alone), now };
};

describe('the way to where a cause stands', () => {
	it('as printed adds up to the last digit, from the starting weight to where it stands', () => {
		for (const event of ['joint', 'cord']) {
			const { rows, now } = rowsOf(event);
			expect(rows.map(({ id }) => id)).toEqual(['', '', 'scuff', 'knot', 'clean', 'idle']);
			const printed = rows.map(({ step }) => (step === null ? 0 : Number(inTenths(step).replace('−', '-'))));
			const whole = level(now) - rows[0]!.level;
			expect(Math.round(10 * printed.reduce((a, b) => a + b, 0))).toBe(whole);
			expect(rows.at(-1)!.stands).toBeCloseTo(now, 12);
		}
	});

	// The knot speaks for both causes; what speaks for one alone has its size in any order.
	it('says what was found, and which steps depend on the order', () => {
		const { rows } = rowsOf('joint');
		expect(rows.map(({ note }) => note)).toEqual([
			'before anything is known',
			'given',
			'F1, present',
			'F2, present',
			'F3, absent',
			'F4, present'
		]);
		// What is there as often without any cause moves nothing, in any order.
		expect(rows.at(-1)).toMatchObject({ step: 0, alone: 0 });
		expect(rows.filter(dependsOnOrder).map(({ id }) => id)).toEqual(['knot']);
	});

	it('draws for and against apart by direction and filling, escapes every word, and fits any width', () => {
		const { rows } = rowsOf('cord');
		expect(rows.some(({ step }) => step! < 0)).toBe(true);
		for (const width of [280, 375, 860]) {
			const svg = drawSteps(rows, { width, id: 'x' });
			expect(svg).not.toMatch(/NaN|Infinity|undefined/);
			expect(svg).toContain('url(#x-against)');
			for (const [, at] of svg.matchAll(/ x="(-?[\d.]+)"/g)) {
				expect(Number(at)).toBeGreaterThanOrEqual(0);
				expect(Number(at)).toBeLessThanOrEqual(width);
			}
		}
		expect(drawSteps(rowsOf('joint').rows)).not.toContain('<parts>');
	});

	it('what is certain has no finite odds and is drawn at the edge', () => {
		expect([level(1), level(0), level(0.5), level(10 / 11)]).toEqual([Infinity, -Infinity, 0, 100]);
		expect([inTenths(Infinity), inTenths(-120), inTenths(0)]).toEqual(['+∞', '−12.0', '0.0']);
		const start = { id: '', label: 'a', note: 'b', stands: 0.1, level: level(0.1), step: null, alone: null };
		const svg = drawSteps([start, { ...start, id: 'f', stands: 1, level: Infinity, step: Infinity }]);
		expect(svg).toContain('+∞ dB');
		expect(svg).not.toMatch(/NaN|Infinity/);
	});
});
