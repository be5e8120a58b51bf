import { describe, expect, it } from 'vitest';
import { moveWords } from '$lib/investigation/views/firm';
import { emptyInvestigation } from '$lib/investigation/case';
import { toTreeModel, withResidualLinks } from '$lib/investigation/views/tree-model';
import { percent } from '$lib/quantity/percent';
import { weigh } from '$lib/reasoning';
import { compose } from '$lib/report/compose';
import { buildReport } from '$lib/report/report';
import { insert, literal, quote } from '$lib/report/text';
import { safeHtml } from '$lib/server/markdown';
import { ALL, heron, heronReport, NOTHING } from './heron';

const html = (input = heronReport(ALL), inserts: Record<string, string> = {}) =>
	compose(safeHtml(buildReport(input).markdown), inserts);
const ids = (page: string) => [...page.matchAll(/\bid="([^"]+)"/g)].map((m) => m[1]!);
const between = (text: string, from: string, to: string) => text.slice(text.indexOf(from), text.indexOf(to));

describe('order and content', () => {
	it('follows the recognised order', () => {
		const titles = [...html().matchAll(/<h2><span[^>]*><\/span>([^<]*)<\/h2>/g)].map((m) => m[1]);
		expect(titles).toEqual([
			'1 Factual information',
			'2 Analysis',
			'3 Conclusions',
			'4 Changes',
			'Appendix A Evidence',
			'Appendix B Calculations',
			'Appendix C Glossary',
			'Appendix D Sources',
			'Appendix E How this report came about'
		]);
	});

	it('keeps part 1 free of opinion', () => {
		const facts = between(buildReport(heronReport(ALL)).markdown, '1 Factual information\n', '2 Analysis\n');
		expect(facts).toContain('two pieces, 2\\.1 m apart');
		for (const opinion of [
			'OPINION',
			'lifted before the photo',
			'Probable cause',
			'likely cause',
			'ruled out'
		])
			expect(facts).not.toContain(opinion);
	});

	it('says of each anomaly what was concluded, how sure, what speaks against it and what would reopen it', () => {
		const part = between(html(), '3 Conclusions</h2>', '4 Changes</h2>');
		for (const words of [
			'Probable cause.',
			'How good the basis is: <strong>moderate</strong>',
			'nobody measured the opening load',
			'a joint of this batch that holds 2 kN',
			'Proximate cause'
		])
			expect(part).toContain(words);
	});

	it('lists a rejected change apart from those that follow', () => {
		const file = heron();
		const rejected = { ...file.changes['ch1']!, number: 2, title: 'Two fillets', state: 'rejected' as const };
		const part = (changes: typeof file.changes) =>
			between(html(heronReport(ALL, { file: { ...file, changes } })), '3 Conclusions</h2>', '4 Changes</h2>');
		const both = part({ ...file.changes, ch2: rejected });
		expect(both).toMatch(/Changes: <a[^>]*>C1<\/a> Fillet on both sides\.<\/p>/);
		expect(both).toMatch(/Considered and rejected: <a[^>]*>C2<\/a> Two fillets\./);
		expect(part({ ch2: rejected })).toContain('No change has been raised');
	});

	it('prints the three numbers of each event as the engine gives them', () => {
		const input = heronReport(ALL);
		const weighing = weigh(withResidualLinks(toTreeModel(heron(), 'a1')).model);
		const row = buildReport(input)
			.markdown.split('\n')
			.find((line) => line.includes('event-glue') && line.includes('basic event'))!;
		const { prior, givenTop, givenAll } = weighing.events['glue']!;
		expect(row).toContain(`| ${percent(prior)}, guess | ${percent(givenTop)} | ${percent(givenAll)} |`);
		expect(prior).toBe(0.1);
		expect(givenAll!).toBeGreaterThan(givenTop!);
	});

	it('prints a calculation with inputs and their origin, interval, limits and sources', () => {
		const part = between(html(), 'Appendix B Calculations</h2>', 'Appendix C Glossary</h2>');
		expect(part).toContain('31\u202Fm to 77\u202Fm');
		expect(part).toContain('48.0\u202Fm');
		expect(part).toContain('falls like a canopy');
		expect(part).toMatch(/300\u202Fm<\/td><td[^>]*><a href="#e1"[^>]*>E1<\/a>, revision 12/);
		expect(html()).toContain('A Source of the Trade, 1999 (from memory)');
	});

	it('says of a planned calculation that nothing is measured, and prints no density', () => {
		const file = heron();
		const run = file.calculations['c1']!;
		const words = 'Parted in the air: it would lie 9 m to 40 m away in 90 of 100 falls.';
		const scenario = { id: 'air', label: 'Parted in the air', density: 1, standardError: 0, words };
		const result = { ...(run.result as object), likelihoods: [scenario] };
		const c1 = { ...run, planned: true, likelihood: null, result };
		const page = html(heronReport(ALL, { file: { ...file, calculations: { c1 } } }));
		const part = between(page, 'Appendix B Calculations</h2>', 'Appendix C Glossary</h2>');
		expect(part).toContain('Planned, nothing measured yet:');
		expect(part).toContain(words);
		expect(part).not.toContain('Density of what was observed');
	});

	it('says what nobody has thought of, which combinations suffice, and how the answer hangs on the start', () => {
		const page = html();
		const { weighing } = heronReport(ALL).weighed['a1']!;
		expect(page).toContain(
			`is held at ${percent(weighing.events['else']!.givenAll)}, from a starting weight of 2\u202f%`
		);
		const part = between(page, 'minimal cut sets', '3 Conclusions</h2>');
		expect(part.match(/href="#event-(glue|charge|else)"/g)!.length).toBeGreaterThanOrEqual(3);
		const { robust, flat } = heronReport(ALL).weighed['a1']!.firm;
		// Ten times the start of what nobody has thought of puts that first: it is a candidate like any other.
		expect(robust!.survives.leader).toBe(false);
		const change = between(page, 'What would change the answer', '4 Changes</h2>');
		expect(change).toContain(`leads at ${percent(robust!.leaderAt)}, but not whatever one assumes`);
		const [first] = robust!.assumptions;
		expect(change).toContain(moveWords(first!, first!.overturns!));
		expect(change).toContain(`would lead too, at ${percent(flat!.leaderAt)}`);
	});

	it('says that a conclusion is to be looked at again, and from what to what its numbers moved', () => {
		const file = heron();
		const concluded = { ...file.conclusions['a1']!, stood: { glue: 0.02 } };
		const input = heronReport(ALL, { file: { ...file, conclusions: { a1: concluded } } });
		const now = input.weighed['a1']!.weighing.events['glue']!.givenAll!;
		const page = html(input);
		expect(page).toContain('</strong>, to be looked at again');
		expect(page).toContain(`2\u202f% → ${Math.round(100 * now)}\u202f%`);
	});

	it('says where a calculation that weighs no longer follows the case: analysis, conclusion and the run itself', () => {
		const file = heron();
		const [[id, run]] = Object.entries(file.calculations) as [[string, (typeof file.calculations)[string]]];
		const likelihood = {
			use: true,
			scenarios: ['glue', null].map((event) => ({
				event,
				scenario: event ?? 'none-of-these',
				density: 1,
				standardError: 0.1,
				words: ''
			}))
		};
		const mass = { input: 'mass', collection: 'evidence', id: 'e1', rev: 12, value: 'mass', text: '212 g' };
		const page = (sources: (typeof mass)[]) =>
			html(heronReport(ALL, { file: { ...file, calculations: { [id]: { ...run, likelihood, sources } } } }));
		const stale = page([mass]);
		expect(stale.match(/K1 weighs here by values that have changed since\./g)).toHaveLength(2);
		expect(stale).toMatch(/Not up to date\.<\/strong> .*it was 212 g and is 3\.1.kg now\./);
		expect(page([{ ...mass, text: '3.1\u202fkg' }])).not.toMatch(/have changed since|Not up to date/);
	});

	it('says what is left open', () => {
		const part = between(html(), 'What is left open</h3>', '4 Changes</h2>');
		expect(part).toContain('second charge in the forward bay: not recovered.');
		expect(part).toContain('1 part missing.');
		expect(part).toContain('1 branch of the trees open.');
		expect(part).toContain('1 change not closed.');
	});

	it('an empty case gives a report that says what is missing', () => {
		const input = heronReport(ALL, { file: emptyInvestigation(), weighed: {}, pictures: [] });
		const page = html({ ...input, figures: { plan: false, trees: [], calculations: [] } });
		for (const words of ['No parts list', 'No evidence', 'No anomaly', 'No change has been raised'])
			expect(page).toContain(words);
	});
});

