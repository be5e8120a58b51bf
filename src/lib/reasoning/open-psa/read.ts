/**
 * Reads fault trees from the Open-PSA Model Exchange Format (open standard; fault-tree layer, and of the stochastic
 * layer what comes to one number for each event). What it can't take is refused, or left out with a warning; both
 * name the line and the element.
 */
import { rootGates } from '../check';
import type { TreeEvent, TreeGroup, TreeModel } from '../model';
import { type Definition, Definitions, described, membersOf } from './definitions';
import { type Computed, evaluate, shortened, truth } from './expression';
import { Formulas } from './formula';
import { type Place, takeChainsBack } from './exclusive';
import { readGroup } from './group';
import { OWN } from './own';
import { Fault, MOST, readXml, type XmlElement } from './xml';

export interface OpenPsaOptions {
	/** Top event, where several gates feed nothing. */
	top?: string | undefined;
	/** What `<system-mission-time>` stands for, in the unit of the file's rates. */
	missionTime?: number | undefined;
}

export type OpenPsaResult =
	| {
			ok: true;
			/** Still to be checked by `parseTree`: an event without a number has no `p`, and gates may run in a circle. */
			model: TreeModel;
			warnings: string[];
			/** Gates that feed nothing: each may be the top. */
			tops: string[];
	  }
	| { ok: false; problems: string[] };

/** Faults that are told at once; a file of another kind has thousands. */
const TOLD = 12;

/** @param text  a whole file */
export function readOpenPsa(text: string, options: OpenPsaOptions = {}): OpenPsaResult {
	const problems: string[] = [];
	const warnings: string[] = [];
	const attempt = (work: () => void) => {
		try {
			work();
		} catch (error) {
			if (!(error instanceof Fault)) throw error;
			problems.push(error.message);
		}
	};
	let result: OpenPsaResult | undefined;
	attempt(() => {
		const root = readXml(text);
		if (root.name !== 'opsa-mef')
			throw new Fault(
				root.line,
				`the file begins with <${root.name}>; an Open-PSA file begins with <opsa-mef>`
			);
		result = new Reading(root, options, attempt, warnings).result();
	});
	if (problems.length === 0 && result) return result;
	const more = problems.length - TOLD;
	return { ok: false, problems: [...problems.slice(0, TOLD), ...(more > 0 ? [`and ${more} more`] : [])] };
}

class Reading {
	readonly #root: XmlElement;
	readonly #options: OpenPsaOptions;
	readonly #attempt: (work: () => void) => void;
	readonly #warnings: string[];
	readonly #definitions: Definitions;
	readonly #numbers = new Map<Definition, Computed>();
	/** Parameters whose numbers are being computed, outermost first. */
	readonly #underway: Definition[] = [];
	/** What the members of common-cause groups have from their group. */
	readonly #ofGroup = new Map<Definition, Computed>();

	constructor(
		root: XmlElement,
		options: OpenPsaOptions,
		attempt: (work: () => void) => void,
		warnings: string[]
	) {
		this.#root = root;
		this.#options = options;
		this.#attempt = attempt;
		this.#warnings = warnings;
		this.#definitions = new Definitions(root, attempt, this.#warn);
	}

	readonly #warn = (at: XmlElement, message: string) => {
		const warning = `line ${at.line}: <${at.name}> ${message}`;
		if (!this.#warnings.includes(warning)) this.#warnings.push(warning);
	};

