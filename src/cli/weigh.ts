/**
 * `weigh <file.json | file.xml | ->`: weighs a tree from the command line, or writes it in the other format. Bundled by
 * the build, run with plain node.
 */
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { treesOf } from '$lib/investigation/weigh-file';
import type { Investigation } from '$lib/investigation/case';
import { leadingExplanations } from '$lib/investigation/views/explanations';
import { manyOutcomes, nextLooks } from '$lib/investigation/views/looks';
import {
	expectedInformation,
	importanceAndCutSets,
	information,
	parseTree,
	readOpenPsa,
	weigh,
	writeOpenPsa,
	type TreeModel,
	alikeFindings,
	doubleCounts,
	nearContradiction,
	robustness,
	withFlatWeights
} from '$lib/reasoning';

export interface Outcome {
	exitCode: number;
	stdout: string;
	stderr: string;
}

/** Cut sets written out; all are counted. */
const LISTED_CUT_SETS = 1000;

const USAGE =
	'weigh [--top NAME] [--mission-time HOURS] [--write-open-psa | --write-tree] <file.json | file.xml | ->';

interface Asked {
	file: string;
	top: string | undefined;
	missionTime: number | undefined;
	write: 'open-psa' | 'tree' | undefined;
}

/** What the arguments ask for, or what is wrong with them. */
function asked(argv: readonly string[]): Asked | string {
	let parsed;
	try {
		parsed = parseArgs({
			args: [...argv],
			allowPositionals: true,
			options: {
				top: { type: 'string' },
				'mission-time': { type: 'string' },
				'write-open-psa': { type: 'boolean' },
				'write-tree': { type: 'boolean' }
			}
		});
	} catch (error) {
		return `${(error as Error).message}; ${USAGE}`;
	}
	const { positionals, values } = parsed;
	const [file, ...rest] = positionals;
	if (file === undefined || rest.length > 0) return `give one file, or - for standard input: ${USAGE}`;
	const missionTime = values['mission-time'] === undefined ? undefined : Number(values['mission-time']);
	if (missionTime !== undefined && !(missionTime >= 0 && Number.isFinite(missionTime)))
		return `--mission-time is a number, 0 or more, not ${values['mission-time']}`;
	if (values['write-open-psa'] && values['write-tree']) return 'a file is written in one format at a time';
	const write = values['write-open-psa'] ? 'open-psa' : values['write-tree'] ? 'tree' : undefined;
	return { file, top: values.top, missionTime, write };
}

/**
 * @param argv   arguments after the program's name
 * @param read   content of a file, or of standard input for '-'
 */
export function main(argv: readonly string[], read: (file: string) => string): Outcome {
	const request = asked(argv);
	if (typeof request === 'string') return refuse(request);
	const { file, top, write } = request;
	let text: string;
	try {
		text = read(file);
	} catch (error) {
		return refuse(`can't read ${file}: ${(error as Error).message}`);
	}
	const name = file === '-' ? 'the input' : file;
	if (/^\uFEFF?\s*</.test(text)) return fromOpenPsa(text, request);
	let input: unknown;
	try {
		input = JSON.parse(text.replace(/^\uFEFF/, ''));
	} catch (error) {
		const xml = /\.xml$/i.test(file) ? `${name} is not XML, which begins with '<', and ` : `${name} is `;
		return refuse(`${xml}not JSON: ${(error as Error).message}`);
	}
	const kind = kindOf(input);
	if (kind === 'investigation') return ofInvestigation(input, write);
	if (kind !== 'tree') return refuse(`"kind" must be "tree" or "investigation", not ${JSON.stringify(kind)}`);
	const parsed = parseTree(top === undefined ? input : { ...(input as object), top });
	return parsed.ok ? outcome(parsed.model, [], write) : refuse(parsed.problems.join('; '));
}

function fromOpenPsa(text: string, { top, missionTime, write }: Asked): Outcome {
	const result = readOpenPsa(text, { top, missionTime });
	if (!result.ok) return refuse(result.problems.join('; '));
	const parsed = parseTree(result.model);
	if (parsed.ok) return outcome(parsed.model, result.warnings, write);
	const open = result.model.top === undefined && result.tops.length > 1;
	return refuse(
		open
			? `several gates feed nothing: name one with --top ${result.tops.join(' | --top ')}`
			: parsed.problems.join('; ')
	);
}