describe('every number leads to its record', () => {
	it('no link in the document leads nowhere, and no name is given twice', () => {
		const page = html();
		const names = ids(page);
		const dead = [...page.matchAll(/href="#([^"]+)"/g)]
			.map((m) => m[1]!)
			.filter((name) => !names.includes(name));
		expect(dead).toEqual([]);
		expect(names.length).toBe(new Set(names).size);
		for (const name of ['e1', 'e4', 'f1', 'k1', 'c1', 'o1', 'a1', 'event-glue'])
			expect(names).toContain(name);
	});

	it('beside the rooms it links to them, alone it does not', () => {
		expect(html(heronReport(ALL, { base: '/investigations/heron' }))).toContain(
			'href="/investigations/heron/evidence/e2"'
		);
		expect(html()).not.toContain('/investigations/');
	});
});

describe('what people typed can’t change the document', () => {
	it('a heading, a fence and markup in a note stay in the note', () => {
		const page = html();
		expect(page).not.toContain('<script');
		expect(page).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
		expect(page).not.toMatch(/<h\d>[^<]*Not a heading/);
		expect(page).toContain('Appendix E How this report came about</h2>');
	});

	it('a bar in a title does not break the table', () => {
		const row = html()
			.split('<tr>')
			.find((line) => line.includes('beside the pad') && line.includes('statement'))!;
		expect(row.match(/<td/g)).toHaveLength(7);
	});

	it('a line shows exactly what was typed, whatever it is', () => {
		for (const typed of [
			'*a* _b_ `c` [d](http://e) ![f](g)',
			'1. one',
			'# one',
			'<b>',
			'&lt;',
			'~~x~~ | y',
			'www.a.example',
			'http://a.example',
			'a@b.example',
			'\\*'
		])
			expect(safeHtml(literal(typed))).toBe(
				`<p>${typed.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;')}</p>\n`
			);
	});

	it('nobody can forge a place for a figure', () => {
		const forged = insert('figure:plan');
		const page = compose(safeHtml(`${literal(forged)}\n\n${quote(forged)}`), {
			'figure:plan': '<svg></svg>'
		});
		expect(page).not.toContain('<svg');
	});
});

describe('figures and pictures', () => {
	it('stand where the report wants them, and are left out where there is none', () => {
		const svg = '<svg role="img"></svg>';
		const page = html(heronReport(ALL), { 'figure:plan': svg, 'picture:f1': '<img alt="x">' });
		expect(page).toContain(svg);
		expect(page).toContain('<img alt="x">');
		expect(html()).not.toMatch(/[\uE000-\uF8FF]/);
	});
});

it('without ticks the report says what it leaves out', () => {
	expect(html(heronReport(NOTHING))).toContain('Names are left out');
	expect(html(heronReport(NOTHING))).toContain('Positions are left out');
});
