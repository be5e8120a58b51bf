/** Findings of which the first true link decides, said with the links of any other finding. */
import { readLiteral } from './literal';
import type { Literal, TreeGate, TreeModel } from './model';

interface Plain {
	model: TreeModel;
	/** By gate that was made: the cause as typed that it stands for, null for none of them. */
	standsFor: ReadonlyMap<string, Literal | null>;
}

/**
 * Each link starts from a gate 'this, and none before it', one more from 'none of them' with what was the base rate. So
 * exactly one of them is true in every state, and its number is the probability of the sign.
 */
export function withFirstDeciding(model: TreeModel): Plain {
	const standsFor = new Map<string, Literal | null>();
	const made: TreeGate[] = [];
	// An id that is typed never begins with a space.
	const gate = (id: string, cause: Literal | null, type: TreeGate['type'], inputs: Literal[]) => {
		made.push({ id: ` ${id}`, type, inputs });
		standsFor.set(` ${id}`, cause);
		return ` ${id}`;
	};
	const findings = (model.findings ?? []).map(({ first, ...finding }) => {
		const { id, links = [], baseRate = 0 } = finding;
		if (!first || links.length === 0) return finding;
		const causes = links.map(({ from }) => from);
		const nots = causes.map(opposite);
		const none = gate(`${id} none`, null, 'and', nots);
		return {
			...finding,
			baseRate: 0,
			links: [
				...links.map(({ from, p }, i) => ({
					from: gate(`${id} ${i}`, from, 'and', [...nots.slice(0, i), from]),
					p
				})),
				{ from: none, p: baseRate }
			]
		};
	});
	return made.length === 0
		? { model, standsFor }
		: { model: { ...model, gates: [...(model.gates ?? []), ...made], findings }, standsFor };
}

function opposite(literal: Literal): Literal {
	const { id, negated } = readLiteral(literal);
	return negated ? id : { not: id };
}
