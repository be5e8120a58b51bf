import { describe, expect, it } from 'vitest';
import { lookDeeper, weighCase } from '$lib/components/weighing/weigh-case';
import { manyOutcomes, nextLooks, unlinkedSigns, unranked } from '$lib/investigation/views/looks';
import { standingPrediction } from '$lib/investigation/views/predictions';
import { predictedOutcomes, signOf, testOutcomes } from '$lib/investigation/views/test-outcomes';
import { standIns } from '$lib/investigation/views/tree';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import { main } from '../../../src/cli/weigh';
import { Case } from './anomaly-case';
import { CalculationCase, fallRun } from './calculation-case';
import { test } from './workbench';

const under = (more: object = {}) => [
	{ event: 'glue', cause: 'glue', expected: 'bare of fibres', ...more },
	{ event: 'load', cause: 'load', expected: 'breaks in the wood', ...more }
];

/** Glue and load under the top; a pull test, planned or locked; a sign that nobody has looked at. */
function planned(locked: object[] | null = under({ p: 0.9 })) {
	const c = new Case();
	const top = c.state();
	for (const [id, weight] of [
		['glue', 0.2],
		['load', 0.1],
		['cord', 0.1]
	] as const) {
		c.add(id, top);
		c.do('event.weigh', { event: id, weight });
	}
	c.find('bulged', { load: 0.6 });
	c.do('finding.change', { id: 'bulged', record: { costMinutes: '20 min' } });
	c.do('evidence.add', { id: 'pull', record: test({ title: 'Pull test', costMinutes: '1.5 h' }) });
	if (locked) c.do('prediction.lock', { record: { test: 'pull', under: locked } });
	return c;
}
/** Exactly one of all causes is true. */
function oneOnly(c: Case) {
	const residual = Object.keys(c.file.events).find((id) => c.file.events[id]!.residual)!;
	c.do('event.weigh', { event: residual, weight: 0.05 });
	c.do('exclusion.add', {
		record: { anomaly: 'a1', events: ['glue', 'load', 'cord', residual], reason: 'one joint' }
	});
	return c;
}
function ranking({ file }: Case) {
	const looks = manyOutcomes(file, 'a1');
	const { information, looks: told } = lookDeeper({ ...toTreeModel(file, 'a1'), trying: false, looks });
	return nextLooks(file, 'a1', information?.observations ?? [], told);
}
const standing = ({ file }: Case) => standingPrediction(file, 'pull')![1];

describe('what a locked prediction says in numbers', () => {
	it('hand-worked: its outcome as often as was said, and the rest even', () => {
		const told = testOutcomes(planned().file, 'a1', standing(planned()))!;
		expect(told.events).toEqual(['glue', 'load']);
		expect(told.outcomes.map(({ words }) => words)).toEqual([
			'bare of fibres',
			'breaks in the wood',
			'something else'
		]);
		for (const [i, [glue, load]] of [
			[0.9, 0.05],
			[0.05, 0.9],
			[0.05, 0.05]
		].entries()) {
			expect(told.outcomes[i]!.under[0]).toBeCloseTo(glue!, 12);
			expect(told.outcomes[i]!.under[1]).toBeCloseTo(load!, 12);
		}
		expect(told.assumed).toBe(false);
	});

	it('cases that expect the same in the same words expect one outcome, and one outcome tells nothing apart', () => {
		expect(
			predictedOutcomes([{ expected: 'Holds.' }, { expected: ' holds ' }, { expected: 'parts' }])
		).toEqual(['Holds.', 'parts']);
		const c = planned([...under().map((row) => ({ ...row, expected: 'it parts' }))]);
		expect(testOutcomes(c.file, 'a1', standing(c))).toBeNull();
		expect(unranked(c.file, 'a1')).toMatchObject([
			{ id: 'pull', missing: expect.stringContaining('the same') as string }
		]);
	});

	it('a gate speaks for its leaves, but for one of which more is said', () => {
		const c = planned(null);
		const top = c.file.anomalies['a1']!.top;
		c.add('joint', top);
		for (const id of ['glue', 'cord']) c.do('event.move', { event: id, from: top, under: 'joint' });
		const rows = [{ event: 'joint', cause: 'joint', expected: 'it parts', p: 0.7 }, ...under({ p: 0.9 })];
		c.do('prediction.lock', { record: { test: 'pull', under: rows } });
		const told = testOutcomes(c.file, 'a1', standing(c))!;
		expect(told.events).toEqual(['glue', 'joint', 'load']);
		expect(told.outcomes[0]).toMatchObject({
			words: 'it parts',
			under: [expect.closeTo(0.1 / 3), 0.7, expect.closeTo(0.1 / 3)]
		});
		// In the order of the tree, whichever was made first.
		expect(
			standIns(c.file, 'a1')
				.map(([id]) => id)
				.slice(0, 4)
		).toEqual(['load', 'joint', 'glue', 'cord']);
	});

	it('an older lock, without numbers, is taken as 90 % and says so', () => {
		const [first] = ranking(planned(under())).filter(({ kind }) => kind === 'test');
		expect(first!.assumed).toContain('common practice, no source');
		expect(first!.bits).toBeCloseTo(ranking(planned()).find(({ id }) => id === 'pull')!.bits, 12);
	});
});

