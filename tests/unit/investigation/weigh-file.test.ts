import { describe, expect, it } from 'vitest';
import { weighCase } from '$lib/components/weighing/weigh-case';
import { treesOf } from '$lib/investigation/weigh-file';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import { main } from '../../../src/cli/weigh';
import { Case } from './anomaly-case';

function weighed() {
	const c = new Case();
	const top = c.state();
	c.add('load', top);
	c.add('glue', top);
	c.do('event.weigh', { event: 'load', weight: 0.1 });
	c.do('event.weigh', { event: 'glue', weight: 0.05 });
	c.find('bare', { glue: 0.8 });
	c.do('finding.setState', { finding: 'bare', state: 'present' });
	return c;
}

describe('an exported investigation, weighed without a browser', () => {
	it('gives the numbers of the page, the assumed links of the unthought-of branch included', () => {
		const { file } = weighed();
		const page = weighCase({ ...toTreeModel(file, 'a1'), trying: false });
		if (!page.ok) throw new Error(page.problems.join());
		const run = main(['-'], () => JSON.stringify({ kind: 'investigation', state: file }));
		expect(run).toMatchObject({ exitCode: 0, stderr: '' });
		const answer = JSON.parse(run.stdout) as {
			anomalies: { anomaly: string; events: Record<string, { givenAll: number }> }[];
		};
		expect(answer.anomalies.map(({ anomaly }) => anomaly)).toEqual(['a1']);
		expect(Object.keys(page.residualLinks)).toEqual(['bare']);
		for (const [id, { givenAll }] of Object.entries(page.weighing.events))
			expect(answer.anomalies[0]!.events[id]!.givenAll).toBe(givenAll);
	});

	it('refuses in one line what is no investigation, is too new, or is not whole', () => {
		const { file } = weighed();
		for (const [state, says] of [
			[undefined, 'export one as a zip'],
			[{ ...file, format: { main: { version: 99 } } }, 'format 99'],
			[{ ...file, anomalies: { a1: { ...file.anomalies['a1'], top: 'nowhere' } } }, 'events/nowhere']
		] as const) {
			const run = main(['-'], () => JSON.stringify({ kind: 'investigation', state }));
			expect(run.exitCode).toBe(2);
			expect(run.stderr).toContain(says);
			expect(run.stderr.trim().split('\n')).toHaveLength(1);
		}
		expect(treesOf({ shopping: [] }).ok).toBe(false);
	});
});
