/** Connectives of a file as gates of ours. Meanings after the Open-PSA Model Exchange Format's table (seen). */
import { readLiteral } from '../literal';
import type { GateType, Literal, TreeEvent, TreeGate } from '../model';
import type { Definition, Definitions } from './definitions';
import { numberIn, truth } from './expression';
import { OWN } from './own';
import { Fault, type XmlElement } from './xml';

const CONNECTIVES: Readonly<Record<string, GateType>> = {
	and: 'and',
	or: 'or',
	not: 'not',
	xor: 'xor',
	iff: 'iff',
	nand: 'nand',
	nor: 'nor',
	imply: 'imply',
	atleast: 'atLeast',
	cardinality: 'cardinality'
};
const EXACTLY: Partial<Record<GateType, number>> = { not: 1, iff: 2, imply: 2 };
/** An input that stands twice in one of these says the same as once. */
const IDEMPOTENT: readonly GateType[] = ['and', 'or', 'nand', 'nor'];

const named = (literal: Literal) => {
	const { id, negated } = readLiteral(literal);
	return negated ? `!${id}` : id;
};

export class Formulas {
	readonly gates: TreeGate[] = [];
	readonly constants: TreeEvent[] = [];
	readonly #definitions: Definitions;
	readonly #taken: Set<string>;

	constructor(definitions: Definitions, taken: Set<string>) {
		this.#definitions = definitions;
		this.#taken = taken;
	}

	/** @param notes  label and the like of the gate @throws {Fault} */
	add(
		{ id, at, content, within }: Definition,
		notes: Partial<TreeGate>,
		attributes: ReadonlyMap<string, string>
	) {
		const [formula, ...more] = content;
		if (!formula || more.length > 0)
			throw new Fault(at.line, `the gate '${id}' has ${content.length} formulas; it has one`);
		this.#gate(id, formula, within, notes, attributes.get(OWN.type));
	}

	#gate(
		id: string,
		formula: XmlElement,
		within: readonly string[],
		notes: Partial<TreeGate> = {},
		ownType?: string
	) {
		const type = CONNECTIVES[formula.name];
		// Before its inputs, so that the gates stand in the order of the file.
		const gate: TreeGate = { id, ...notes, type: type ?? 'or', inputs: [] };
		this.gates.push(gate);
		if (type === undefined) {
			gate.inputs = [this.#literal(id, formula, within)];
			return;
		}
		const inputs = formula.children.map((child) => this.#literal(id, child, within));
		const exactly = EXACTLY[type];
		if (exactly === undefined ? inputs.length === 0 : inputs.length !== exactly)
			throw new Fault(
				formula.line,
				`<${formula.name}> has ${inputs.length} inputs; it takes ${exactly ?? 'some'}`
			);
		if (type === 'and' && ownType === 'inhibit' && inputs.length > 1) gate.condition = inputs.pop()!;
		gate.inputs = this.#distinct(id, type, inputs);
		if (type === 'and' && (ownType === 'priorityAnd' || gate.condition !== undefined))
			gate.type = gate.condition === undefined ? 'priorityAnd' : 'inhibit';
		if (type === 'xor' && (inputs.length !== 2 || ownType === 'odd')) gate.type = 'odd';
		if (type === 'atLeast') gate.k = count(formula, 'min', 1, inputs.length);
		if (type !== 'cardinality') return;
		const min = count(formula, 'min', 0, inputs.length);
		const max = count(formula, 'max', min, inputs.length);
		if (ownType === 'exactlyOne' && min === 1 && max === 1) gate.type = 'exactlyOne';
		else Object.assign(gate, { min, max });
	}

	/** A gate's input: what is named, its negation, or a formula within, which becomes a gate of its own. */
	#literal(under: string, at: XmlElement, within: readonly string[]): Literal {
		switch (at.name) {
			case 'gate':
			case 'basic-event':
			case 'house-event':
				return this.#definitions.find(at, within, [at.name]).id;
			case 'event':
				return this.#definitions.find(at, within, ['gate', 'basic-event', 'house-event']).id;
			case 'constant':
				return this.#constant(truth(at));
			case 'not': {
				const [child, ...more] = at.children;
				if (!child || more.length > 0)
					throw new Fault(at.line, `<not> has ${at.children.length} inputs; it takes 1`);
				const { id, negated } = readLiteral(this.#literal(under, child, within));
				return negated ? id : { not: id };
			}
		}
		if (!(at.name in CONNECTIVES))
			throw new Fault(at.line, `<${at.name}> is not a formula that is known here`);
		const id = this.#fresh(under);
		this.#gate(id, at, within);
		return id;
	}

	#constant(state: boolean): string {
		const before = this.constants.find((constant) => constant.state === state);
		if (before) return before.id;
		const made: TreeEvent = { id: this.#fresh(`always ${state}`), kind: 'house', state };
		this.constants.push(made);
		return made.id;
	}

	/** Inputs of which none stands twice: said once where that is the same, else by way of a gate that passes it on. */
	#distinct(id: string, type: GateType, inputs: readonly Literal[]): Literal[] {
		const met = new Set<string>();
		return inputs.flatMap((input) => {
			if (!met.has(named(input))) {
				met.add(named(input));
				return [input];
			}
			if (IDEMPOTENT.includes(type)) return [];
			const again = this.#fresh(id);
			this.gates.push({ id: again, type: 'or', inputs: [input] });
			return [again];
		});
	}

	#fresh(like: string): string {
		let n = 1;
		while (this.#taken.has(`${like}.${n}`)) n++;
		this.#taken.add(`${like}.${n}`);
		return `${like}.${n}`;
	}
}

function count(at: XmlElement, name: 'min' | 'max', least: number, most: number): number {
	const n = numberIn(at, name);
	if (!Number.isInteger(n) || n < least || n > most)
		throw new Fault(
			at.line,
			`<${at.name}> has ${name}="${n}"; with ${most} inputs it is ${least} to ${most}`
		);
	return n;
}
