import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkTree, type TreeModel, weigh } from '../../../src/lib/reasoning';
import { readLiteral } from '../../../src/lib/reasoning/literal';
import { plainGates } from '../../../src/lib/reasoning/plain-gates';
import { randomTree } from './random-tree';

const PLAIN = ['or', 'and', 'atLeast', 'xor', 'inhibit', 'priorityAnd', 'not'];

describe('a tree said with fewer gates', () => {
	it('is a tree without negated inputs, and everything keeps its probability given all', () => {
		fc.assert(
			fc.property(randomTree, (model) => {
				const plain = plainGates(model);
				expect(checkTree(plain)).toEqual([]);
				for (const { type, inputs, condition } of plain.gates ?? []) {
					expect(PLAIN).toContain(type);
					expect([...inputs, ...(condition ? [condition] : [])].some((i) => readLiteral(i).negated)).toBe(
						false
					);
				}
				const [before, after] = [weigh(model), weigh(plain)];
				for (const kind of ['events', 'gates'] as const)
					for (const [id, { prior, givenAll }] of Object.entries(before[kind])) {
						expect(Math.abs(after[kind][id]!.prior - prior)).toBeLessThan(1e-12);
						if (givenAll !== null) expect(Math.abs(after[kind][id]!.givenAll! - givenAll)).toBeLessThan(1e-9);
					}
			}),
			{ numRuns: 400 }
		);
	});
	it('a condition of its own keeps its inhibit gate; one that is used elsewhere becomes an input', () => {
		const model: TreeModel = {
			events: [
				{ id: 'A', p: 0.1 },
				{ id: 'C', p: 0.3, kind: 'conditioning' }
			],
			gates: [{ id: 'G', type: 'inhibit', inputs: ['A'], condition: 'C' }]
		};
		expect(plainGates(model).gates).toEqual(model.gates);
		const shared: TreeModel = {
			...model,
			top: 'G',
			gates: [...model.gates!, { id: 'H', type: 'or', inputs: ['C', 'A'] }]
		};
		const plain = plainGates(shared);
		expect(plain.gates?.[0]).toEqual({ id: 'G', type: 'and', inputs: ['A', 'C'] });
		expect(plain.events[1]).toEqual({ id: 'C', p: 0.3 });
	});
	it('what is added says what it is', () => {
		const plain = plainGates({
			events: ['A', 'B', 'C'].map((id) => ({ id, label: `part ${id} fails`, p: 0.1 })),
			gates: [
				{ id: 'G', label: 'the set fails', type: 'cardinality', min: 1, max: 2, inputs: ['A', 'B', '!C'] }
			]
		});
		expect(plain.gates?.map(({ label, type }) => [type, label])).toEqual([
			['not', 'Not: part C fails'],
			['atLeast', 'the set fails: at least 1'],
			['atLeast', 'the set fails: more than 2'],
			['not', 'Not: the set fails: more than 2'],
			['and', 'the set fails']
		]);
	});
});
