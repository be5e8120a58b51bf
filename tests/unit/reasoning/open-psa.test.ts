import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseTree, readOpenPsa, type TreeModel, weigh, writeOpenPsa } from '../../../src/lib/reasoning';
import { readLiteral } from '../../../src/lib/reasoning/literal';
import type { OpenPsaOptions } from '../../../src/lib/reasoning/open-psa';
import { MOST } from '../../../src/lib/reasoning/open-psa/xml';
import { randomTree } from './random-tree';

/** One fault tree `T` around these definitions. */
const tree = (definitions: string, data = '') =>
	`<opsa-mef><define-fault-tree name="T">${definitions}</define-fault-tree><model-data>${data}</model-data></opsa-mef>`;
const basic = (name: string, expression: string) =>
	`<define-basic-event name="${name}">${expression}</define-basic-event>`;
const gate = (name: string, formula: string) => `<define-gate name="${name}">${formula}</define-gate>`;

function read(xml: string, options: OpenPsaOptions = {}) {
	const result = readOpenPsa(xml, options);
	if (!result.ok) throw new Error(result.problems.join('; '));
	const parsed = parseTree(result.model);
	if (!parsed.ok) throw new Error(parsed.problems.join('; '));
	return { model: parsed.model, warnings: result.warnings };
}
const refusal = (xml: string, options: OpenPsaOptions = {}) => {
	const result = readOpenPsa(xml, options);
	return result.ok ? '' : result.problems.join('; ');
};
/** Probability of the event that an expression gives, and what is warned of. */
const number = (expression: string, data = '', options: OpenPsaOptions = {}) => {
	const { model, warnings } = read(
		tree(gate('G', '<event name="e"/>') + basic('e', expression), data),
		options
	);
	return { p: model.events[0]!.p!, says: model.events[0]!.source, warnings };
};

/** Events and gates with literals written one way, in the order of their ids. */
const structure = ({ top, events, gates = [] }: TreeModel) => ({
	top,
	events: events
		.map(({ id, p, kind, state }) => ({
			id,
			p: kind === 'house' ? Number(state ?? p) : p,
			house: kind === 'house'
		}))
		.sort((a, b) => (a.id < b.id ? -1 : 1)),
	gates: gates
		.map(({ inputs, condition, ...gate }) => ({
			...gate,
			inputs: inputs.map(readLiteral),
			...(condition === undefined ? {} : { condition: readLiteral(condition) })
		}))
		.sort((a, b) => (a.id < b.id ? -1 : 1))
});
/** Before any evidence, each event's and gate's probability. */
const priors = (model: TreeModel) => {
	const { events, gates } = weigh({ ...model, findings: [], origins: [], likelihoods: [], given: {} });
	return { ...events, ...gates };
};

describe('Open-PSA: written and read again', () => {
	it('random trees keep the probability of every event and gate', () => {
		fc.assert(
			fc.property(randomTree, (model) => {
				const before = priors(model);
				const after = priors(read(writeOpenPsa(model).xml).model);
				for (const [id, { prior }] of Object.entries(before))
					expect(Math.abs(after[id]!.prior - prior)).toBeLessThan(1e-12);
			}),
			{ numRuns: 400 }
		);
	});
	it('random trees keep their gates, inputs, negations, house events, exclusions and top', () => {
		const plain = randomTree.map((model) => ({
			...model,
			gates: (model.gates ?? []).filter(({ type }) => type !== 'table')
		}));
		const whole = plain.filter((model) => parseTree(model).ok);
		fc.assert(
			fc.property(whole, (model) => {
				expect(structure(read(writeOpenPsa(model).xml).model)).toEqual(structure(model));
			}),
			{ numRuns: 400 }
		);
	});
});