/** @param warnings  of what was read */
function outcome(model: TreeModel, warnings: readonly string[], write: Asked['write']): Outcome {
	if (write === undefined) {
		const weighed = weighTree(model);
		return answer({ ...weighed, warnings: [...warnings, ...weighed.warnings] });
	}
	const { xml, leftOut } = writeOpenPsa(model);
	const told = write === 'open-psa' && leftOut.length > 0 ? [`not written: ${leftOut.join(', ')}`] : [];
	return {
		exitCode: 0,
		stdout: write === 'tree' ? `${JSON.stringify({ kind: 'tree', ...model }, null, '\t')}\n` : xml,
		stderr: [...warnings, ...told].map((warning) => `weigh: ${warning}\n`).join('')
	};
}

/** A file that says no kind but lists events can only be a tree. */
function kindOf(input: unknown): unknown {
	if (typeof input !== 'object' || input === null) return undefined;
	return 'kind' in input ? input.kind : 'events' in input ? 'tree' : undefined;
}

function ofInvestigation(input: unknown, write: Asked['write']): Outcome {
	const result = treesOf(input);
	if (!result.ok) return refuse(result.problems.join('; '));
	const [only, ...more] = result.trees;
	if (write !== undefined)
		return only && more.length === 0
			? outcome(only.model, [], write)
			: refuse(`the investigation holds ${result.trees.length} trees; save the one you mean from its page`);
	return answer({
		kind: 'investigation',
		anomalies: result.trees.map(({ anomaly, title, model }) => {
			const weighed = weighTree(model);
			return { anomaly, title, ...weighed, next: lookedAtNext(result.file, anomaly, model, weighed) };
		})
	});
}

/** The weighing as plain data, numbers that don't exist as null. */
function weighTree(model: TreeModel) {
	const { compiled, ...weighing } = weigh(model);
	const robust = robustness(model, { reuse: compiled });
	const near = nearContradiction(model, { reuse: compiled });
	const flat = weigh(withFlatWeights(model), { contributions: false, reuse: compiled });
	const told = information(model, { reuse: compiled });
	const explained = leadingExplanations(model, { reuse: compiled });
	const { importance, cutSets } = importanceAndCutSets(model, { list: LISTED_CUT_SETS });
	return {
		kind: 'weighing',
		formatVersion: 1,
		...weighing,
		nearContradiction: near.ok ? near.near : null,
		robustness: robust.ok ? plain(robust) : null,
		equalStarts: Object.fromEntries(Object.entries(flat.events).map(([id, { givenAll }]) => [id, givenAll])),
		counted: doubleCounts(model),
		alike: alikeFindings(model),
		information: told.ok ? plain(told) : null,
		explanations: explained.ok ? plain(explained) : null,
		importance: importance.ok ? plain(importance) : null,
		minimalCutSets: cutSets.ok ? cutSets.list : null,
		minimalCutSetCount: cutSets.ok ? cutSets.count : null
	};
}

/** The list of what to look at next, as the page has it. */
function lookedAtNext(
	file: Investigation,
	anomaly: string,
	model: TreeModel,
	{ information: told }: ReturnType<typeof weighTree>
) {
	const looks = told ? expectedInformation(model, told.about, manyOutcomes(file, anomaly)) : [];
	return nextLooks(file, anomaly, told?.observations ?? [], looks);
}

/** That it succeeded is said by its being there. */
const plain = <T extends { ok: true }>({ ok: _, ...rest }: T) => rest;

function answer(value: unknown): Outcome {
	return { exitCode: 0, stdout: `${JSON.stringify(value, null, '\t')}\n`, stderr: '' };
}

/** One line that says what is wrong. */
function refuse(problem: string): Outcome {
	return { exitCode: 2, stdout: '', stderr: `weigh: ${problem.replace(/\s+/g, ' ')}\n` };
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
	const { exitCode, stdout, stderr } = main(process.argv.slice(2), (file) =>
		readFileSync(file === '-' ? 0 : file, 'utf8')
	);
	process.stderr.write(stderr);
	process.stdout.write(stdout);
	process.exitCode = exitCode;
}
