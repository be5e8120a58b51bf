import { readable } from '$lib/investigation/views/tree-readable';
import { parseTree, readOpenPsa, type TreeModel } from '$lib/reasoning';
import { rootGates } from '$lib/reasoning/check';

/** Larger files are not even opened. */
export const MOST_BYTES = 20_000_000;

export interface Choice {
	value: string;
	label: string;
}
export type TreeFromFile =
	| {
			ok: true;
			tree: TreeModel;
			events: number;
			gates: number;
			findings: number;
			/** What was noticed in the file, and what of it has no place here. */
			told: string[];
	  }
	| {
			ok: false;
			problems: string[];
			/** A question that the file leaves open: which of its gates is the top, or how long the mission is. */
			tops: Choice[];
			asksTime: boolean;
	  };

const refused = (problems: string[], tops: Choice[] = [], asksTime = false): TreeFromFile => ({
	ok: false,
	problems,
	tops,
	asksTime
});

/** A tree from the text of a file, Open-PSA or JSON, as it can be read in under an anomaly. */
export function treeFromText(
	text: string,
	options: { top?: string | undefined; missionTime?: number | undefined } = {}
): TreeFromFile {
	if (/^\uFEFF?\s*</.test(text)) {
		const read = readOpenPsa(text, options);
		if (!read.ok)
			return refused(
				read.problems,
				[],
				read.problems.some((problem) => problem.includes('<system-mission-time>'))
			);
		return offered(read.model, read.warnings);
	}
	let input: unknown;
	try {
		input = JSON.parse(text.replace(/^\uFEFF/, ''));
	} catch {
		return refused([
			/^\uFEFF?\s*[[{]/.test(text)
				? 'This JSON is not whole: a part of it is missing or damaged. Copy the file again.'
				: 'This is neither XML nor JSON. Choose an Open-PSA file or a tree in JSON.'
		]);
	}
	if (
		typeof input === 'object' &&
		input !== null &&
		('state' in input || ('kind' in input && input.kind === 'investigation'))
	)
		return refused(['This is a whole investigation, not a tree. Import its zip on the first page.']);
	const given = input as TreeModel;
	const parsed = parseTree(options.top === undefined ? input : { ...given, top: options.top });
	if (parsed.ok) return offered(parsed.model, []);
	const open = parsed.problems.length === 1 && /^several gates feed nothing/.test(parsed.problems[0] ?? '');
	return open ? refused(parsed.problems, choices(given)) : refused(parsed.problems);
}

function choices(model: TreeModel): Choice[] {
	const labels = new Map((model.gates ?? []).map(({ id, label }) => [id, label ?? id]));
	return rootGates(model).map((id) => ({ value: id, label: labels.get(id) ?? id }));
}

function offered(tree: TreeModel, warnings: readonly string[]): TreeFromFile {
	const read = readable(tree);
	if (!read.ok) {
		const open = read.problems.some(({ field }) => field === 'top');
		return refused(
			read.problems.map(({ message }) => message),
			open ? choices(tree) : []
		);
	}
	const { tree: kept, leftOut } = read.value;
	return {
		ok: true,
		tree,
		events: kept.events.length,
		gates: kept.gates?.length ?? 0,
		findings: kept.findings?.length ?? 0,
		told: [...warnings, ...leftOut.map((what) => `Left out: ${what}.`)]
	};
}
