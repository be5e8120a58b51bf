import { describe, expect, it } from 'vitest';
import { standingPrediction } from '$lib/investigation/views/predictions';
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
