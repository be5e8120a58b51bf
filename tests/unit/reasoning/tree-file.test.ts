import { describe, expect, it } from 'vitest';
import { parseTree } from '$lib/reasoning';

const refusal = (tree: unknown): string => {
	const parsed = parseTree(tree);
	if (parsed.ok) throw new Error('was accepted');
	return parsed.problems.join('\n');
};
const A = { id: 'A', p: 0.1 };
const B = { id: 'B', p: 0.2 };
const or = (id: string, ...inputs: unknown[]) => ({ id, type: 'or', inputs });
const base = { events: [A, B], gates: [or('TOP', 'A', 'B')] };

describe('A tree that can be weighed only one way is accepted', () => {
	it.each([
		[
			'gate types in any case and spelling',
			{ ...base, gates: [{ ...or('TOP', 'A', 'B'), type: 'AT_LEAST', k: 1 }] }
		],
		['a top that feeds nothing need not be named', base],
		['both ways to write a negation', { ...base, gates: [or('TOP', '!A', { not: 'B' })] }],
		['events without gates', { events: [A] }],
		[
			'several roots where given says what is known',
			{ ...base, gates: [or('X', 'A'), or('Y', 'B')], given: { X: true } }
		],
		['a finding with nothing but an id', { ...base, findings: [{ id: 'f' }] }],
		['any language', { events: [{ id: 'Zündung fehlt ☂', p: 0.5, label: '点火' }] }]
	])('%s', (_, tree) => {
		expect(parseTree(tree)).toMatchObject({ ok: true });
	});
});

