import { describe, expect, it } from 'vitest';
import { MEASURES } from '$lib/components/argument/measures';
import { importance } from '$lib/reasoning';

/** T = A or (B and C); A .1, B .2, C .5. P(T) = 1 - .9 * .9 = .19. */
const made = importance({
	events: [
		{ id: 'A', p: 0.1 },
		{ id: 'B', p: 0.2 },
		{ id: 'C', p: 0.5 }
	],
	gates: [
		{ id: 'T', type: 'or', inputs: ['A', 'P'] },
		{ id: 'P', type: 'and', inputs: ['B', 'C'] }
	]
});
const said = (event: string) =>
	Object.fromEntries(MEASURES.map(({ key, says }) => [key, says((made.ok && made.events[event]) as never)]));

describe('measures of importance as printed', () => {
	it('hand-worked for an event that is enough alone', () => {
		// Both forms: .1 of .19, and .1 of .1 + .1. Birnbaum 1 - .1; criticality .9 * .1 / .19; RAW 1 / .19; RRW .19 / .1.
		expect(said('A')).toEqual({
			fussellVeselyUnion: '53\u202f%',
			fussellVeselyRare: '50\u202f%',
			criticality: '47\u202f%',
			birnbaum: '90\u202f%',
			raw: '× 5.26',
			rrw: '× 1.90'
		});
	});
	it('hand-worked for one of a pair', () => {
		// .2 * .5 = .1 of .19. With B: 1 - .9 * .5 = .55, without .1. RAW .55 / .19, RRW .19 / .1.
		expect(said('B')).toEqual({
			fussellVeselyUnion: '53\u202f%',
			fussellVeselyRare: '50\u202f%',
			criticality: '47\u202f%',
			birnbaum: '45\u202f%',
			raw: '× 2.89',
			rrw: '× 1.90'
		});
	});
	it('says each as the answer to a question, and what cannot be had', () => {
		for (const { question } of MEASURES) expect(question).toMatch(/\?$/);
		const none = {
			whenTrue: 1,
			whenFalse: 0,
			birnbaum: 1,
			criticality: 1,
			givenTop: 1,
			raw: 4,
			rrw: Infinity
		};
		const texts = MEASURES.map(({ says }) =>
			says({ ...none, fussellVeselyUnion: null, fussellVeselyRare: null })
		);
		expect(texts).toEqual(['–', '–', '100\u202f%', '100\u202f%', '× 4.00', '∞']);
	});
});
