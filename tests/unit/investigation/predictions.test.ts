import { describe, expect, it } from 'vitest';
import { standingPrediction } from '$lib/investigation/views/predictions';
import { evidenceList, waitsFor } from '$lib/investigation/views/evidence-list';
import { signAsksAgain } from '$lib/investigation/views/corrected';
import { standsInTheWay } from '$lib/investigation/views/closure';
import { signOf, testOutcomes } from '$lib/investigation/views/test-outcomes';
import { Case } from './anomaly-case';
import { Workbench, test } from './workbench';

const under = [
	{ event: null, cause: 'the glue was short', expected: 'bare of fibres on both faces' },
	{ event: null, cause: 'the load was too high', expected: 'breaks in the wood' }
];
function withTest() {
	const bench = new Workbench();
	const [id] = bench.do('evidence.add', { record: test() });
	return { bench, id: id! };
}
const result = { result: 'bare of fibres', value: null, noPrediction: '' };

describe('[E10] a result stands beside what was predicted, or beside why nothing was', () => {
	it('a test that comes with its result asks for a reason', () => {
		const bench = new Workbench();
		const record = test({ result: 'bare of fibres' });
		expect(bench.refuse('evidence.add', { record }).field).toBe('noPrediction');
		const [id] = bench.do('evidence.add', { record: { ...record, noPrediction: 'done on the field' } });
		expect(bench.file.evidence[id!]).toMatchObject({ noPrediction: 'done on the field' });
	});

	it('a result entered later asks for a prediction or a reason, and something to enter', () => {
		const { bench, id } = withTest();
		expect(bench.refuse('test.result', { id, ...result }).field).toBe('noPrediction');
		expect(bench.refuse('test.result', { id, result: '', value: null, noPrediction: 'x' }).field).toBe(
			'result'
		);
		bench.do('test.result', { id, ...result, noPrediction: 'nobody expected anything' });
		expect(bench.refuse('test.result', { id, ...result }).message).toContain('in already');
	});

	it('neither comes nor goes by a correction', () => {
		const { bench, id } = withTest();
		const correct = (more: object) => ({ id, record: test(more), reason: 'later' });
		expect(bench.refuse('evidence.correct', correct({ result: 'bare' })).field).toBe('result');
		bench.do('test.result', { id, ...result, noPrediction: 'none' });
		expect(bench.refuse('evidence.correct', correct({})).field).toBe('result');
		bench.do('evidence.correct', correct({ result: 'nearly bare', noPrediction: 'none' }));
	});
});

describe('[E12] of a test that was not made nothing is observed or trusted', () => {
	it('who, when and how far to trust it come with the result, and all that is missing is told at once', () => {
		const bench = new Workbench();
		const record = test({ basis: null, trust: null, by: '' });
		const [id] = bench.do('evidence.add', { record });
		const list = () => evidenceList(bench.file).find((row) => row.id === id)!;
		expect(list().missing).toEqual([]);
		expect(waitsFor(bench.file, id!)).toBe('to be done');
		bench.do('prediction.lock', { record: { test: id, under } });
		expect(waitsFor(bench.file, id!)).toBe('locked, waits for its result');
		const empty = { id, ...result, result: '' };
		expect(bench.refuseAll('test.result', empty)).toEqual(['result', 'basis', 'trust']);
		bench.do('test.result', { id, ...result, by: 'Ben', basis: 'observed', trust: 'moderate' });
		expect(bench.file.evidence[id!]).toMatchObject({ by: 'Ben', basis: 'observed', trust: 'moderate' });
		expect(waitsFor(bench.file, id!)).toBe('');
		expect(list().missing).toEqual(['time', 'photo']);
	});

	it('a test that can’t be taken back, of no kind and made by nobody knows whom is refused once', () => {
		const record = test({ result: 'parted', testKind: '', reversible: 'no', basis: null, trust: null });
		expect(new Workbench().refuseAll('evidence.add', { record }).sort()).toEqual(
			['basis', 'makesImpossible', 'purpose', 'testKind', 'trust'].map((field) => `record.${field}`)
		);
	});
});

