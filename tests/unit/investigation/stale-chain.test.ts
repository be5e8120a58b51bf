import { describe, expect, it } from 'vitest';
import { emptyInvestigation, type Investigation } from '$lib/investigation/case';
import type { InputSource, StoredCalculation } from '$lib/investigation/schema/calculation';
import { chainOf, staleRuns, weighByOldValues } from '$lib/investigation/views/changed-sources';

/** Takes what a run is called, which moves no number: all that hangs on it is that it takes from that run. */
const from = (id: string): Partial<InputSource> => ({ collection: 'calculations', id, value: 'title' });
const gone: Partial<InputSource> = {
	collection: 'evidence',
	id: 'e9',
	value: 'mass',
	input: 'mass',
	text: '2 kg'
};

/** K1 took a mass that is no longer there; K2 takes from K1, K3 from K2 and weighs; K4 takes from K5, both sound. */
function file(): Investigation {
	const run = (number: number, sources: Partial<InputSource>[], use = false) =>
		({ number, anomaly: 'a1', sources, likelihood: { use } }) as unknown as StoredCalculation;
	const calculations = {
		k3: run(3, [from('k2')], true),
		k2: run(2, [from('k1')]),
		k1: run(1, [gone]),
		k4: run(4, [from('k5')], true),
		k5: run(5, [])
	};
	return { ...emptyInvestigation(), calculations };
}

describe('runs that rest on one another', () => {
	it('are stale down the whole chain at once, each after what it takes from', () => {
		const stale = staleRuns(file());
		expect([...stale.keys()]).toEqual(['k1', 'k2', 'k3']);
		expect(stale.get('k1')).toEqual(['What stood in "mass" is no longer in the case: it was 2 kg.']);
		expect(stale.get('k3')).toEqual([
			'K2, from which it takes a value, rests on values that have changed since.'
		]);
	});
	it('are computed again in order: what was asked for, after the stale ones that it rests on', () => {
		expect(chainOf(file(), ['k3'])).toEqual(['k1', 'k2', 'k3']);
		expect(chainOf(file(), ['k3', 'k2'])).toEqual(['k1', 'k2', 'k3']);
		expect(chainOf(file(), ['k4'])).toEqual(['k4']);
		expect(chainOf(file(), ['k1', 'k4'])).toEqual(['k1', 'k4']);
	});
	it('weigh by old values where only the head of the chain has changed', () =>
		expect(weighByOldValues(file(), 'a1').map(([id]) => id)).toEqual(['k3']));
	it('end where a file has them take from one another', () => {
		const round = file();
		Object.assign(round.calculations['k1']!, { sources: [from('k2'), gone] });
		expect([...staleRuns(round).keys()]).toContain('k1');
		expect(chainOf(round, ['k2'])).toEqual(['k1', 'k2']);
	});
});