describe('signs and tests in one list', () => {
	it('hand-worked: the bits of the test, at its own cost', () => {
		// One of the four is true, each as probable as it weighs; glue, load, and two of which nothing was said: they
		// show each outcome as often as glue and load together, which weigh two to one.
		const c = oneOnly(planned());
		const told = ranking(c).find(({ id }) => id === 'pull')!;
		const start = [0.2, 0.1, 0.1, 0.05].map((p) => p / 0.45);
		const shown = [
			[0.9, 0.05, 1.85 / 3, 1.85 / 3],
			[0.05, 0.9, 1 / 3, 1 / 3],
			[0.05, 0.05, 0.05, 0.05]
		];
		let bits = 0;
		for (const [i, row] of shown.entries()) {
			const all = row.reduce((sum, p, b) => sum + p * start[b]!, 0);
			expect(told.outcomes[i]!.probability).toBeCloseTo(all, 12);
			for (const [b, p] of row.entries()) bits += p * start[b]! * Math.log2(p / all);
		}
		expect(told.bits).toBeCloseTo(bits, 12);
		expect(told).toMatchObject({ kind: 'test', cost: 90, costPractice: false, destroys: false });
		expect(told.perHour).toBeCloseTo(told.bits / 1.5, 12);
		expect(told.outcomes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 12);
	});

	it('is sorted by what each tells, whatever its kind', () => {
		const rows = ranking(planned());
		expect(rows.map(({ kind }) => kind).sort()).toEqual(['sign', 'test']);
		expect(rows[0]!.bits).toBeGreaterThan(rows[1]!.bits);
		expect(rows.find(({ kind }) => kind === 'sign')).toMatchObject({
			cost: 20,
			number: 1,
			title: 'sign bulged'
		});
	});

	it('a test that an open sign cites is ranked with the sign, at the cost of the test where the sign says none', () => {
		const c = planned();
		c.do('finding.change', { id: 'bulged', record: { evidence: ['pull'], costMinutes: null } });
		expect(ranking(c)).toMatchObject([{ kind: 'sign', id: 'bulged', cost: 90, tests: [{ id: 'pull' }] }]);
		expect(unranked(c.file, 'a1')).toEqual([]);
	});

	it('a sign that no cause is linked to tells nothing yet, and is counted apart', () => {
		const c = planned();
		expect(unlinkedSigns(c.file, 'a1')).toEqual([]);
		c.find('scuffed', {});
		expect(unlinkedSigns(c.file, 'a1').map(([id]) => id)).toEqual(['scuffed']);
		c.do('finding.change', { id: 'scuffed', record: { residualLink: 0.9 } });
		expect(unlinkedSigns(c.file, 'a1')).toEqual([]);
	});

	it('a test without a lock says what is missing; one that can’t be taken back says that it destroys', () => {
		expect(unranked(planned(null).file, 'a1')).toMatchObject([
			{ kind: 'test', id: 'pull', missing: 'lock what each cause would show' }
		]);
		const c = planned();
		const record = test({
			title: 'Pull test',
			reversible: 'no',
			purpose: 'which',
			makesImpossible: 'the joint'
		});
		c.do('evidence.correct', { id: 'pull', record, reason: 'it is cut' });
		expect(ranking(c).find(({ id }) => id === 'pull')).toMatchObject({ destroys: true, cost: null });
	});

	it('the command line prints the same list', () => {
		const c = planned();
		const run = main(['-'], () => JSON.stringify({ kind: 'investigation', state: c.file }));
		const { anomalies } = JSON.parse(run.stdout) as { anomalies: { next: unknown }[] };
		expect(anomalies[0]!.next).toEqual(JSON.parse(JSON.stringify(ranking(c))));
		expect(ranking(c)).toHaveLength(2);
	});
});

