/** `weigh <file.json | ->`: weighs a tree from the command line. Bundled by the build, run with plain node. */
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { treesOf } from '$lib/investigation/weigh-file';
import { minimalCutSets, parseTree, weigh, type TreeModel } from '$lib/reasoning';

export interface Outcome {
	exitCode: number;
	stdout: string;
	stderr: string;
}

/** Cut sets written out; all are counted. */
const LISTED_CUT_SETS = 1000;

/**
 * @param argv   arguments after the program's name
 * @param read   content of a file, or of standard input for '-'
 */
export function main(argv: readonly string[], read: (file: string) => string): Outcome {
	const [file, ...rest] = argv;
	if (file === undefined || rest.length > 0)
		return refuse('give one file, or - for standard input: weigh <file.json | ->');
	let text: string;
	try {
		text = read(file);
	} catch (error) {
		return refuse(`can't read ${file}: ${(error as Error).message}`);
	}
	let input: unknown;
	try {
		input = JSON.parse(text);
	} catch (error) {
		return refuse(`${file === '-' ? 'the input' : file} is not JSON: ${(error as Error).message}`);
	}
	const kind = kindOf(input);
	if (kind === 'investigation') return weighInvestigation(input);
	if (kind !== 'tree') return refuse(`"kind" must be "tree" or "investigation", not ${JSON.stringify(kind)}`);
	const parsed = parseTree(input);
	return parsed.ok ? answer(weighTree(parsed.model)) : refuse(parsed.problems.join('; '));
}

/** A file that says no kind but lists events can only be a tree. */
function kindOf(input: unknown): unknown {
	if (typeof input !== 'object' || input === null) return undefined;
	return 'kind' in input ? input.kind : 'events' in input ? 'tree' : undefined;
}

function weighInvestigation(input: unknown): Outcome {
	const result = treesOf(input);
	if (!result.ok) return refuse(result.problems.join('; '));
	return answer({
		kind: 'investigation',
		anomalies: result.trees.map(({ anomaly, title, model }) => ({ anomaly, title, ...weighTree(model) }))
	});
}

/** The weighing as plain data, numbers that don't exist as null. */
function weighTree(model: TreeModel) {
	const { compiled: _, ...weighing } = weigh(model);
	const cutSets = minimalCutSets(model, { list: LISTED_CUT_SETS });
	return {
		kind: 'weighing',
		formatVersion: 1,
		...weighing,
		minimalCutSets: cutSets.ok ? cutSets.list : null,
		minimalCutSetCount: cutSets.ok ? cutSets.count : null
	};
}

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
