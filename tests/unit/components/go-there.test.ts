import { describe, expect, it } from 'vitest';
import { addressOf, inTheirLines } from '$lib/components/anomaly/go-there';

const desk = { address: '/investigations/i1/anomalies/a1', investigation: 'i1', id: 'a1' };

describe('the way to what stands in the way', () => {
	it.each([
		[{ view: 'tree', event: 'e1', field: 'weight' }, `${desk.address}/tree?event=e1&field=weight`],
		[{ view: 'findings' }, `${desk.address}/findings?`],
		[
			{ view: 'findings', finding: 'f1', field: 'evidence' },
			`${desk.address}/findings?finding=f1&field=evidence`
		],
		[{ view: 'conclusion', event: 'e1', field: 'cites' }, `${desk.address}/conclusion?event=e1&field=cites`],
		[{ view: 'changes' }, '/investigations/i1/changes?raise=a1']
	] as const)('%j', (where, address) => expect(addressOf(where, desk)).toBe(address));
});

describe('things in the way', () => {
	const keysOf = (...messages: string[]) =>
		inTheirLines(messages.map((message) => ({ message }))).map(({ key }) => key);
	it('keep their key when one comes in above them, or a number in them changes', () => {
		const [glue, tube] = keysOf('Glue is open', 'gives it 37 %');
		expect(keysOf('Cord is open', 'Glue is open', 'gives it 38 %').slice(1)).toEqual([glue, tube]);
	});
	it('that read alike have keys of their own', () => {
		expect(new Set(keysOf('Glue is open', 'Glue is open', 'Glue is open')).size).toBe(3);
	});
});