describe('the result, put on the tree as a sign', () => {
	const stand = (c: Case, ids: string[]) => {
		const weighed = weighCase({ ...toTreeModel(c.file, 'a1'), trying: false });
		if (!weighed.ok) throw new Error(weighed.problems.join());
		return ids.map((id) => (weighed.weighing.events[id] ?? weighed.weighing.gates[id])!.givenAll!);
	};
	/** Ranks, enters the result, weighs the first outcome. */
	function weighedOn(c: Case) {
		const ranked = ranking(c).find(({ id }) => id === 'pull')!;
		c.do('test.result', { id: 'pull', result: 'bare', value: null, noPrediction: '' });
		const [first] = ranked.outcomes;
		const told = testOutcomes(c.file, 'a1', standing(c))!;
		const sign = c.do('finding.add', {
			anomaly: 'a1',
			record: signOf(c.file, 'a1', 'pull', told, 0, first!.probability)
		});
		return { ...first!, sign };
	}

	it('leaves every branch where the ranking said that this outcome would, and what was left empty where it was', () => {
		const c = planned();
		const before = stand(c, ['cord']);
		const { branches, sign } = weighedOn(c);
		const ids = Object.keys(branches!);
		const now = stand(c, ids);
		expect(ids).toHaveLength(4);
		for (const [i, id] of ids.entries()) expect(now[i]).toBeCloseTo(branches![id]!, 12);
		expect(now[0]).toBeGreaterThan(0.7);
		expect(stand(c, ['cord'])[0]).toBeCloseTo(before[0]!, 2);
		// The numbers are those that were locked, and no link that nobody wrote.
		expect(c.file.findings[sign]).toMatchObject({
			statement: 'Pull test: bare of fibres',
			links: [
				{ event: 'glue', p: 0.9 },
				{ event: 'load', p: 0.05 }
			],
			residualLink: null
		});
		expect(ranking(c).map(({ id }) => id)).toEqual(['bulged']);
	});

	it('a cause left empty beside one of the same gate stays exactly where it is, if only one can be true', () => {
		const c = planned(null);
		const top = c.file.anomalies['a1']!.top;
		c.add('joint', top);
		for (const id of ['glue', 'cord']) c.do('event.move', { event: id, from: top, under: 'joint' });
		c.do('prediction.lock', { record: { test: 'pull', under: under({ p: 0.8 }) } });
		const before = stand(oneOnly(c), ['cord']);
		weighedOn(c);
		expect(stand(c, ['cord'])[0]).toBeCloseTo(before[0]!, 12);
	});

	it('[W7] keeps the numbers that were locked', () => {
		const c = planned();
		const { sign } = weighedOn(c);
		for (const [name, args] of [
			['link.set', { finding: sign, event: 'cord', negated: false, p: 0.5 }],
			['link.remove', { finding: sign, event: 'glue', negated: false }],
			['finding.change', { id: sign, record: { baseRate: 0.2 } }]
		] as const)
			expect(c.refusal(name, args).message).toContain('locked before the result');
		expect(c.refusal('finding.change', { id: 'bulged', record: { sameAs: sign } }).field).toBe('sameAs');
		c.do('finding.change', { id: sign, record: { note: 'held by the grip' } });
	});
});

describe('a planned calculation', () => {
	const plan = {
		...fallRun({ planned: true }),
		calculation: 'fall-separation',
		title: 'Tape it',
		note: '',
		anomaly: 'a1'
	};
	const ranked = (c: Case) => ranking(c).filter(({ kind }) => kind === 'calculation');

	it('is ranked by what measuring would tell, at the cost that is usual or that somebody said', () => {
		const c = new CalculationCase();
		const id = c.do('calculation.add', plan);
		expect(ranked(c)).toEqual([]);
		expect(unranked(c.file, 'a1')).toMatchObject([{ kind: 'calculation', id, number: 1 }]);
		const events = ['air', 'landing', null];
		c.do('calculation.plan', { id, events, costMinutes: '' });
		const [run] = ranked(c);
		expect(unranked(c.file, 'a1')).toEqual([]);
		expect(run).toMatchObject({ id, title: 'Tape it', cost: 30, costPractice: true, outcomes: [] });
		expect(run!.expected[1]).toContain('would lie');
		expect(run!.bits).toBeGreaterThan(0.1);
		expect(run!.error).toBeLessThan(0.06);
		expect(run!.perHour).toBeCloseTo(2 * run!.bits, 12);
		c.do('calculation.plan', { id, events, costMinutes: '1 h' });
		expect(ranked(c)[0]).toMatchObject({ cost: 60, costPractice: false, bits: run!.bits });
	});

	it('is in no list of another anomaly', () => {
		const c = new CalculationCase();
		c.do('calculation.add', plan);
		c.state('a2');
		expect(unranked(c.file, 'a2')).toEqual([]);
		expect(manyOutcomes(c.file, 'a2')).toEqual([]);
	});
});

describe('the time that a look takes', () => {
	it.each([
		['20', 20],
		['20 min', 20],
		['1,5 h', 90],
		['2 hours', 120],
		['2 days', 2880],
		['', null],
		[7, 7]
	])('%j is kept in minutes', (typed, kept) => {
		const c = planned();
		c.do('finding.change', { id: 'bulged', record: { costMinutes: typed } });
		expect(c.file.findings['bulged']!.costMinutes).toBe(kept);
	});

	it.each(['soon', '-5', '3 weeks', 'NaN'])('%j is refused in words', (typed) => {
		const said = planned().refusal('finding.change', { id: 'bulged', record: { costMinutes: typed } });
		expect(said).toMatchObject({
			field: 'record.costMinutes',
			message: expect.stringContaining('1.5 h') as string
		});
	});
});