describe('What is wrong is said in words', () => {
	it.each<[string, unknown, RegExp]>([
		['not an object', 7, /the tree: expected/],
		['no events', {}, /events: is missing/],
		['empty', { events: [] }, /the tree has no events/],
		[
			'events as an object',
			{ events: { A: 0.1 } },
			/events: must be a list .*an entry is an object with its own "id"/
		],
		[
			'a probability of 1.2',
			{ events: [A, { id: 'B', p: 1.2 }] },
			/events\[1\]\.p \('B'\): a probability must lie between 0 and 1, not 1.2/
		],
		[
			'a probability in words',
			{ events: [{ id: 'A', p: 'often' }] },
			/a probability is a number from 0 to 1, not "often"/
		],
		['no probability', { events: [{ id: 'A' }] }, /event 'A' has no probability: give "p"/],
		['a misspelt field', { events: [{ id: 'A', prob: 0.1 }] }, /\('A'\): unknown field 'prob'/],
		['an id that says not', { events: [{ id: '!A', p: 0.1 }] }, /must not begin with '!'/],
		['a duplicate id', { events: [A, A] }, /the id 'A' is used twice/],
		['an event and a gate of one name', { ...base, gates: [or('A', 'B')] }, /the id 'A' is used twice/],
		[
			'an unknown gate type',
			{ ...base, gates: [{ ...or('TOP', 'A'), type: 'maybe' }] },
			/a gate's type is one of or, and.*not "maybe"/
		],
		[
			'an unknown input',
			{ ...base, gates: [or('TOP', 'A', 'C')] },
			/gate 'TOP' names 'C', which is neither an event nor a gate/
		],
		['an empty gate', { ...base, gates: [or('TOP')] }, /gate 'TOP' has no inputs/],
		['an input twice', { ...base, gates: [or('TOP', 'A', 'A')] }, /gate 'TOP' has the input 'A' twice/],
		[
			'a circle',
			{ ...base, gates: [or('X', 'A', 'Y'), or('Y', 'Z'), or('Z', 'X')], top: 'X' },
			/the tree runs in a circle: X → Y → Z → X/
		],
		[
			'k above the inputs',
			{ ...base, gates: [{ id: 'T', type: 'atLeast', k: 3, inputs: ['A', 'B'] }] },
			/needs a whole k from 1 to its 2 inputs, not 3/
		],
		['no k', { ...base, gates: [{ id: 'T', type: 'atLeast', inputs: ['A', 'B'] }] }, /needs a whole k/],
		[
			'min above max',
			{ ...base, gates: [{ id: 'T', type: 'cardinality', min: 2, max: 1, inputs: ['A', 'B'] }] },
			/min not above max/
		],
		[
			'exclusive OR of three',
			{ events: [A, B, { id: 'C', p: 0.1 }], gates: [{ id: 'T', type: 'xor', inputs: ['A', 'B', 'C'] }] },
			/it takes two\. Say "exactlyOne".*or "odd"/
		],
		[
			'NOT of two',
			{ ...base, gates: [{ id: 'T', type: 'not', inputs: ['A', 'B'] }] },
			/takes one input, not 2/
		],
		[
			'inhibit without condition',
			{ ...base, gates: [{ id: 'T', type: 'inhibit', inputs: ['A'] }] },
			/needs a "condition"/
		],
		[
			'an unknown condition',
			{ ...base, gates: [{ id: 'T', type: 'inhibit', inputs: ['A'], condition: 'Q' }] },
			/names 'Q'/
		],
		[
			'a field of another gate',
			{ ...base, gates: [{ ...or('T', 'A'), k: 1 }] },
			/has 'k', which belongs to atLeast/
		],
		[
			'a table with a row missing',
			{ ...base, gates: [{ id: 'T', type: 'table', inputs: ['A'], table: { T: 0.5 } }] },
			/has no row "F"/
		],
		[
			'a table with a strange row',
			{ ...base, gates: [{ id: 'T', type: 'table', inputs: ['A'], table: { T: 0.5, F: 0, TT: 1 } }] },
			/has the row "TT"; a row is 1 letters/
		],
		[
			'a table without numbers',
			{ ...base, gates: [{ id: 'T', type: 'table', inputs: ['A'] }] },
			/has no row "T"/
		],
		['an unknown top', { ...base, top: 'Q' }, /the top 'Q' is neither/],
		['several tops', { ...base, gates: [or('X', 'A'), or('Y', 'B')] }, /several gates feed nothing \(X, Y\)/],
		[
			'a house event without state',
			{ ...base, events: [A, { id: 'B', kind: 'house', p: 0.5 }] },
			/house event 'B' needs "state"/
		],
		[
			'a state on a basic event',
			{ ...base, events: [A, { ...B, state: true }] },
			/only a house event is switched/
		],
		[
			'exclusive beyond one by a rounded third',
			{ events: ['A', 'B', 'C'].map((id) => ({ id, p: 0.333334 })), exclusive: [['A', 'B', 'C']] },
			/probabilities add up to 1\.000002: more than 1/
		],
		[
			'a finding that is the same as itself',
			{ events: [A], findings: [{ id: 'f', sameAs: 'f' }] },
			/finding 'f' is listed as the same observation as itself/
		],
		[
			'an id without end',
			{ events: [{ id: 'x'.repeat(5000), p: 0.1 }] },
			/^events\[0\]\.id \('x{57}…'\): an id has at most 200 characters, not "x{56}…$/
		],
		[
			'hundreds of faults',
			{ events: Array.from({ length: 400 }, (_, i) => ({ id: `e${i}`, p: 2 })) },
			/events\[49\].*\nand 350 more$/
		],
		[
			'exclusive beyond one',
			{
				events: [
					{ id: 'A', p: 0.7 },
					{ id: 'B', p: 0.5 }
				],
				exclusive: [['A', 'B']]
			},
			/A, B exclude one another, but their probabilities add up to 1\.2/
		],
		[
			'exclusive twice',
			{
				...base,
				exclusive: [
					['A', 'B'],
					['B', 'A']
				]
			},
			/'B' is listed as exclusive twice/
		],
		[
			'an exclusive gate',
			{ ...base, exclusive: [['A', 'TOP']] },
			/exclusive names 'TOP', which is not an event/
		],
		[
			'a link from nowhere',
			{ ...base, findings: [{ id: 'f', links: [{ from: 'Q', p: 0.5 }] }] },
			/finding 'f' names 'Q'/
		],
		[
			'two links from one event',
			{
				...base,
				findings: [
					{
						id: 'f',
						links: [
							{ from: 'A', p: 0.5 },
							{ from: 'A', p: 0.6 }
						]
					}
				]
			},
			/finding 'f' has two links from 'A'/
		],
		['a finding twice', { ...base, findings: [{ id: 'f' }, { id: 'f' }] }, /the finding 'f' is there twice/],
		[
			'a strange state',
			{ ...base, findings: [{ id: 'f', state: 'maybe' }] },
			/a finding's state is present, absent or notExamined, not "maybe"/
		],
		['an unknown origin', { ...base, findings: [{ id: 'f', origin: 'camera' }] }, /unknown origin 'camera'/],
		[
			'same as nothing',
			{ ...base, findings: [{ id: 'f', sameAs: 'g' }] },
			/'f' is the same observation as 'g', which is not a finding/
		],
		[
			'one observation with two links',
			{
				...base,
				findings: [
					{ id: 'f', links: [{ from: 'A', p: 0.5 }] },
					{ id: 'g', sameAs: 'f', links: [{ from: 'A', p: 0.6 }] }
				]
			},
			/'f' and 'g' are the same observation, but their links from 'A' differ: 0.5 and 0.6/
		],
		[
			'one observation with two base rates',
			{
				...base,
				findings: [
					{ id: 'f', baseRate: 0.1 },
					{ id: 'g', sameAs: 'f', baseRate: 0.2 }
				]
			},
			/different base rates: 0.1, 0.2/
		],
		[
			'a negative density',
			{ ...base, likelihoods: [{ id: 'l', scenarios: [{ otherwise: true, density: -1 }] }] },
			/a density must be finite and not below 0, not -1/
		],
		[
			'a density that is no number',
			{ ...base, likelihoods: [{ id: 'l', scenarios: [{ otherwise: true, density: NaN }] }] },
			/likelihoods\[0\]\.scenarios\[0\]\.density \('l'\): .*not NaN/
		],
		[
			'only zero densities',
			{
				...base,
				likelihoods: [
					{
						id: 'l',
						scenarios: [
							{ event: 'A', density: 0 },
							{ otherwise: true, density: 0 }
						]
					}
				]
			},
			/only densities of 0/
		],
		[
			'nothing otherwise',
			{ ...base, likelihoods: [{ id: 'l', scenarios: [{ event: 'A', density: 1 }] }] },
			/needs a last line/
		],
		[
			'otherwise too early',
			{
				...base,
				likelihoods: [
					{
						id: 'l',
						scenarios: [
							{ otherwise: true, density: 1 },
							{ event: 'A', density: 1 }
						]
					}
				]
			},
			/must be the last line/
		],
		[
			'no scenarios',
			{ ...base, likelihoods: [{ id: 'l', scenarios: [] }] },
			/likelihood 'l' has no scenarios/
		],
		[
			'a scenario of nothing',
			{ ...base, likelihoods: [{ id: 'l', scenarios: [{ density: 1 }, { otherwise: true, density: 1 }] }] },
			/line 1 names no event/
		],
		['given an unknown', { ...base, given: { Q: true } }, /given names 'Q'/],
		[
			'given a finding',
			{ ...base, findings: [{ id: 'f' }], given: { f: true } },
			/given names the finding 'f'; set its state instead/
		],
		['given a word', { ...base, given: { A: 'yes' } }, /given\.A.*not "yes"/],
		['a later version', { ...base, formatVersion: 2 }, /this version reads formatVersion 1, not 2/]
	])('%s', (_, tree, message) => {
		expect(refusal(tree)).toMatch(message);
	});
	it('every fault at once', () => {
		const problems = refusal({
			events: [A],
			gates: [or('TOP', 'Q'), or('X')],
			findings: [{ id: 'f', origin: 'o' }]
		});
		expect(problems.split('\n').length).toBeGreaterThanOrEqual(4);
	});
	it('a chain of 20,000 gates and a loop at its end, without losing its footing', () => {
		const gates = Array.from({ length: 20_000 }, (_, i) => or(`g${i}`, `g${i + 1}`));
		expect(refusal({ events: [A], gates: [...gates, or('g20000', 'g19999')], top: 'g0' })).toMatch(
			/g19999 → g20000 → g19999/
		);
	});
});