describe('Open-PSA: events that exclude one another', () => {
	const model: TreeModel = {
		kind: 'tree',
		top: 'T',
		events: [
			{ id: 'A', p: 0.5 },
			{ id: 'B', p: 0.125, kind: 'undeveloped', label: 'the second' },
			{ id: 'C', p: 0.1 }
		],
		gates: [{ id: 'T', type: 'or', inputs: ['A', 'B', 'C'] }],
		exclusive: [['A', 'B', 'C']]
	};
	it('come back as what they were', () => {
		expect(read(writeOpenPsa(model).xml).model).toEqual(model);
	});
	it('a chain that was changed elsewhere into something else stays gates, with a number that was changed in it', () => {
		const { xml } = writeOpenPsa(model);
		const doubled = xml.replace('<float value="0.25"/>', '<float value="0.5"/>');
		expect(read(doubled).model.events.map(({ id, p }) => [id, p])).toEqual([
			['A', 0.5],
			['B', 0.25],
			['C', expect.closeTo((0.1 / 0.375) * 0.25, 12)]
		]);
		const changed = xml.replace(/<not>\s*<basic-event name="A"\/>\s*<\/not>/, '<basic-event name="A"/>');
		const { gates, exclusive } = read(changed).model;
		expect(exclusive).toBeUndefined();
		expect(gates?.map(({ id }) => id)).toEqual(['T', 'B', 'C']);
	});
});

describe('Open-PSA: what stands in a file', () => {
	it('labels, attributes, kinds, ids that are no identifiers, and types of gates come back', () => {
		const model: TreeModel = {
			kind: 'tree',
			title: 'Kappe bleibt zu & "fällt" <schnell>',
			top: 'the top',
			events: [
				{
					id: 'Ausstoß klemmt',
					label: 'a & b < c\nd',
					p: 0.1,
					note: 'seen\ttwice',
					source: 'ours',
					kind: 'undeveloped'
				},
				{ id: 'Ausstoss-klemmt', p: 0.25, attributes: { unit: '1/h', 'tested by': 'hand' } },
				{ id: '3', p: 0.5, kind: 'conditioning' }
			],
			gates: [
				{ id: 'the top', type: 'inhibit', inputs: ['Ausstoß klemmt', 'odd'], condition: '3', label: 'top' },
				{ id: 'odd', type: 'odd', inputs: ['Ausstoß klemmt', '!Ausstoss-klemmt'] }
			]
		};
		const { model: again, warnings } = read(writeOpenPsa(model).xml);
		const spaced = { ...model.events[0], label: 'a & b < c d' };
		expect(again).toEqual({
			...model,
			events: [spaced, ...model.events.slice(1)],
			gates: model.gates!.map(({ inputs, ...g }) => ({
				...g,
				inputs: inputs.map((input) => (input === '!Ausstoss-klemmt' ? { not: 'Ausstoss-klemmt' } : input))
			}))
		});
		expect(warnings).toEqual([]);
	});
	it('what the format has no word for is told', () => {
		const { leftOut } = writeOpenPsa({
			events: [{ id: 'A', p: 0.1 }],
			gates: [{ id: 'G', type: 'or', inputs: ['A'] }],
			origins: [{ id: 'o', reliability: 0.9, saysAnyway: 0.1 }],
			findings: [{ id: 'f', origin: 'o' }, { id: 'g' }],
			given: { A: false }
		});
		expect(leftOut).toEqual(['2 findings', '1 origin', '1 state that is given']);
	});
	it('formulas within formulas, constants, doubled inputs and a gate that is one event', () => {
		const { model } = read(
			tree(
				gate('TOP', '<or><and><event name="a"/><not><event name="b"/></not></and><gate name="P"/></or>') +
					gate('P', '<not><not><constant value="false"/></not></not>') +
					gate('Q', '<atleast min="2"><event name="a"/><event name="a"/><event name="b"/></atleast>') +
					gate('R', '<basic-event name="a"/>'),
				basic('a', '<float value="0.1"/>') + basic('b', '<float value="0.2"/>')
			),
			{ top: 'TOP' }
		);
		const { gates, probabilityOfTop } = weigh(model);
		expect(probabilityOfTop).toBeCloseTo(0.08, 12);
		expect(gates['P']?.prior).toBe(0);
		expect(gates['Q']?.prior).toBeCloseTo(0.1, 12);
		expect(gates['R']?.prior).toBeCloseTo(0.1, 12);
	});
	it('private names hold in their component, and by their path elsewhere; inner ones come first', () => {
		const component = (name: string, p: number) =>
			`<define-component name="${name}" role="private">${gate('fails', '<basic-event name="part"/>')}${basic('part', `<float value="${p}"/>`)}</define-component>`;
		const { model } = read(
			tree(
				gate('TOP', '<or><gate name="left.fails"/><gate name="T.right.fails"/><event name="part"/></or>') +
					component('left', 0.1) +
					component('right', 0.2) +
					basic('part', '<float value="0.3"/>')
			)
		);
		expect(model.events.map(({ id, p }) => [id, p])).toEqual([
			['T.left.part', 0.1],
			['T.right.part', 0.2],
			['part', 0.3]
		]);
		expect(weigh(model).probabilityOfTop).toBeCloseTo(1 - 0.9 * 0.8 * 0.7, 12);
		expect(refusal(tree(gate('TOP', '<gate name="fails"/>') + component('left', 0.1)))).toMatch(
			/line 1: <gate> names 'fails', which is not defined/
		);
	});
	it('other layers are left out with a warning; an event without a number is kept and told', () => {
		const result = readOpenPsa(
			`<opsa-mef>\n<define-event-tree name="E"><anything/></define-event-tree>\n<define-fault-tree name="T">\n${gate('G', '<event name="e"/>')}<define-basic-event name="e"/>\n<define-house-event name="h"/></define-fault-tree></opsa-mef>`
		);
		expect(result).toMatchObject({
			ok: true,
			tops: ['G'],
			model: { top: 'G', events: [{ id: 'e' }, { id: 'h', kind: 'house', state: false }] },
			warnings: [
				'line 2: <define-event-tree> is not of the fault trees and is left out',
				"line 4: <define-basic-event> 'e' has no number",
				"line 5: <define-house-event> 'h' is not said to be on or off; it is taken as off"
			]
		});
	});
	it('several gates that feed nothing: each may be named as the top', () => {
		const xml = tree(
			gate('A', '<event name="e"/>') + gate('B', '<event name="e"/>') + basic('e', '<float value=".1"/>')
		);
		expect(readOpenPsa(xml)).toMatchObject({ ok: true, tops: ['A', 'B'] });
		expect(() => read(xml)).toThrow(/several gates feed nothing \(A, B\)/);
		expect(read(xml, { top: 'B' }).model.top).toBe('B');
	});
});

