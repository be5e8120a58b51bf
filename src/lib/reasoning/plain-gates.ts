/** A tree said with fewer gates: exact, so that a tree from a file fits where only these are drawn. */
import { tableRows } from './check';
import { negationOf, readLiteral } from './literal';
import type { GateType, Literal, TreeGate, TreeModel } from './model';

/**
 * The tree with OR, AND, at least k, exclusive OR of two, priority AND, inhibit by a conditioning event of its own, and
 * NOT of one input, and no negation but by that. What is added is labelled after what it belongs to; every event and
 * gate that was there keeps its id and its probability. The tree must have passed `checkTree`.
 */
export function plainGates(model: TreeModel): TreeModel {
	return new Plain(model).result();
}

class Plain {
	readonly #model: TreeModel;
	readonly #taken: Set<string>;
	readonly #labels = new Map<string, string>();
	readonly #negations = new Map<string, string>();
	readonly #uses = new Map<string, number>();
	readonly #conditions = new Set<string>();
	readonly #events: TreeModel['events'] = [];
	readonly #gates: TreeGate[] = [];

	constructor(model: TreeModel) {
		this.#model = model;
		const nodes = [...model.events, ...(model.gates ?? [])];
		this.#taken = new Set(nodes.map(({ id }) => id));
		for (const { id, label } of nodes) this.#labels.set(id, label ?? id);
		for (const { inputs, condition } of model.gates ?? [])
			for (const literal of condition === undefined ? inputs : [...inputs, condition]) {
				const { id } = readLiteral(literal);
				this.#uses.set(id, (this.#uses.get(id) ?? 0) + 1);
			}
	}

	result(): TreeModel {
		for (const gate of this.#model.gates ?? []) this.#gate(gate);
		const events = this.#model.events.map(({ kind, ...event }) => ({
			...event,
			...(kind === undefined || (kind === 'conditioning' && !this.#conditions.has(event.id)) ? {} : { kind })
		}));
		return { ...this.#model, events: [...events, ...this.#events], gates: this.#gates };
	}

	#gate(gate: TreeGate) {
		const { id, type, inputs, k = 1, min = 0, max = 0, condition, table = {}, ...notes } = gate;
		const label = this.#labels.get(id) ?? id;
		const plain = inputs.map((input) => this.#plain(input));
		const n = plain.length;
		const put = (as: GateType, over: readonly string[], more: Partial<TreeGate> = {}) =>
			void this.#gates.push({ id, ...notes, type: as, inputs: [...new Set(over)], ...more });
		switch (type) {
			case 'or':
			case 'and':
			case 'priorityAnd':
			case 'xor':
				return put(type, plain);
			case 'atLeast':
				return put(type, plain, { k });
			case 'not': {
				const { id: of, negated } = readLiteral(inputs[0]!);
				return put(negated ? 'or' : 'not', [of]);
			}
			case 'nor':
				return put('not', [this.#add(id, `Not: ${label}`, 'or', plain)]);
			case 'nand':
				return put('not', [this.#add(id, `Not: ${label}`, 'and', plain)]);
			case 'iff':
				return put('not', [this.#add(id, `Not: ${label}`, 'xor', plain)]);
			case 'imply': {
				const [from, to] = inputs as [Literal, Literal];
				return put('or', [this.#plain(negationOf(from)), this.#plain(to)]);
			}
			case 'exactlyOne':
				return this.#between(put, id, label, plain, 1, 1);
			case 'cardinality':
				return this.#between(put, id, label, plain, min, max);
			case 'odd': {
				if (n === 1) return put('or', plain);
				const last = plain.slice(1, -1).reduce((before, next, i) => {
					return this.#add(id, `${label}: an odd number of the first ${i + 2}`, 'xor', [before, next]);
				}, plain[0]!);
				return put('xor', [last, plain[n - 1]!]);
			}
			case 'inhibit':
				return this.#inhibit(put, plain, condition!);
			case 'table':
				return put(
					'or',
					tableRows(n).map((row) => this.#row(id, label, inputs, row, table[row] ?? 0))
				);
		}
	}

	/** From min to max of the inputs. */
	#between(
		put: (type: GateType, inputs: readonly string[], more?: Partial<TreeGate>) => void,
		id: string,
		label: string,
		inputs: readonly string[],
		min: number,
		max: number
	) {
		const n = inputs.length;
		const over = () => this.#add(id, `${label}: more than ${max}`, 'atLeast', inputs, { k: max + 1 });
		if (min === 0 && max >= n) return put('or', [inputs[0]!, this.#negation(inputs[0]!)]);
		if (min === 0) return put('not', [over()]);
		if (max >= n) return put('atLeast', inputs, { k: min });
		const least = this.#add(id, `${label}: at least ${min}`, 'atLeast', inputs, { k: min });
		return put('and', [least, this.#negation(over())]);
	}

	#inhibit(
		put: (type: GateType, inputs: readonly string[], more?: Partial<TreeGate>) => void,
		inputs: readonly string[],
		condition: Literal
	) {
		const { id, negated } = readLiteral(condition);
		const event = this.#model.events.find((own) => own.id === id);
		if (negated || event?.kind !== 'conditioning' || this.#uses.get(id) !== 1)
			return put('and', [...inputs, this.#plain(condition)]);
		this.#conditions.add(id);
		return put('inhibit', inputs, { condition: id });
	}

	/** One row of a table: a chance of its own, where the inputs stand as the row says. */
	#row(id: string, label: string, inputs: readonly Literal[], row: string, p: number): string {
		const states = inputs.map((input, i) => (row[i] === 'T' ? input : negationOf(input)));
		const said = states.map((state) => {
			const { id: of, negated } = readLiteral(state);
			return `${negated ? 'not ' : ''}${this.#labels.get(of) ?? of}`;
		});
		const words = `${label}, with ${said.join(' and ')}`;
		const chance = this.#fresh(`${id} ${row}`);
		this.#events.push({ id: chance, label: `Chance: ${words}`, p });
		return this.#add(id, words, 'and', [...states.map((state) => this.#plain(state)), chance]);
	}

	#plain(literal: Literal): string {
		const { id, negated } = readLiteral(literal);
		return negated ? this.#negation(id) : id;
	}

	#negation(id: string): string {
		const known = this.#negations.get(id);
		if (known !== undefined) return known;
		const made = this.#add(`not ${id}`, `Not: ${this.#labels.get(id) ?? id}`, 'not', [id]);
		this.#negations.set(id, made);
		return made;
	}

	#add(like: string, label: string, type: GateType, inputs: readonly string[], more: Partial<TreeGate> = {}) {
		const id = this.#fresh(like);
		this.#labels.set(id, label);
		this.#gates.push({ id, label, type, inputs: [...new Set(inputs)], ...more });
		return id;
	}

	#fresh(like: string): string {
		let id = like;
		for (let n = 1; this.#taken.has(id); n++) id = `${like}.${n}`;
		this.#taken.add(id);
		return id;
	}
}
