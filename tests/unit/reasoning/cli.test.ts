import { describe, expect, it } from 'vitest';
import { main } from '../../../src/cli/weigh';

const tank = {
	kind: 'tree',
	events: [
		{ id: 'T', p: 5e-6 },
		{ id: 'K2', p: 3e-5 },
		{ id: 'S', p: 1e-4 },
		{ id: 'R', p: 1e-4 }
	],
	gates: [
		{ id: 'TOP', type: 'or', inputs: ['T', 'K2', 'E'] },
		{ id: 'E', type: 'and', inputs: ['S', 'R'] }
	],
	findings: [{ id: 'scorched', state: 'present', baseRate: 0.01, links: [{ from: 'K2', p: 0.8 }] }]
};
const run = (content: unknown, argv = ['tree.json']) =>
	main(argv, () => (typeof content === 'string' ? content : JSON.stringify(content)));
interface Answer {
	method: string;
	events: Record<string, { prior: number; givenTop: number; givenAll: number }>;
	gates: Record<string, { givenAll: number }>;
	logEvidence: number;
	logDensity: number;
	minimalCutSets: { events: string[]; probability: number }[];
	minimalCutSetCount: number;
	contributions: { id: string; withoutIt: Record<string, number> }[];
}

describe('weigh <file.json | ->', () => {
	it('weighs a tree from a file or from standard input', () => {
		const seen: string[] = [];
		const outcome = main(['-'], (file) => (seen.push(file), JSON.stringify(tank)));
		expect(seen).toEqual(['-']);
		expect(outcome).toMatchObject({ exitCode: 0, stderr: '' });
		const answer = JSON.parse(outcome.stdout) as Answer;
		expect(answer.method).toBe('exact');
		expect(answer.events['K2']?.prior).toBe(3e-5);
		expect(answer.events['K2']?.givenTop).toBeCloseTo(0.857, 3);
		expect(answer.events['K2']?.givenAll).toBeGreaterThan(0.99);
		expect(answer.gates['TOP']?.givenAll).toBeCloseTo(1, 12);
		expect(answer.logEvidence).toBeLessThan(0);
		expect(answer.logDensity).toBe(0);
		expect(answer.minimalCutSetCount).toBe(3);
		expect(answer.minimalCutSets.map(({ events }) => events.join('+'))).toEqual(['K2', 'T', 'S+R']);
		expect(answer.contributions[0]?.withoutIt['K2']).toBeCloseTo(0.857, 3);
	});
	it('a file without a kind but with events is a tree', () => {
		const { kind: _, ...plain } = tank;
		expect(run(plain).exitCode).toBe(0);
	});
	it('a network without a top has no cut sets', () => {
		const network = {
			events: [{ id: 'A', p: 0.5 }],
			findings: [{ id: 'f', state: 'present', links: [{ from: 'A', p: 0.5 }] }]
		};
		const answer = JSON.parse(run(network).stdout) as Answer;
		expect(answer.minimalCutSets).toBeNull();
		expect(answer.events['A']?.givenAll).toBe(1);
	});
	it.each<[string, unknown, string[] | undefined, RegExp]>([
		['no file', tank, [], /give one file/],
		['two files', tank, ['a', 'b'], /give one file/],
		['half a file', '{"kind":"tree",', undefined, /tree\.json is not JSON/],
		[
			'another kind',
			{ kind: 'shopping' },
			undefined,
			/"kind" must be "tree" or "investigation", not "shopping"/
		],
		['no kind', [1, 2], undefined, /"kind" must be/],
		[
			'a probability of 1.2',
			{ events: [{ id: 'A', p: 1.2 }] },
			undefined,
			/events\[0\]\.p \('A'\).*between 0 and 1, not 1\.2/
		],
		[
			'a circle',
			{ ...tank, gates: [{ id: 'TOP', type: 'or', inputs: ['TOP'] }] },
			undefined,
			/circle: TOP → TOP/
		]
	])('%s: exit 2 and one line', (_, content, argv, message) => {
		const outcome = run(content, argv);
		expect(outcome.exitCode).toBe(2);
		expect(outcome.stdout).toBe('');
		expect(outcome.stderr).toMatch(message);
		expect(outcome.stderr.trimEnd().split('\n').length).toBe(1);
	});
	it('a file that is not there', () => {
		const outcome = main(['gone.json'], () => {
			throw new Error('ENOENT: no such file');
		});
		expect(outcome).toMatchObject({
			exitCode: 2,
			stderr: "weigh: can't read gone.json: ENOENT: no such file\n"
		});
	});
});
