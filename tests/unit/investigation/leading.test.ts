import { beforeEach, describe, expect, it } from 'vitest';
import { certainNumber, certainSentence } from '$lib/investigation/views/certain';
import {
	clashSentence,
	firmness,
	firmSentences,
	flatSentence,
	startSentence
} from '$lib/investigation/views/firm';
import { leadingSentences, leadOf, nothingCarried } from '$lib/investigation/views/leading';
import { toTreeModel, withResidualLinks } from '$lib/investigation/views/tree-model';
import { percent } from '$lib/quantity/percent';
import { weigh } from '$lib/reasoning';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
let residual: string;
beforeEach(() => {
	c = new Case();
	top = c.state();
	residual = c.inputs(top).at(-1)!;
});
const name = (id: string) => `“${c.event(id).title}”`;
/** As page and report have it: the lead, and the words on what would change it. */
function told() {
	const asked = toTreeModel(c.file, 'a1');
	const { model } = withResidualLinks(asked);
	const lead = leadOf(c.file.events, weigh(model).events)!;
	const { robust, flat, clash } = firmness(asked, model, undefined);
	return {
		lead,
		robust: robust!,
		clash,
		firm: firmSentences(robust!, lead, name)[0]!,
		flat: flatSentence(flat!, lead, name)
	};
}

describe('who leads', () => {
	it('is what nobody has thought of where it stands highest, in every sentence that says who leads', () => {
		for (const id of ['knot', 'cloth']) {
			c.add(id, top);
			c.do('event.weigh', { event: id, weight: 0.02 });
		}
		c.do('event.weigh', { event: residual, weight: 0.4 });
		const { lead, firm } = told();
		expect(lead.first.id).toBe(residual);
		const [first, second] = leadingSentences(lead);
		expect(first).toContain(`${name(residual)} leads; given everything`);
		expect(second).toMatch(
			/^No named cause is carried .* the highest of them, “(knot|cloth) lets go”, stands at/
		);
		expect(firm).toContain(`${name(residual)} leads at ${percent(lead.first.now)}`);
	});
	it('is a named cause where one stands highest, and then nothing is said to be uncarried', () => {
		for (const [id, weight] of [
			['knot', 0.3],
			['cloth', 0.05]
		] as const) {
			c.add(id, top);
			c.do('event.weigh', { event: id, weight });
		}
		const { lead, firm } = told();
		expect(lead.level.map(({ id }) => id)).toEqual(['knot']);
		expect(nothingCarried(lead)).toBe('');
		expect(firm).toContain(`${name('knot')} leads at`);
	});
	it('is not said to be uncarried where a named cause, or a gate over such, is probable beside it', () => {
		for (const id of ['knot', 'cloth', 'seam']) c.add(id, top);
		const { knot, cloth, seam } = c.file.events as Record<string, (typeof c.file.events)[string]>;
		const events = { r: c.event(residual), knot: knot!, cloth: cloth!, seam: seam! };
		const at = (givenAll: number) => ({ givenAll, givenTop: 0.1 });
		const carried = (named: number, over: number) =>
			nothingCarried(
				leadOf(
					{
						...events,
						over: {
							...c.event(top),
							gate: { ...c.event(top).gate!, inputs: ['cloth', 'seam'] }
						}
					},
					{ r: at(0.97), knot: at(named), cloth: at(0.3), seam: at(0.3), over: at(over) }
				)!
			) === '';
		expect([carried(0.94, 0.4), carried(0.4, 0.6), carried(0.4, 0.4)]).toEqual([true, true, false]);
	});
	it('of causes that stand level nobody: within a factor of 1.05 on the odds they are not told apart', () => {
		for (const id of ['a', 'b', 'c', 'd']) {
			c.add(id, top);
			c.do('event.weigh', { event: id, weight: 0.1 });
		}
		c.do('event.weigh', { event: residual, weight: 0.02 });
		const { lead, firm, flat, robust } = told();
		expect(lead.level.map(({ id }) => id)).toEqual(['a', 'b', 'c', 'd']);
		const sentences = leadingSentences(lead);
		expect(sentences[0]).toContain(
			'“a lets go”, “b lets go”, “c lets go” and “d lets go” can’t be told apart'
		);
		expect(firm).toContain('can’t be told apart, at');
		for (const sentence of [...sentences, firm])
			expect(sentence).not.toMatch(/\bleads (at|;)|not far behind/);
		expect(flat).toContain('could not be told apart');
		const swept = robust.assumptions.find(({ kind, id }) => kind === 'weight' && id === 'a')!;
		expect(startSentence(swept, 'a', lead, name)).toMatch(
			/^If its start were ten times lower it would stand at 4\u202f%, below those that it can’t be told apart from now\.$/
		);
		// Odds of 1 to 4 against 0.21 to 0.79, hand-worked: a factor of 1.063.
		const stands = (p: number) => ({
			a: { givenAll: 0.2, givenTop: 0.2 },
			b: { givenAll: p, givenTop: 0.2 }
		});
		const { a, b } = c.file.events as Record<'a' | 'b', (typeof c.file.events)[string]>;
		expect(leadOf({ a, b }, stands(0.21))!.level).toHaveLength(1);
		expect(leadOf({ a, b }, stands(0.207))!.level).toHaveLength(2);
	});
});

describe('signs that only what nobody has thought of allows together', () => {
	it('are named, the fewest that clash', () => {
		for (const id of ['knot', 'cloth']) {
			c.add(id, top);
			c.do('event.weigh', { event: id, weight: 0.2 });
		}
		c.find('glazed', { knot: 0.8 }, { state: 'present', baseRate: 0 });
		c.find('bare', { knot: 1 }, { state: 'present', baseRate: 0 });
		c.find('torn', { cloth: 0.8 }, { state: 'present' });
		expect(told().clash).toBeNull();
		c.do('finding.change', { id: 'bare', record: { state: 'absent' } });
		const { clash } = told();
		expect(clash).toMatchObject({ clash: ['glazed', 'bare'], fewest: true });
		expect(clashSentence(clash!, c.file.findings, (id) => id)).toContain(
			'can’t leave together glazed present and bare absent:'
		);
	});
});

describe('a starting weight of 0 or 100 %', () => {
	it('is named as what no evidence can move, for a contradiction may come from it', () => {
		c.add('knot', top);
		c.do('event.weigh', { event: 'knot', weight: 0.1 });
		expect(certainSentence(c.file, 'a1')).toBe('');
		c.do('event.weigh', { event: 'knot', weight: 0 });
		expect(certainSentence(c.file, 'a1')).toContain('such is that of “knot lets go” (0 %)');
	});
	it('is warned of beside the field, as are base rates, links and shares', () => {
		for (const kind of ['weight', 'baseRate', 'link', 'shared'] as const) {
			expect(certainNumber(kind, 0)).toMatch(/^0 % /);
			expect(certainNumber(kind, 1)).toMatch(/^100 % /);
			expect([0.5, 0.001, 0.999, null].map((p) => certainNumber(kind, p)).join('')).toBe('');
		}
	});
});