describe('Open-PSA: common-cause groups', () => {
	const group = (content: string, model = 'beta-factor', more = '') =>
		tree(
			gate('G', '<and><event name="a"/><event name="b"/></and>') +
				`<define-CCF-group name="both" model="${model}">${content}</define-CCF-group>${more}`
		);
	const members = '<members><basic-event name="a"/><basic-event name="b"/></members>';
	const q = '<distribution><float value="0.01"/></distribution>';
	const factor = '<factor><float value="0.2"/></factor>';
	it('its members need no definition, or one that agrees', () => {
		const { model, warnings } = read(group(members + q + factor));
		expect(warnings).toEqual([]);
		expect(model.events).toEqual(['a', 'b'].map((id) => ({ id, p: 0.01 })));
		expect(model.commonCause).toEqual([{ id: 'both', members: ['a', 'b'], model: 'beta', factors: [0.2] }]);
		expect(weigh(model).probabilityOfTop).toBeCloseTo(0.002 + 0.998 * 0.008 ** 2, 15);
		const agreeing = basic('a', '<float value="0.01"/>') + basic('b', '');
		expect(read(group(members + q + factor, 'beta-factor', agreeing)).model).toEqual(model);
		expect(refusal(group(members + q + factor, 'beta-factor', basic('a', '<float value="0.02"/>')))).toMatch(
			/'a' has 0.02 of its own and 0.01 from its group/
		);
	});
	it('all models are written and come back, names and notes too', () => {
		const sharing = [
			{ model: 'beta', factors: [0.1] },
			{ model: 'multiLetter', factors: [0.1, 0.25] },
			{ model: 'alpha', factors: [0.5, 0.25, 0.25] },
			{ model: 'alpha', factors: [0.5, 0.25, 0.25], staggered: true }
		] as const;
		for (const shared of sharing) {
			const model: TreeModel = {
				kind: 'tree',
				top: 'G',
				events: ['a', 'b', 'c'].map((id) => ({ id, label: `part ${id}`, p: 0.125 })),
				gates: [{ id: 'G', type: 'atLeast', k: 2, inputs: ['a', 'b', 'c'] }],
				commonCause: [
					{
						id: 'the set',
						label: 'one batch',
						members: ['a', 'b', 'c'],
						...shared,
						factors: [...shared.factors]
					}
				]
			};
			expect(read(writeOpenPsa(model).xml).model).toEqual(model);
		}
	});
	it.each<[string, string, RegExp]>([
		['no distribution', group(members + factor), /'both' has no single <distribution>/],
		['another model', group(members + q + factor, 'gamma'), /'gamma' is not a model that is read/],
		[
			'an odd level',
			group(`${members}${q}<factor level="3"><float value="0.2"/></factor>`),
			/has level 3; here it is 2/
		],
		[
			'something else',
			group(`${members}${q}${factor}<guess/>`),
			/<guess> is not known in a common-cause group/
		],
		[
			'phi factors that leave some over',
			group(
				`${members}${q}<factor><float value="0.5"/></factor><factor><float value="0.1"/></factor>`,
				'phi-factor'
			),
			/share out 0.6 of each/
		]
	])('refused: %s', (_, xml, problem) => {
		expect(refusal(xml)).toMatch(problem);
	});
	it('one member', () => {
		expect(() =>
			read(
				group(
					`<members><basic-event name="a"/></members>${q}${factor}`,
					'beta-factor',
					basic('b', '<float value="0.1"/>')
				)
			)
		).toThrow(/at least two different events/);
	});
});

