import { describe, expect, it } from 'vitest';
import { positions } from '$lib/investigation/views/positions';
import { buildReport } from '$lib/report/report';
import { discreet } from '$lib/report/discretion';
import { ALL, heron, heronReport, HISTORY, NOTHING } from './heron';

const written = (shown = NOTHING) => buildReport(heronReport(shown)).markdown.replace(/\\/g, '');
const described = (description: string, shown = NOTHING) => {
	const file = heron();
	const told = { ...file, evidence: { ...file.evidence, e1: { ...file.evidence['e1']!, description } } };
	return discreet(told, HISTORY, shown).file.evidence['e1']!.description;
};

describe('names', () => {
	it('are nowhere unless ticked, neither whole nor in part', () => {
		expect(written()).not.toMatch(/Jonna|\bEk\b|\bPer\b|Astrid|Lund/);
		expect(written(ALL)).toMatch(/Jonna Ek/);
	});

	it('give way to one designation each, so that two statements of one person stay two of one person', () => {
		const { file, history } = discreet(heron(), HISTORY, NOTHING);
		const jonna = file.evidence['e2']!.by;
		expect(jonna).toBe('finder\u00a02');
		expect(file.conclusions['a1']!.by).toBe(jonna);
		expect(history[0]!.who).toBe(jonna);
		expect(file.timeline['t1']!.seenBy).toBe('finder\u00a02, finder\u00a01');
		expect(file.clocks['k1']!.name).toBe('finder\u00a02’s phone');
	});

	it.each(['the range officer', 'flight recorder', 'film: lamp of the pad box', 'two people at the car'])(
		'a role, a thing or a description stays: %s',
		(seenBy) => {
			const file = heron();
			const told = { ...file, timeline: { t1: { ...file.timeline['t1']!, seenBy } } };
			const { timeline, hazards } = discreet(told, [], NOTHING).file;
			expect(timeline['t1']!.seenBy).toBe(seenBy);
			expect(hazards['h1']!.what).toBe('second charge in the forward bay');
		}
	);

	it.each([
		['JE', 'it went NE, said JE', 'it went NE, said JE'],
		['Maj (from the pad)', 'Maj stood by the pad (close)', 'the witness stood by the pad (close)'],
		['Eva van der Meer', 'Meer and Eva went to the van', 'the witness and the witness went to the van'],
		['tomas', 'Tomas and tomas', 'the witness and the witness']
	])('“%s” stands by role, and only what surely names them is taken out of texts', (seenBy, typed, left) => {
		const file = heron();
		const timeline = { t1: { ...file.timeline['t1']!, seenBy } };
		const origins = { o1: { ...file.origins['o1']!, note: typed } };
		const told = { ...file, timeline, origins, evidence: {}, hazards: {} };
		const seen = discreet({ ...told, changes: {}, conclusions: {}, events: {} }, [], NOTHING).file;
		expect(seen.timeline['t1']!.seenBy).toBe('the witness');
		expect(seen.origins['o1']!.note).toBe(left);
	});

	it('are taken out of free text, not out of other words', () => {
		expect(described('Per and JONNA EK, performed per plan by Jonna.')).toBe(
			'finder\u00a01 and finder\u00a02, performed per plan by finder\u00a02.'
		);
	});
});

describe('positions', () => {
	it('are nowhere unless ticked, nor is the site', () => {
		expect(written()).not.toMatch(/59\.4|14\.5|Gullmoss|red house/);
		expect(written(ALL)).toContain('59.40123° N');
		expect(written(ALL)).toContain('Gullmoss Field');
	});

	it('leave distances and bearings as they were', () => {
		const before = positions(heron());
		const after = positions(discreet(heron(), [], NOTHING).file);
		for (const id of ['e1', 'e2']) {
			expect(after.get(id)!.eastM).toBeCloseTo(before.get(id)!.eastM, 3);
			expect(after.get(id)!.northM).toBeCloseTo(before.get(id)!.northM, 3);
			expect(after.get(id)!.sigmaM).toBeCloseTo(before.get(id)!.sigmaM!, 9);
		}
		expect(Math.abs(after.get('e1')!.place.latitudeDeg)).toBeLessThan(0.1);
	});

	it.each([
		'59.40711, 14.51222',
		'59.40711 14.51222',
		'59.40711° N, 14.51222° E',
		'N 59 24.427 E 14 30.733',
		'59° 24\' 25.6" N 14° 30\' 44.0" E',
		'59°24′25″N',
		'59.4 N, 14.5 E',
		'33V 472345 6585123',
		'33V VF 72345 85123'
	])('are taken out of free text: %s', (typed) => {
		const left = described(`It lay at ${typed} in the reeds.`);
		expect(left).toBe('It lay at [position left out] in the reeds.');
		expect(described(`It lay at ${typed}.`, ALL)).toContain(typed);
	});

	it.each([
		'43.1 N at 12 mm',
		'0.1234 of 0.5',
		'2026-05-17 14:02:10',
		'a 6 mm fillet, 70 % bare',
		'1.25 kN, 3 N, 5 E6 fibre',
		'turns at 0.062 N·m, 0.0621 N·m and 0.012 N',
		'SHA 0123456789'
	])('and measurements are not: %s', (typed) => expect(described(typed)).toBe(typed));
});
