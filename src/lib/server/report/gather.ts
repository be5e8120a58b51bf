import type { Investigation } from '$lib/investigation/case';
import { readResult } from '$lib/investigation/schema/calculation-result';
import { planOf } from '$lib/investigation/views/plan';
import { compose } from '$lib/report/compose';
import { discreet, type Shown } from '$lib/report/discretion';
import { drawFigure } from '$lib/report/figure-drawing';
import { drawPlan, wholeView } from '$lib/report/plan-drawing';
import { buildReport } from '$lib/report/report';
import { PRINTED, THEMED } from '$lib/report/palette';
import type { EventWeights } from '$lib/report/tree-drawing';
import { treeFigures } from '$lib/report/tree-sheets';
import { type Weighed, weighForReport } from '$lib/report/weighed';
import { openInvestigation } from '../cases';
import { showPicture } from '../files/receive';
import { safeHtml } from '../markdown';
import { openStore } from '../open-store';
import { no, ok, type Answer } from '../storage/types';

export interface Report {
	title: string;
	/** Everything below the title. */
	html: string;
	rev: number;
}

/** HTML of a picture's address, or null where it can't be shown. */
export type PictureAddress = (sha256: string) => Promise<string | null>;

export interface Setting {
	/** Beside the rooms, or in a file that stands alone. */
	base: string;
	addressOf: PictureAddress;
}

/** Makes the report of an investigation as it stands now. */
export async function makeReport(id: string, shown: Shown, { base, addressOf }: Setting): Answer<Report> {
	const opened = await openInvestigation(id);
	if (!opened.ok) return no(opened.refusal);
	const lines = await (await openStore()).history(`investigations/${id}`, 1, opened.rev);
	if (!lines.ok) return lines;
	const seen = discreet(opened.file, lines.value, shown);
	const weighed = weighForReport(seen.file);
	const figures = drawAll(seen.file, weighed, base !== '');
	const pictures = await picturesOf(seen.file, addressOf);
	const { title, markdown } = buildReport({
		...seen,
		shown,
		rev: opened.rev,
		at: new Date().toISOString(),
		weighed,
		figures: {
			plan: 'figure:plan' in figures,
			trees: Object.keys(seen.file.anomalies),
			calculations: Object.keys(seen.file.calculations).filter(
				(run) => `figure:calculation:${run}` in figures
			)
		},
		pictures: Object.keys(pictures),
		base
	});
	const inserts = {
		...figures,
		...Object.fromEntries(Object.entries(pictures).map(([file, html]) => [`picture:${file}`, html]))
	};
	return ok({ title, html: compose(safeHtml(markdown), inserts), rev: opened.rev });
}

function drawAll(
	file: Investigation,
	weighed: Record<string, Weighed>,
	themed: boolean
): Record<string, string> {
	const palette = themed ? THEMED : PRINTED;
	const figures: Record<string, string> = {};
	const drawn = planOf(file);
	if (drawn.ok && drawn.plan.items.length > 0) {
		const svg = drawPlan(drawn.plan, wholeView(drawn.plan, 900, 640), { palette });
		figures['figure:plan'] = figure(svg, 'The ground from above. North is up; distances are from the pad.');
	}
	for (const [anomaly, { number, title }] of Object.entries(file.anomalies)) {
		const weighing = weighed[anomaly]?.weighing;
		const weights: Record<string, EventWeights> = weighing ? { ...weighing.events, ...weighing.gates } : {};
		figures[`figure:tree:${anomaly}`] = figure(
			treeFigures(file, anomaly, weights, palette).join(''),
			`Fault tree of A${number}: ${title}. In each box: ring, given the top event; dot and figure, given all; tick, starting weight.`
		);
	}
	for (const [run, { result, number, title }] of Object.entries(file.calculations)) {
		const found = readResult(result)?.figure;
		if (found)
			figures[`figure:calculation:${run}`] = figure(
				drawFigure(found, { palette, id: `k${number}-figure` }),
				`K${number}: ${title}`
			);
	}
	return figures;
}

const escape = (text: string) => text.replace(/[&<>"']/g, (c) => `&#${c.codePointAt(0)};`);

/** The drawing can be moved with the keyboard where it is wider than the page. */
function figure(drawing: string, caption: string): string {
	const words = escape(caption);
	return `<figure><div class="drawn" role="group" tabindex="0" aria-label="${words}">${drawing}</div><figcaption>${words}</figcaption></figure>`;
}

/** Pictures of the items that count, each once; what can't be shown stays named with its hash. */
async function picturesOf(file: Investigation, addressOf: PictureAddress): Promise<Record<string, string>> {
	const pictures: Record<string, string> = {};
	for (const { attachments, number, title } of Object.values(file.evidence))
		for (const id of attachments) {
			const attachment = file.attachments[id];
			if (pictures[id] !== undefined || attachment?.kind !== 'photo') continue;
			const address = await addressOf(attachment.sha256);
			if (address === null) continue;
			const { width, height } = attachment;
			const size = width && height ? ` width="${width}" height="${height}"` : '';
			// Not loaded lazily: what was not scrolled to would be missing on paper.
			pictures[id] =
				`<img src="${escape(address)}" alt="${escape(`E${number} ${title}`)}"${size} decoding="async">`;
		}
	return pictures;
}

/** What the address asks to show; nothing that is not ticked. */
export const shownIn = ({ searchParams }: URL): Shown => ({
	names: searchParams.has('names'),
	positions: searchParams.has('positions')
});

/** Pictures for a file that stands alone: our own copies without EXIF, as data. */
export const embedPicture =
	(id: string): PictureAddress =>
	async (sha256) => {
		const copy = await showPicture(await openStore(), `investigations/${id}`, sha256, 'display');
		return copy.ok ? `data:image/jpeg;base64,${Buffer.from(copy.value).toString('base64')}` : null;
	};
