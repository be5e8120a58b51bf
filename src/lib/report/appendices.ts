import { operationLabel } from '$lib/investigation/operations';
import type { Evidence } from '$lib/investigation/schema/evidence';
import { formatNumber } from '$lib/quantity/format';
import { waitsFor } from '$lib/investigation/views/evidence-list';
import { staleRuns } from '$lib/investigation/views/changed-sources';
import { readResult } from '$lib/investigation/schema/calculation-result';
import { typedProbability } from '$lib/quantity/percent';
import { byNumber, type Context, utcMoment } from './context';
import { fromPad, moment } from './facts';
import { predicted } from './predictions';
import { printedInputs, printedOutput } from './result';
import { anchor, blocks, count, facts, insert, list, literal, sentenceList, table } from './text';
import * as words from './words';

/** How it is known; of a test that was not made yet, how far it has come. */
const known = (c: Context, id: string, { basis, trust, trustReason }: Evidence): [string, string][] => {
	const waits = waitsFor(c.file, id);
	if (waits) return [['Stands', waits]];
	return [
		['Basis', basis ?? ''],
		['Trusted', [trust ?? '', c.line(trustReason)].filter(Boolean).join(': ')]
	];
};

/** Appendix A: every item of evidence in full, with its pictures and the hash of every file. */
export function evidenceInFull(c: Context): string {
	const items = byNumber(c.file.evidence);
	if (items.length === 0) return 'No evidence was recorded.';
	return blocks(
		...items.map(([id, item]) =>
			blocks(
				`### ${anchor(`e${item.number}`)}E${item.number} ${c.line(item.title)}`,
				c.room(`evidence/${id}`),
				item.withdrawn &&
					`**Withdrawn** (${[c.line(item.withdrawn.by), utcMoment(item.withdrawn.at)].filter(Boolean).join(', ')}): ${c.line(item.withdrawn.reason)}`,
				facts([
					['Kind', words.EVIDENCE_KIND[item.kind]],
					['By', c.line(item.by)],
					['When', moment(c, item.at)],
					['From the pad', fromPad(c, id)],
					['State', words.EVIDENCE_STATE[item.state]],
					...known(c, id, item),
					...ofKind(c, item),
					['Parts', sentenceList(item.parts.map((part) => c.line(c.file.parts[part]?.name ?? '')))],
					['Named by', namedBy(c, id)]
				]),
				c.block(item.description),
				...longTexts(c, id, item),
				...pictures(c, item)
			)
		)
	);
}

type Fact = readonly [string, string | null | undefined];

function ofKind(c: Context, item: Evidence): Fact[] {
	switch (item.kind) {
		case 'piece':
			return [
				['Mass', item.mass && c.quantity(item.mass)],
				['Mass over drag area as it fell', item.ballisticCoefficient && c.quantity(item.ballisticCoefficient)]
			];
		case 'photo':
			return [
				['Shows', c.line(item.subject)],
				['Found piece in it', item.shows && c.cite(item.shows)],
				['Seen from', c.line(item.view)],
				['For scale', c.line(item.scale)],
				[
					'Taken',
					{ beforeMoved: 'before it was moved', afterMoved: 'after it was moved', notKnown: '' }[item.moved]
				]
			];
		case 'reading':
			return [
				['Device', c.line(item.device)],
				...item.values.map(({ label, value }): Fact => [c.line(label), c.quantity(value)])
			];
		case 'measurement':
			return [
				['Measured', c.line(item.what)],
				['Value', c.quantity(item.value)],
				['With', c.line(item.instrument)]
			];
		case 'statement':
			return [
				['From', c.line(item.from)],
				['Before talking it over', item.beforeDiscussion === 'notKnown' ? '' : item.beforeDiscussion]
			];
		case 'test':
			return [
				['Test', words.TEST_KIND[item.testKind]],
				['Value', item.value && c.quantity(item.value)],
				['Can be repeated', item.reversible]
			];
		case 'absence':
			return [
				['Looked for', c.line(item.lookedFor)],
				['How thoroughly', words.SEARCH[item.howThoroughly]],
				['Would have been seen', item.detection === null ? '' : typedProbability(item.detection)]
			];
	}
}