describe('[E11] a prediction is locked', () => {
	it('by name and time, in at least two cases, and once', () => {
		const { bench, id } = withTest();
		expect(bench.refuse('prediction.lock', { record: { test: id, under: [under[0]] } }).field).toBe(
			'record.under'
		);
		const [lock] = bench.do('prediction.lock', { record: { test: id, under } });
		expect(bench.file.predictions[lock!]).toEqual({
			test: id,
			under,
			by: 'Ada',
			at: '2031-05-18T09:00:00.000Z',
			resultAt: null,
			withdrawn: null
		});
		expect(bench.refuse('prediction.lock', { record: { test: id, under } }).message).toContain(
			'locked already'
		);
	});

	it('is withdrawn with a reason and kept beside the next one', () => {
		const { bench, id } = withTest();
		const [first] = bench.do('prediction.lock', { record: { test: id, under } });
		expect(bench.refuse('prediction.withdraw', { id: first, reason: '' }).field).toBe('reason');
		bench.do('prediction.withdraw', { id: first, reason: 'wrong joint' });
		const [second] = bench.do('prediction.lock', { record: { test: id, under: [...under].reverse() } });
		expect(standingPrediction(bench.file, id)?.[0]).toBe(second);
		expect(bench.file.predictions[first!]).toMatchObject({ under, withdrawn: { reason: 'wrong joint' } });
	});

	it('stays as it was once the result is in, and none is written after it', () => {
		const { bench, id } = withTest();
		const [lock] = bench.do('prediction.lock', { record: { test: id, under } });
		bench.do('test.result', { id, ...result });
		expect(bench.file.predictions[lock!]).toMatchObject({ resultAt: '2031-05-18T09:00:00.000Z' });
		expect(bench.refuse('prediction.withdraw', { id: lock, reason: 'x' }).message).toContain('result is in');
		const late = withTest();
		late.bench.do('test.result', { id: late.id, ...result, noPrediction: 'none' });
		expect(late.bench.refuse('prediction.lock', { record: { test: late.id, under } }).message).toContain(
			'hindsight'
		);
	});
});

describe('[S12] where a result is corrected, what rests on it is looked at again', () => {
	const bare = 'bare of fibres';
	const wood = 'breaks in the wood';
	/** A locked test, its result on the tree as a sign, and a decision on it. */
	function decided() {
		const c = new Case();
		const top = c.state();
		for (const id of ['glue', 'load']) c.add(id, top);
		c.do('evidence.add', { id: 'pull', record: test() });
		const locked = [
			{ event: 'glue', cause: 'glue', expected: bare },
			{ event: 'load', cause: 'load', expected: wood }
		];
		c.do('prediction.lock', { record: { test: 'pull', under: locked } });
		c.do('test.result', { id: 'pull', result: bare, value: null, noPrediction: '' });
		c.do('finding.add', { id: 'sign', anomaly: 'a1', record: outcome(c, 0) });
		c.find('own', { glue: 0.5 }, { state: 'present', evidence: ['pull'] });
		c.do('disposition.set', { event: 'glue', state: 'established', reason: 'bare', cites: ['sign'] });
		return c;
	}
	const outcome = ({ file }: Case, at: number) => {
		const [, prediction] = standingPrediction(file, 'pull')!;
		return signOf(file, 'a1', 'pull', testOutcomes(file, 'a1', prediction)!, at, 0.4);
	};
	const correct = (c: Case, words: string) =>
		c.do('evidence.correct', { id: 'pull', record: test({ result: words }), reason: 'read again' });
	const asked = ({ file }: Case) =>
		standsInTheWay(file, 'a1').flatMap(({ message }) => (message.includes('corrected') ? [message] : []));

	it('the sign, a sign of one’s own and the decision, until each is said anew', () => {
		const c = decided();
		expect(asked(c)).toEqual([]);
		correct(c, wood);
		expect(c.file.evidence['pull']).toMatchObject({
			corrected: { by: 'Ilse', at: '2026-05-18T09:00:00.000Z' }
		});
		expect(asked(c)).toHaveLength(3);
		expect(signAsksAgain(c.file, 'sign')).toEqual([
			`E1 was corrected: it said “${bare}” and says “${wood}” now.`
		]);
		c.do('finding.change', { id: 'sign', record: outcome(c, 1) });
		expect(c.file.findings['sign']).toMatchObject({ links: [{ p: 0.05 }, { p: 0.9 }] });
		c.do('finding.stillSo', { finding: 'own' });
		expect(asked(c)).toEqual([expect.stringContaining('“glue lets go” was decided')]);
		c.do('disposition.set', { event: 'glue', state: 'unlikely', reason: 'wood', cites: ['sign'] });
		expect(asked(c)).toEqual([]);
		expect(c.refusal('finding.stillSo', { finding: 'own' }).message).toContain('Nothing');
	});

	it('not where only the title is, and no more once it says the same again', () => {
		const c = decided();
		c.do('evidence.correct', { id: 'pull', record: test({ title: 'Pull', result: bare }), reason: 'short' });
		expect(asked(c)).toEqual([]);
		correct(c, wood);
		correct(c, bare);
		expect(asked(c)).toEqual([]);
	});
});
