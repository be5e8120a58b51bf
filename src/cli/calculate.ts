/** `calculate list` and `calculate <id> <inputs.json | ->`. Bundled by the build, run with plain node. */
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import type { OutputSummary } from '$lib/calculations/calculation';
import { describe } from '$lib/calculations/describe';
import { CALCULATIONS, calculationById } from '$lib/calculations/registry';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';
import { fromSi } from '$lib/quantity/quantity';

export interface Outcome {
	exitCode: number;
	stdout: string;
	stderr: string;
}

const USAGE = 'calculate list, or calculate <id> <inputs.json | ->';

/**
 * @param argv   arguments after the program's name
 * @param read   content of a file, or of standard input for '-'
 */
export function main(argv: readonly string[], read: (file: string) => string): Outcome {
	const [id, file, ...rest] = argv;
	if (id === undefined || rest.length > 0) return refuse(`write ${USAGE}`);
	if (id === 'list')
		return file === undefined ? answer(CALCULATIONS.map(describe)) : refuse(`write ${USAGE}`);
	const calculation = calculationById(id);
	if (!calculation)
		return refuse(`there is no calculation "${id}"; there are ${CALCULATIONS.map((c) => c.id).join(', ')}`);
	if (file === undefined) return refuse(`the inputs are missing: write ${USAGE}`);

	let input: unknown;
	try {
		input = JSON.parse(read(file).replace(/^\uFEFF/, ''));
	} catch (error) {
		const what = error instanceof SyntaxError ? 'is not JSON' : 'can’t be read';
		return refuse(`${file === '-' ? 'the input' : file} ${what}: ${(error as Error).message}`);
	}
	if (typeof input !== 'object' || input === null || Array.isArray(input))
		return refuse('the inputs must be a JSON object such as {"releaseHeight":"600 m"}');
	const request = requestOf(input as Record<string, unknown>);
	if (typeof request === 'string') return refuse(request);
	const result = runCalculation(calculation, request);
	if (!result.ok) return refuse([result.error.path, result.error.message].filter(Boolean).join(': '));
	return answer(plain(result.value));
}

/** Inputs stand beside observed, scenarios, seed and samples, or within "inputs". */
function requestOf({
	observed,
	scenarios,
	seed,
	samples,
	inputs,
	...rest
}: Record<string, unknown>): Request | string {
	if (inputs !== undefined && Object.keys(rest).length > 0)
		return `"${Object.keys(rest)[0]}" stands beside "inputs"; put it within`;
	for (const [name, value] of Object.entries({ inputs, observed }))
		if (value !== undefined && (typeof value !== 'object' || value === null || Array.isArray(value)))
			return `"${name}" must be an object`;
	for (const [name, value] of Object.entries({ seed, samples }))
		if (value !== undefined && typeof value !== 'number') return `"${name}" must be a number`;
	return {
		inputs: (inputs ?? rest) as Request['inputs'],
		...(observed === undefined ? {} : { observed: observed as Request['inputs'] }),
		...(scenarios === undefined ? {} : { scenarios }),
		...(seed === undefined ? {} : { seed: seed as number }),
		...(samples === undefined ? {} : { samples: samples as number })
	};
}

/** Outputs in the unit that the description names; figure and series are left to the page. */
function plain({ outputs, figure: _, series: __, ...rest }: CalculationResult) {
	return {
		...rest,
		outputs: Object.fromEntries(Object.entries(outputs).map(([key, o]) => [key, inUnit(o)]))
	};
}

function inUnit({ label, of, dimension, unit, nominal, median, low90, high90 }: OutputSummary) {
	const show = (si: number) => fromSi(si, unit, dimension);
	return {
		label,
		...(of === undefined ? {} : { of }),
		/** With every input at its stated value; the median where only a distribution answers. */
		value: show(nominal ?? median),
		unit,
		median: show(median),
		interval90: [show(low90), show(high90)]
	};
}

const answer = (value: unknown): Outcome => ({
	exitCode: 0,
	stdout: `${JSON.stringify(value, null, '\t')}\n`,
	stderr: ''
});

/** One line that says what is wrong. */
const refuse = (problem: string): Outcome => ({
	exitCode: 2,
	stdout: '',
	stderr: `calculate: ${problem.replace(/\s+/g, ' ')}\n`
});

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
	const { exitCode, stdout, stderr } = main(process.argv.slice(2), (file) =>
		readFileSync(file === '-' ? 0 : file, 'utf8')
	);
	process.stderr.write(stderr);
	process.stdout.write(stdout);
	process.exitCode = exitCode;
}