/** Longer texts of its kind, each said what it is. */
function longTexts(c: Context, id: string, item: Evidence): string[] {
	const said = (what: string, text: string) => (text ? [what, c.block(text)] : []);
	switch (item.kind) {
		case 'piece':
			return said('Damage:', item.damage);
		case 'reading':
			return [...said('Tones:', item.tones), ...said('Display:', item.display)];
		case 'statement':
			return said('In their words:', item.words);
		case 'test':
			return [
				...said('Expected before it was done, not locked:', item.predicted),
				...said('Result:', item.result),
				predicted(c, id, item),
				...said('Why it was done although it cannot be undone:', item.purpose),
				...said('What cannot be examined any more after it:', item.makesImpossible)
			];
		default:
			return [];
	}
}

/** Findings, conclusions and changes that rest on the item. */
function namedBy(c: Context, id: string): string {
	const { findings, events, changes } = c.file;
	return [
		...byNumber(findings).flatMap(([finding, { evidence }]) =>
			evidence.includes(id) ? [c.cite(finding)] : []
		),
		...Object.entries(events).flatMap(([event, { disposition, title }]) =>
			disposition.cites.includes(id) ? [`[${c.line(title)}](#event-${event})`] : []
		),
		...byNumber(changes).flatMap(([, { steps, number }]) =>
			steps.some((step) => step.cites.includes(id)) ? [`[C${number}](#c${number})`] : []
		)
	].join(', ');
}

function pictures(c: Context, item: Evidence): string[] {
	return item.attachments.flatMap((id) => {
		const file = c.file.attachments[id];
		if (!file) return [];
		const size = `${formatNumber(file.bytes / 1000, 0)} kB`;
		return [
			c.input.pictures.includes(id) ? insert(`picture:${id}`) : '',
			`${c.line(file.name)}, ${file.type ? `${literal(file.type)}, ` : ''}${size}, SHA-256 \`${file.sha256}\``
		];
	});
}

/** Appendix B: every calculation with inputs and their origin, interval, limits and published sources. */
export function calculations(c: Context): string {
	const runs = byNumber(c.file.calculations);
	if (runs.length === 0) return 'No calculation was run.';
	const stale = staleRuns(c.file);
	return blocks(
		...runs.map(([id, run]) => {
			const result = readResult(run.result);
			return blocks(
				`### ${anchor(`k${run.number}`)}K${run.number} ${c.line(run.title)}`,
				run.anomaly && c.room(`anomalies/${run.anomaly}/calculations`),
				stale.has(id) && `**Not up to date.** ${c.line(stale.get(id)!.join(' '))}`,
				result
					? blocks(
							...result.statements.map(c.line),
							c.input.figures.calculations.includes(id) && insert(`figure:calculation:${id}`),
							Object.keys(result.outputs).length > 0 &&
								table(
									['Result', '>With the values as stated', '>Median', '>90 of 100 lie between'],
									Object.values(result.outputs)
										.map(printedOutput)
										.map((o) => [c.line(o.label), literal(o.nominal), literal(o.median), literal(o.interval)])
								),
							likelihood(c, run, result),
							inputs(c, run, result),
							list([...result.warnings, ...result.notes].map(c.line))
						)
					: 'Its stored result is of another version and can’t be printed here. Run it again.',
				c.block(run.note),
				`Calculation ${literal(run.calculation)}, version ${literal(run.version)}, ${count(run.samples, 'sample')}, seed ${run.seed}.`
			);
		})
	);
}

/** Inputs with where each came from, and at which revision; lists as tables of their own. */
function inputs(
	c: Context,
	{ calculation, sources: from }: Context['file']['calculations'][string],
	result: NonNullable<ReturnType<typeof readResult>>
): string {
	const { single, lists } = printedInputs(calculation, result.inputs);
	const origin = (path: string) => {
		const said = from
			.filter(({ input }) => input === path || input.startsWith(`${path}.`))
			.map(
				({ id, collection, rev }) =>
					`${c.file.evidence[id] ? c.cite(id) : c.file.calculations[id] ? `K${c.file.calculations[id].number}` : literal(collection)}, revision ${rev}`
			);
		return [...new Set(said)].join('; ');
	};
	return blocks(
		table(
			['Input', '>Value', 'From'],
			single.map(({ path, label, value }) => [c.line(label), literal(value), origin(path)])
		),
		...lists.map(({ path, label, head, rows }) =>
			blocks(
				`${c.line(label)}${origin(path) && ` (${origin(path)})`}:`,
				table(
					head.map(c.line),
					rows.map((row) => row.map(literal))
				)
			)
		)
	);
}