describe('Open-PSA: numbers (meanings from memory; values hand-worked)', () => {
	const f = (...values: number[]) => values.map((value) => `<float value="${value}"/>`).join('');
	it.each<[string, number]>([
		[`<exponential>${f(1e-3, 100)}</exponential>`, 1 - Math.exp(-0.1)],
		[`<mul>${f(0.5, 0.25, 0.5)}</mul>`, 0.0625],
		[`<sub>${f(1, 0.25, 0.25)}</sub>`, 0.5],
		[`<div>${f(1, 8)}</div>`, 0.125],
		[`<add><neg>${f(0.25)}</neg>${f(0.75)}</add>`, 0.5],
		['<bool value="true"/>', 1],
		[`<ite><lt>${f(1, 2)}</lt>${f(0.125, 0.5)}</ite>`, 0.125],
		// After a long time a repaired part is down in λ / (λ + μ) of it; at the start in γ.
		[`<GLM>${f(0.5, 0.001, 0.009, 1e6)}</GLM>`, 0.1],
		[`<GLM>${f(0.5, 0.001, 0.009, 0)}</GLM>`, 0.5],
		// Shape 1 is the exponential; nothing fails before its start.
		[`<Weibull>${f(1000, 1, 20, 120)}</Weibull>`, 1 - Math.exp(-0.1)],
		[`<Weibull>${f(1000, 1, 20, 10)}</Weibull>`, 0],
		[`<Weibull>${f(100, 2, 0, 50)}</Weibull>`, 1 - Math.exp(-0.25)]
	])('%s', (expression, value) => {
		expect(number(expression).p).toBeCloseTo(value, 14);
	});
	it.each<[string, number]>([
		[`<uniform-deviate>${f(0.1, 0.3)}</uniform-deviate>`, 0.2],
		[`<normal-deviate>${f(0.1, 0.01)}</normal-deviate>`, 0.1],
		[`<lognormal-deviate>${f(0.001, 3, 0.95)}</lognormal-deviate>`, 0.001],
		[`<lognormal-deviate>${f(-4, 0.5)}</lognormal-deviate>`, Math.exp(-3.875)],
		[`<gamma-deviate>${f(2, 0.05)}</gamma-deviate>`, 0.1],
		[`<beta-deviate>${f(1, 9)}</beta-deviate>`, 0.1]
	])('%s is taken at its mean, and that is said', (expression, mean) => {
		const { p, warnings } = number(expression);
		expect(p).toBeCloseTo(mean, 14);
		expect(warnings).toHaveLength(1);
		expect(warnings[0]).toMatch(/^line 1: <[a-z]+-deviate> is taken at its mean, .*not weighed$/);
	});
	it('a parameter stands for its number, and the event says what its own rests on', () => {
		const { p, says } = number(
			'<exponential><parameter name="RATE"/><system-mission-time/></exponential>',
			`<define-parameter name="RATE" unit="hours-1">${f(0.002)}</define-parameter>`,
			{ missionTime: 50 }
		);
		expect(p).toBeCloseTo(1 - Math.exp(-0.1), 14);
		expect(says).toBe('exponential(RATE = 0.002, mission time 50)');
	});
	it('a mission time that nobody gave is asked for', () => {
		expect(refusal(tree(gate('G', '<event name="e"/>') + basic('e', '<system-mission-time/>')))).toMatch(
			/line 1: <system-mission-time>.*give the mission time/
		);
	});
	it.each<[string, RegExp]>([
		[f(1.5), /'e' has the probability 1.5/],
		['<float value="many"/>', /value="many", which is no number/],
		['<float/>', /<float> has no value/],
		[`<div>${f(1, 0)}</div>`, /<div> comes to no number/],
		[`<exponential>${f(1)}</exponential>`, /takes 2 numbers, and here are 1/],
		['<periodic-test/>', /<periodic-test> is not an expression/],
		['<parameter name="nowhere"/>', /<parameter> names 'nowhere', which is not defined/],
		['<parameter name="P"/>', /'P' is computed from itself/],
		[f(0.1, 0.2), /'e' has 2 numbers/]
	])('refused: %s', (expression, problem) => {
		const circle = '<define-parameter name="P"><neg><parameter name="P"/></neg></define-parameter>';
		expect(refusal(tree(gate('G', '<event name="e"/>') + basic('e', expression), circle))).toMatch(problem);
	});
	it('parameters that double one another a hundred times stay a line of words', () => {
		const doubled = Array.from({ length: 100 }, (_, i) => {
			const before = i === 0 ? f(1e-40) : `<parameter name="P${i - 1}"/>`.repeat(2);
			return `<define-parameter name="P${i}"><add>${before}</add></define-parameter>`;
		});
		const { p, says } = number('<parameter name="P99"/>', doubled.join(''));
		expect(p).toBeCloseTo(1e-40 * 2 ** 99, 20);
		expect(says!.length).toBeLessThanOrEqual(200);
	});
});

