import { expect, it } from 'vitest';
import { aloneIn } from '$lib/investigation/views/alone';
import { Case } from './anomaly-case';

it('hand-worked: an event by itself shows what the gates above and beneath it show', () => {
	const c = new Case();
	const top = c.state();
	c.add('charge', top, 'Charge does not fire');
	for (const leaf of ['igniter', 'battery']) c.add(leaf, 'charge');
	c.add('pair', top, 'Both seals');
	for (const leaf of ['seal1', 'seal2']) c.add(leaf, 'pair');
	c.do('event.setGate', { event: 'pair', type: 'and' });
	const [whole, soot, dry] = [
		c.find('f1', { charge: 0.9, pair: 0.5 }),
		c.find('f2', { igniter: 0.1, seal1: 0.5, seal2: 0.5 }),
		c.find('f3')
	].map((id) => c.file.findings[id]!);
	const alone = aloneIn(c.file.events);
	const range = (finding = whole!, event = '') => {
		const { least, most } = alone(finding, event);
		return [least, most].map((p) => Number(p.toFixed(6)));
	};
	// 1 - .98 * .1 through the gate; of two seals one alone does not fail the pair.
	expect(range(whole, 'battery')).toEqual([0.902, 0.902]);
	expect(alone(whole!, 'battery').through.map(({ event }) => event)).toEqual(['charge']);
	expect(range(whole, 'seal1')).toEqual([0.02, 0.02]);
	// By the battery .02, by the igniter 1 - .98 * .9; both seals 1 - .98 * .25.
	expect(range(soot, 'charge')).toEqual([0.02, 0.118]);
	expect(range(soot, 'pair')).toEqual([0.755, 0.755]);
	expect(range(dry, 'charge')).toEqual([0.02, 0.02]);
	// Shown where the igniter is whole: whoever else is at work.
	c.do('link.set', { finding: 'f3', event: 'igniter', negated: true, p: 0.5 });
	expect(range(c.file.findings['f3'], 'battery')).toEqual([0.51, 0.51]);
	expect(range(c.file.findings['f3'], 'igniter')).toEqual([0.02, 0.02]);

	// Locked: the first that happens decides, and none of these shows it as often as was to be expected.
	const locked = { ...c.file.findings['f1']!, firstDecides: true };
	expect(range(locked, 'battery')).toEqual([0.9, 0.9]);
	expect(range(locked, 'seal1')).toEqual([0.02, 0.02]);
});