function likelihood(
	c: Context,
	{ likelihood: used, planned }: Context['file']['calculations'][string],
	result: NonNullable<ReturnType<typeof readResult>>
): string {
	if (planned)
		return blocks(
			'Planned, nothing measured yet:',
			list(result.likelihoods.map(({ words: said }) => c.line(said)))
		);
	if (!used) return list(result.likelihoods.map(({ words: said }) => c.line(said)));
	return blocks(
		used.use ? 'Used as evidence, first scenario that is true decides:' : 'Compared, not used as evidence:',
		table(
			['Scenario', 'Event', '>Density of what was observed', 'In words'],
			used.scenarios.map(({ event, scenario, density, standardError, words: said }) => [
				c.line(scenario),
				event ? `[${c.line(c.file.events[event]?.title ?? '')}](#event-${event})` : 'none of these',
				`${density.toPrecision(3)} ± ${standardError.toPrecision(1)}`,
				c.line(said)
			])
		)
	);
}

export const glossary = (): string =>
	table(
		['Term', 'Meaning'],
		words.GLOSSARY.map(([term, meaning]) => [`**${term}**`, meaning])
	);

/** Method as a whole, then what the calculations of this case name, each once. */
export function sources(c: Context): string {
	const own = byNumber(c.file.calculations).flatMap(([, run]) => readResult(run.result)?.sources ?? []);
	const named = own.map(({ text, basis }) => `${c.line(text)} (${c.line(basis)}).`);
	return list([...words.METHOD_SOURCES, ...new Set(named)]);
}

/** Who changed how much, day by day: the trail stands in the case, this says how long it is. */
export function audit(c: Context): string {
	const { history, rev } = c.input;
	const days = new Map<string, { changes: number; who: Set<string>; what: Map<string, number> }>();
	for (const { time, who, operation } of history) {
		const day = days.get(time.slice(0, 10)) ?? {
			changes: 0,
			who: new Set(),
			what: new Map<string, number>()
		};
		day.changes++;
		if (who) day.who.add(who);
		const label = operationLabel(operation);
		day.what.set(label, (day.what.get(label) ?? 0) + 1);
		days.set(time.slice(0, 10), day);
	}
	const first = history[0];
	const last = history.at(-1);
	return blocks(
		`This report was made from revision ${rev} of the case.${first && last ? ` ${count(history.length, 'change')} between ${utcMoment(first.time)} and ${utcMoment(last.time)}; each is kept in the case with who made it and what stood there before.` : ''}`,
		days.size > 0 &&
			table(
				['Day', '>Changes', 'By', 'Most of them'],
				[...days].map(([day, { changes, who, what }]) => [
					literal(day),
					String(changes),
					[...who].map(literal).join(', '),
					[...what]
						.sort(([, a], [, b]) => b - a)
						.slice(0, 3)
						.map(([label, n]) => `${literal(label)} (${n})`)
						.join(', ')
				])
			)
	);
}

/** What the report leaves out, so that nobody takes it for the whole. */
export function leftOut(c: Context): string {
	const { names, positions } = c.input.shown;
	return list([
		names
			? 'People stand by name.'
			: 'Names are left out: a person stands by role and keeps one designation throughout. Names that the case knows are replaced in free text too.',
		positions
			? 'Positions are given in full.'
			: 'Positions are left out: coordinates, the name of the site and notes on access. Distances and bearings from the pad stay, because the reasoning rests on them.',
		'Pictures are copies without the data that a camera writes into them (time, place, camera). What they show is for the reader of this file to judge before it is passed on.'
	]);
}
