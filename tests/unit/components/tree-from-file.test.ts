import { describe, expect, it } from 'vitest';
import { treeFromText } from '$lib/components/anomaly/tree-from-file';

const json = {
	title: 'Line parts',
	events: [
		{ id: 'A', p: 0.1 },
		{ id: 'B', p: 0.2 },
		{ id: 'loose', p: 0.2 }
	],
	gates: [{ id: 'T', type: 'or', inputs: ['A', 'B'] }]
};
const two = {
	...json,
	gates: ['T', 'U'].map((id) => ({ id, label: `gate ${id}`, type: 'or', inputs: ['A', 'B'] }))
};
const xml = (number: string) =>
	`<opsa-mef><define-fault-tree name="T"><define-gate name="G"><event name="e"/></define-gate><define-basic-event name="e">${number}</define-basic-event></define-fault-tree></opsa-mef>`;
const problems = (text: string) => {
	const result = treeFromText(text);
	return result.ok ? '' : result.problems.join('; ');
};

describe('a tree from a file that a person chose', () => {
	it('JSON and Open-PSA are told apart by what stands in them, and looked at first', () => {
		expect(treeFromText(`\uFEFF${JSON.stringify(json)}`)).toMatchObject({
			ok: true,
			events: 2,
			gates: 1,
			findings: 0,
			told: ["Left out: what hangs nowhere under the top: 'loose'."]
		});
		const deviate = '<uniform-deviate><float value="0.1"/><float value="0.3"/></uniform-deviate>';
		expect(treeFromText(`\n${xml(deviate)}`)).toMatchObject({
			ok: true,
			events: 1,
			told: [/at its mean, 0.2/]
		});
	});
	it('an event without a number is no obstacle, and is told', () => {
		expect(treeFromText(xml(''))).toMatchObject({
			ok: true,
			told: ["line 1: <define-basic-event> 'e' has no number"]
		});
	});
	it('several tops: one is asked for by its label, in either format', () => {
		expect(treeFromText(JSON.stringify(two))).toMatchObject({
			ok: false,
			tops: [
				{ value: 'T', label: 'gate T' },
				{ value: 'U', label: 'gate U' }
			]
		});
		expect(treeFromText(JSON.stringify(two), { top: 'U' })).toMatchObject({ ok: true, tree: { top: 'U' } });
		const gates = xml('<float value="0.1"/>').replace(
			'<define-basic',
			'<define-gate name="H"><event name="e"/></define-gate><define-basic'
		);
		expect(treeFromText(gates)).toMatchObject({ ok: false, tops: [{ value: 'G' }, { value: 'H' }] });
		expect(treeFromText(gates, { top: 'H' })).toMatchObject({ ok: true, tree: { top: 'H' } });
	});
	it('a mission time is asked for', () => {
		const timed = xml('<exponential><float value="0.001"/><system-mission-time/></exponential>');
		expect(treeFromText(timed)).toMatchObject({ ok: false, asksTime: true });
		expect(treeFromText(timed, { missionTime: 10 })).toMatchObject({ ok: true });
	});
	it.each<[string, string, RegExp]>([
		['neither XML nor JSON', 'PK\u0003', /neither XML nor JSON.*Choose an Open-PSA file or a tree in JSON/],
		[
			'half a JSON',
			JSON.stringify(json).slice(0, 40),
			/^This JSON is not whole: a part of it is missing or damaged/
		],
		['half an XML', xml('').slice(0, 80), /the file ends inside <define-/],
		['a whole investigation', '{"kind":"investigation","state":{}}', /whole investigation.*first page/],
		['a list', '[1, 2]', /./],
		['a number', '5', /./],
		[
			'a circle',
			JSON.stringify({ ...json, gates: [{ id: 'T', type: 'or', inputs: ['T'] }] }),
			/circle: T → T/
		]
	])('%s', (_, text, words) => {
		expect(problems(text)).toMatch(words);
	});
});
