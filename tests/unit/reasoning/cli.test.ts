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
	parts: Record<string, { givenTop: number }>;
	probabilityOfTop: number;
	warnings: string[];
	logEvidence: number;
	logDensity: number;
	minimalCutSets: { events: string[]; probability: number }[];
	minimalCutSetCount: number;
	contributions: { id: string; withoutIt: Record<string, number> }[];
}

describe('weigh <file>', () => {
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
	it('says what matters, what explains it, and what the next look is worth', () => {
		const answer = JSON.parse(
			run({
				...tank,
				findings: [...tank.findings, { id: 'bent', state: 'notExamined', links: [{ from: 'T', p: 0.9 }] }]
			}).stdout
		) as {
			importance: { probabilityOfTop: number; events: Record<string, { birnbaum: number }> };
			explanations: { list: { happened: string[]; probability: number }[]; proven: boolean };
			information: { observations: { id: string; bits: number }[] };
		};
		const { importance, explanations, information } = answer;
		expect(importance.events['S']?.birnbaum).toBeLessThan(importance.events['K2']?.birnbaum ?? 0);
		// S and R weigh the same, so the third and the fourth explanation do.
		expect(explanations).toMatchObject({ proven: true, more: 0 });
		expect(explanations.list.map(({ happened }) => happened.join(' '))).toEqual(['K2', 'T', 'K2 S', 'K2 R']);
		expect(information.observations).toMatchObject([{ id: 'bent' }]);
		expect(information.observations[0]?.bits).toBeGreaterThan(0);
	});
	it('says what would change the answer, and what hangs together', () => {
		const findings = [
			...tank.findings,
			{ id: 'scorched too', state: 'present', sameAs: 'scorched' },
			{ id: 'odd', state: 'present', baseRate: 1e-5 }
		];
		const answer = JSON.parse(run({ ...tank, findings }).stdout) as Record<string, unknown>;
		expect(answer['nearContradiction']).toMatchObject({
			clash: ['odd'],
			fewest: true
		});
		expect(answer['robustness']).toMatchObject({ leader: 'K2', survives: { leader: true } });
		const { assumptions } = answer['robustness'] as { assumptions: { kind: string; id: string }[] };
		expect(assumptions[0]).toMatchObject({ kind: 'weight', overturns: { leader: 'T' } });
		expect(Object.keys(answer['equalStarts'] as object)).toContain('K2');
		expect(answer['counted']).toMatchObject([{ findings: ['scorched', 'scorched too'] }]);
		expect(answer['alike']).toEqual([]);
		const ghostly = JSON.parse(
			run({ ...tank, findings: [{ id: 'ghost', state: 'present' }] }).stdout
		) as object;
		expect(ghostly).toMatchObject({ nearContradiction: null, robustness: null });
	});
	it('a file that begins with the mark of its byte order', () => {
		expect(run('\uFEFF{"events":[{"id":"A","p":0.25}]}')).toMatchObject({ exitCode: 0, stderr: '' });
	});
	it('a file without a kind but with events is a tree', () => {
		const { kind: _, ...plain } = tank;
		expect(run(plain).exitCode).toBe(0);
	});
	it('says that a priority AND is weighed as its bound, and gives the parts of a common-cause group', () => {
		const events = ['A', 'B'].map((id) => ({ id, p: 0.1 }));
		const group = { id: 'battery', members: ['A', 'B'], model: 'beta', factors: [0.2] };
		const gates = [{ id: 'TOP', type: 'priorityAnd', inputs: ['A', 'B'] }];
		const answer = JSON.parse(run({ events, gates, commonCause: [group] }).stdout) as Answer;
		expect(answer.probabilityOfTop).toBeCloseTo(0.026272, 12);
		expect(answer.warnings.join()).toMatch(
			/gate 'TOP' \(priority AND\) is weighed as a plain AND, its upper bound/
		);
		expect(answer.parts['A and B together']?.givenTop).toBeCloseTo(0.02 / 0.026272, 12);
		expect(answer.minimalCutSets[0]?.events).toEqual(['A and B together']);
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

describe('weigh and the Open-PSA format', () => {
	const xml = main(['--write-open-psa', 'tank.json'], () => JSON.stringify(tank));
	it('a tree is written, and what the file can not hold is told', () => {
		expect(xml).toMatchObject({ exitCode: 0, stderr: 'weigh: not written: 1 finding\n' });
		expect(xml.stdout).toMatch(/^<\?xml version="1.0" encoding="UTF-8"\?>\n<opsa-mef>/);
	});
	it('it weighs as the tree does, from a file or standard input', () => {
		const { findings: _, ...bare } = tank;
		const weighed = run(xml.stdout, ['tank.xml']);
		expect(JSON.parse(weighed.stdout)).toEqual(JSON.parse(run(bare).stdout));
		expect(run(xml.stdout, ['-']).stdout).toBe(weighed.stdout);
	});
	it('it is written back as a tree', () => {
		const back = run(xml.stdout, ['--write-tree', 'tank.xml']);
		expect(back).toMatchObject({ exitCode: 0, stderr: '' });
		const { findings: _, ...bare } = tank;
		expect(JSON.parse(back.stdout)).toEqual({ ...bare, top: 'TOP' });
	});
	const two =
		'<opsa-mef><define-fault-tree name="T"><define-gate name="A"><event name="e"/></define-gate><define-gate name="B"><event name="e"/></define-gate></define-fault-tree><model-data><define-basic-event name="e"><exponential><float value="0.001"/><system-mission-time/></exponential></define-basic-event></model-data></opsa-mef>';
	it('top and mission time are asked for, taken, and what was warned of stands in the answer', () => {
		expect(run(two, ['x.xml']).stderr).toMatch(
			/^weigh: line 1: <system-mission-time>.*give the mission time\n$/
		);
		expect(run(two, ['--mission-time', '100', 'x.xml']).stderr).toBe(
			'weigh: several gates feed nothing: name one with --top A | --top B\n'
		);
		const answer = JSON.parse(run(two, ['--mission-time', '100', '--top', 'B', 'x.xml']).stdout) as {
			probabilityOfTop: number;
		};
		expect(answer.probabilityOfTop).toBeCloseTo(1 - Math.exp(-0.1), 14);
		const spread = two.replace(
			'<system-mission-time/>',
			'<normal-deviate><int value="100"/><int value="5"/></normal-deviate>'
		);
		expect(JSON.parse(run(spread, ['--top', 'A', 'x.xml']).stdout)).toMatchObject({
			warnings: ['line 1: <normal-deviate> is taken at its mean, 100; its spread is not weighed']
		});
	});
	it.each<[string, string[], string, RegExp]>([
		['an unknown option', ['--colour', 'x.xml'], two, /Unknown option '--colour'/],
		['both formats', ['--write-tree', '--write-open-psa', 'x.xml'], two, /one format at a time/],
		['a mission time in words', ['--mission-time', 'long', 'x.xml'], two, /is a number, 0 or more, not long/],
		[
			'a name that is not there',
			['--top', 'C', '--mission-time', '1', 'x.xml'],
			two,
			/the top 'C' is neither/
		],
		['no XML', ['x.xml'], 'PK', /x\.xml is not XML, which begins with '<', and not JSON/],
		['half a file', ['x.xml'], two.slice(0, 200), /a part of it is missing/]
	])('%s: one line and exit code 2', (_, argv, text, problem) => {
		const { exitCode, stdout, stderr } = run(text, argv);
		expect({ exitCode, stdout }).toEqual({ exitCode: 2, stdout: '' });
		expect(stderr).toMatch(problem);
		expect(stderr.trimEnd()).not.toContain('\n');
	});
});