describe('Open-PSA: files that are not what they should be', () => {
	const good = tree(gate('G', '<event name="e"/>') + basic('e', '<float value="0.1"/>'));
	it.each<[string, string, RegExp]>([
		['nothing', '', /not XML/],
		['JSON', '{"events": []}', /line 1: this is not XML/],
		['half a file', good.slice(0, 90), /the file ends inside <define-gate.*a part of it is missing/],
		[
			'half a tag',
			good.slice(0, 66),
			/the file ends inside <define-gate>, which began in line 1; a part of it is missing/
		],
		['another format', '<svg><g/></svg>', /begins with <svg>; an Open-PSA file begins with <opsa-mef>/],
		['two roots', '<opsa-mef/><opsa-mef/>', /only one root/],
		[
			'tags that cross',
			'<opsa-mef>\n<a><b></a></b></opsa-mef>',
			/line 2: an element ends here that is not <b>, which began in line 2/
		],
		['an attribute twice', '<opsa-mef name="a" name="b"/>', /'name' twice/],
		['a bare &', '<opsa-mef>\n<label>a & b</label></opsa-mef>', /line 2: .*written &amp;/],
		['no UTF-8', '<opsa-mef><label>\uFFFD</label></opsa-mef>', /not UTF-8/],
		['a control character', '<opsa-mef>\u0001</opsa-mef>', /control character/],
		['a forbidden reference', '<opsa-mef><label>&#1;</label></opsa-mef>', /malformed|entity/],
		['an unknown element', tree('<define-widget name="w"/>'), /line 1: <define-widget> is not known here/],
		['an unknown formula', tree(gate('G', '<perhaps/>')), /<perhaps> is not a formula/],
		['a substitution', '<opsa-mef><define-substitution name="s"/></opsa-mef>', /changes what the gates mean/],
		['an undefined event', tree(gate('G', '<event name="gone"/>')), /names 'gone', which is not defined/],
		[
			'an event called a gate',
			tree(gate('G', '<gate name="e"/>') + basic('e', '')),
			/'e', which is a basic-event/
		],
		[
			'two of a name',
			tree(gate('G', '<event name="G2"/>') + gate('G', '<event name="G"/>')),
			/'G' was defined in line 1/
		],
		['a gate without a formula', tree(gate('G', '')), /'G' has 0 formulas/],
		['no name', tree('<define-gate><or/></define-gate>'), /<define-gate> has no name/],
		['a name with a point', tree(gate('a.b', '<or/>')), /one word without a point/],
		['a role', tree('<define-gate name="G" role="secret"><or/></define-gate>'), /role="secret"/],
		['an empty or', tree(gate('G', '<or/>')), /<or> has 0 inputs/],
		[
			'a threefold imply',
			tree(gate('G', '<imply><event name="G"/></imply>')),
			/<imply> has 1 inputs; it takes 2/
		],
		[
			'3 of 2',
			tree(
				gate('G', '<atleast min="3"><event name="e"/><event name="f"/></atleast>') +
					basic('e', '') +
					basic('f', '')
			),
			/min="3"; with 2 inputs it is 1 to 2/
		]
	])('%s', (_, xml, problem) => {
		expect(refusal(xml)).toMatch(problem);
	});
	it('a circle is shown', () => {
		const xml = tree(
			gate('A', '<or><gate name="B"/><event name="e"/></or>') +
				gate('B', '<and><gate name="A"/><event name="e"/></and>') +
				basic('e', '<float value="0.1"/>')
		);
		expect(() => read(xml, { top: 'A' })).toThrow('the tree runs in a circle: A → B → A');
	});
	it('many faults are told at once, but not thousands', () => {
		const problems = readOpenPsa(tree('<define-widget/>'.repeat(5000)));
		expect(problems.ok ? [] : problems.problems).toHaveLength(13);
		expect(problems).toMatchObject({ problems: expect.arrayContaining(['and 4988 more']) as unknown });
	});
	it.each<[string, string]>([
		[
			'one that doubles',
			'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]><opsa-mef><label>&b;</label></opsa-mef>'
		],
		[
			'one from a file',
			'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]><opsa-mef><label>&a;</label></opsa-mef>'
		],
		['one for parameters', '<!DOCTYPE x [<!ENTITY % a SYSTEM "http://127.0.0.1/x"> %a;]><opsa-mef/>']
	])('entities of its own: %s', (_, xml) => {
		expect(refusal(xml)).toMatch(/document type declares things of its own/);
	});
	it('a named document type is passed over, an entity that nobody declared is refused', () => {
		expect(refusal(`<!DOCTYPE opsa-mef SYSTEM "nowhere.dtd">${good}`)).toBe('');
		expect(refusal('<opsa-mef><label>&boom;</label></opsa-mef>')).toMatch(
			/line 1: an entity stands here that is not known/
		);
	});
	it('too deep, too many, too long', () => {
		const deep = '<not>'.repeat(100_000);
		expect(refusal(tree(gate('G', deep)))).toMatch(/more than 200 deep/);
		expect(refusal(`<opsa-mef>${'<a/>'.repeat(MOST.elements)}</opsa-mef>`)).toMatch(
			/more than the 500000 elements/
		);
		expect(refusal(' '.repeat(MOST.characters + 1))).toMatch(/longer than the 20 million characters/);
		const chained = Array.from(
			{ length: 5000 },
			(_, i) => `<define-parameter name="P${i}"><parameter name="P${i + 1}"/></define-parameter>`
		);
		expect(
			refusal(tree(gate('G', '<event name="e"/>') + basic('e', '<parameter name="P0"/>'), chained.join('')))
		).toMatch(/parameters are computed from one another more than 200 deep/);
	});
	it('whatever is cut away from a file, the answer is words', () => {
		for (let at = 0; at < good.length - 1; at++) expect(refusal(good.slice(0, at))).not.toBe('');
	});
	it('whatever stands in a file, the answer is words', () => {
		const piece = fc.constantFrom(
			'<',
			'>',
			'/',
			'&',
			'"',
			"'",
			'<![CDATA[',
			']]>',
			'<!--',
			'-->',
			'<?',
			'?>',
			'<opsa-mef>',
			'</opsa-mef>',
			'<define-gate name="G">',
			'a',
			' ',
			'=',
			'&lt;'
		);
		fc.assert(
			fc.property(fc.array(piece, { maxLength: 30 }), (pieces) => {
				const result = readOpenPsa(`<opsa-mef>${pieces.join('')}`);
				expect(result.ok || result.problems.length > 0).toBe(true);
			}),
			{ numRuns: 2000 }
		);
	});
});
