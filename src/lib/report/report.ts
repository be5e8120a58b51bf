import { anomalyAnalysis, method, trust } from './analysis';
import { audit, calculations, evidenceInFull, glossary, leftOut, sources } from './appendices';
import { changes } from './changes';
import { anomalyConclusion, leftOpen, observations, synopsis } from './conclusions';
import { byNumber, Context, localMoment, type ReportInput, utcMoment } from './context';
import { failureModes } from './fault';
import { factualInformation } from './facts';
import { anchor, blocks, facts, list, literal } from './text';

interface Section {
	title: string;
	/** Name that links use; numbered parts get one by their place. */
	name?: string;
	body: string;
}
interface Part {
	title: string;
	sections: Section[];
}

/** Title, and the whole investigation below it as Markdown, in the order of ICAO Annex 13: facts, analysis, conclusions, changes, appendices. */
export function buildReport(input: ReportInput): { title: string; markdown: string } {
	const c = new Context(input);
	const title = input.file.about['main']?.title ?? 'Investigation';
	const anomalies = byNumber(input.file.anomalies);
	const parts: Part[] = [
		{ title: '1 Factual information', sections: factualInformation(c) },
		{
			title: '2 Analysis',
			sections: [
				{ title: 'Method', body: method(c) },
				{ title: 'How far the evidence can be trusted', body: trust(c) },
				...anomalies.map(([id, anomaly]) => ({
					title: `A${anomaly.number} ${c.line(anomaly.title)}`,
					name: `a${anomaly.number}`,
					body: anomalyAnalysis(c, id, anomaly)
				})),
				{ title: 'Failure modes of the parts', body: failureModes(c) }
			]
		},
		{
			title: '3 Conclusions',
			sections: [
				...anomalies.map(([id, anomaly]) => ({
					title: `On A${anomaly.number}: ${c.line(anomaly.title)}`,
					body: anomalyConclusion(c, id)
				})),
				{ title: 'Observations', body: observations(c) },
				{ title: 'What is left open', body: leftOpen(c) }
			]
		},
		{ title: '4 Changes', sections: [{ title: '', body: changes(c) }] },
		{ title: 'Appendix A Evidence', sections: [{ title: '', body: evidenceInFull(c) }] },
		{ title: 'Appendix B Calculations', sections: [{ title: '', body: calculations(c) }] },
		{ title: 'Appendix C Glossary', sections: [{ title: '', body: glossary() }] },
		{ title: 'Appendix D Sources', sections: [{ title: '', body: sources(c) }] },
		{
			title: 'Appendix E How this report came about',
			sections: [
				{ title: 'Trail', body: audit(c) },
				{ title: 'What is left out', body: leftOut(c) }
			]
		}
	];
	return {
		title,
		markdown: blocks(head(c), synopsis(c), contents(parts), ...parts.map(part))
	};
}

function head(c: Context): string {
	const about = c.file.about['main'];
	const anomalies = Object.keys(c.file.anomalies);
	const concluded = anomalies.filter((id) => (c.file.conclusions[id]?.state ?? 'open') !== 'open').length;
	const whole = anomalies.length > 0 && concluded === anomalies.length;
	return facts([
		['Vehicle', c.line([about?.vehicleName, about?.buildName].filter(Boolean).join(', '))],
		['Flown', literal(localMoment(about?.flownAt ?? ''))],
		['Stands', whole ? 'concluded' : `**draft**: ${concluded} of ${anomalies.length} anomalies concluded`],
		['Report', `revision ${c.input.rev}, made ${literal(utcMoment(c.input.at))}`]
	]);
}

const numbered = (part: Part, i: number): string => /^\d/.exec(part.title)?.[0] + `.${i + 1}`;
const nameOf = (part: Part): string =>
	`part-${part.title
		.split(' ')
		.slice(0, part.title.startsWith('Appendix') ? 2 : 1)
		.join('-')
		.toLowerCase()}`;
const nameIn = (part: Part, i: number): string => `${nameOf(part)}-${i + 1}`;

function contents(parts: readonly Part[]): string {
	return list(
		parts.map((p) => {
			const inside = /^\d/.test(p.title) ? p.sections.filter(({ title }) => title !== '') : [];
			const entries = inside.map(
				(section, i) => `\t- [${numbered(p, i)} ${section.title}](#${nameIn(p, i)})`
			);
			return [`[${p.title}](#${nameOf(p)})`, ...entries].join('\n');
		})
	);
}

function part(p: Part): string {
	return blocks(
		`## ${anchor(nameOf(p))}${p.title}`,
		...p.sections.map((section, i) => {
			if (section.title === '') return section.body;
			const number = /^\d/.test(p.title) ? `${numbered(p, i)} ` : '';
			const own = section.name ? anchor(section.name) : '';
			return blocks(`### ${anchor(nameIn(p, i))}${own}${number}${section.title}`, section.body);
		})
	);
}