	result(): OpenPsaResult {
		const { all, faultTrees } = this.#definitions;
		this.#takeOwnIds(all);
		const formulas = new Formulas(this.#definitions, new Set(all.map(({ id }) => id)));
		const commonCause: TreeGroup[] = [];
		for (const definition of all.filter(({ kind }) => kind === 'CCF-group'))
			this.#attempt(() => commonCause.push(this.#group(definition)));
		const events: TreeEvent[] = [];
		const places = new Map<string, Place>();
		for (const definition of all)
			this.#attempt(() => {
				const { label, attributes } = described(definition.at);
				const notes = notesOf(label, attributes);
				const at = attributes.get(OWN.exclusive);
				if (at !== undefined)
					places.set(definition.id, { at, p: Number(attributes.get(OWN.weight)), ...ownKind(attributes) });
				if (definition.kind === 'gate') formulas.add(definition, notes, attributes);
				if (definition.kind === 'basic-event') events.push(this.#basicEvent(definition, notes, attributes));
				if (definition.kind === 'house-event')
					events.push({ id: definition.id, ...notes, kind: 'house', state: this.#houseState(definition) });
			});
		const model = takeChainsBack(
			{
				kind: 'tree',
				events: [...events, ...formulas.constants],
				gates: formulas.gates,
				...(commonCause.length === 0 ? {} : { commonCause })
			},
			places
		);
		const whole = faultTrees.map(described);
		const title = whole.flatMap(({ label }) => label ?? [])[0] ?? described(this.#root).label;
		if (title !== undefined) model.title = title;
		const tops = rootGates(model);
		const own = whole.flatMap(({ attributes }) => attributes.get(OWN.top) ?? [])[0];
		const top = this.#options.top ?? own ?? (tops.length === 1 ? tops[0] : undefined);
		if (top !== undefined) model.top = top;
		return { ok: true, model, warnings: this.#warnings, tops };
	}

	/** Names that we wrote go by the ids that they stand for. */
	#takeOwnIds(all: readonly Definition[]) {
		const taken = new Set(all.map(({ id }) => id));
		for (const definition of all) {
			const id = described(definition.at).attributes.get(OWN.id);
			if (id === undefined || taken.has(id)) continue;
			taken.add(id);
			definition.id = id;
		}
	}

	#basicEvent(
		definition: Definition,
		notes: Partial<TreeEvent>,
		attributes: ReadonlyMap<string, string>
	): TreeEvent {
		const { id, at, content, within } = definition;
		const event: TreeEvent = { id, ...notes, ...ownKind(attributes) };
		const [expression, ...more] = content;
		const ofGroup = this.#ofGroup.get(definition);
		if (more.length > 0)
			throw new Fault(at.line, `the event '${id}' has ${content.length} numbers; it has one`);
		if (!expression && !ofGroup) {
			this.#warn(at, `'${id}' has no number`);
			return event;
		}
		const { value, says } = expression ? this.#number(expression, within) : ofGroup!;
		const { line } = expression ?? at;
		if (ofGroup && ofGroup.value !== value)
			throw new Fault(line, `the event '${id}' has ${value} of its own and ${ofGroup.value} from its group`);
		if (value < 0 || value > 1)
			throw new Fault(line, `the event '${id}' has the probability ${value}, which is not between 0 and 1`);
		event.p = value;
		if (says !== String(value) && event.source === undefined) event.source = says;
		return event;
	}

	#group(definition: Definition): TreeGroup {
		const { id, at, content, within } = definition;
		const members = membersOf(content).map((member) =>
			this.#definitions.find(member, within, ['basic-event'])
		);
		const { q, shared } = readGroup(definition, (expression) => this.#number(expression, within));
		for (const member of members) this.#ofGroup.set(member, q);
		const { label, attributes } = described(at);
		return { id, ...notesOf(label, attributes), members: members.map((member) => member.id), ...shared };
	}

	#houseState({ id, at, content }: Definition): boolean {
		const [constant, ...more] = content;
		if (!constant) {
			this.#warn(at, `'${id}' is not said to be on or off; it is taken as off`);
			return false;
		}
		if (constant.name !== 'constant' || more.length > 0)
			throw new Fault(constant.line, `the house event '${id}' is switched by one <constant>`);
		return truth(constant);
	}

	#number(at: XmlElement, within: readonly string[]): Computed {
		return evaluate(at, {
			parameter: (_, named) => {
				const found = this.#definitions.find(named, within, ['parameter']);
				const { value, says } = this.#parameter(found, named);
				return { value, says: shortened(`${found.id} = ${says}`) };
			},
			missionTime: this.#options.missionTime,
			warn: this.#warn
		});
	}

	#parameter(definition: Definition, named: XmlElement): Computed {
		const known = this.#numbers.get(definition);
		if (known) return known;
		const { id, at, content, within } = definition;
		if (this.#underway.includes(definition))
			throw new Fault(named.line, `the parameter '${id}' is computed from itself`);
		if (this.#underway.length >= MOST.depth)
			throw new Fault(named.line, `parameters are computed from one another more than ${MOST.depth} deep`);
		const [expression, ...more] = content;
		if (!expression || more.length > 0)
			throw new Fault(at.line, `the parameter '${id}' has ${content.length} numbers; it has one`);
		this.#underway.push(definition);
		try {
			const computed = this.#number(expression, within);
			this.#numbers.set(definition, computed);
			return computed;
		} finally {
			this.#underway.pop();
		}
	}
}

function ownKind(attributes: ReadonlyMap<string, string>): Pick<TreeEvent, 'kind'> {
	const own = attributes.get(OWN.kind);
	return own === 'undeveloped' || own === 'conditioning' ? { kind: own } : {};
}

function notesOf(label: string | undefined, attributes: ReadonlyMap<string, string>) {
	const note = attributes.get(OWN.note);
	const source = attributes.get(OWN.source);
	const own = new Set<string>(Object.values(OWN));
	const others = [...attributes].filter(([name]) => !own.has(name));
	return {
		...(label === undefined ? {} : { label }),
		...(note === undefined ? {} : { note }),
		...(source === undefined ? {} : { source }),
		...(others.length === 0 ? {} : { attributes: Object.fromEntries(others) })
	};
}
