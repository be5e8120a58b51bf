/** What a file defines, where, and what a name means from where it is written. */
import { attribute } from './expression';
import { Fault, type XmlElement } from './xml';

export type DefinitionKind = 'gate' | 'basic-event' | 'house-event' | 'parameter' | 'CCF-group';

export interface Definition {
	kind: DefinitionKind;
	/** Name that it goes by in the tree: its own where it is public, the whole path where it is private. */
	id: string;
	at: XmlElement;
	/** Names of the fault tree and components around it. */
	within: readonly string[];
	/** Children other than label and attributes: its formula, its number, its members. */
	content: XmlElement[];
}

const KIND_OF: Readonly<Record<string, DefinitionKind>> = {
	'define-gate': 'gate',
	'define-basic-event': 'basic-event',
	'define-house-event': 'house-event',
	'define-parameter': 'parameter',
	'define-CCF-group': 'CCF-group'
};

/** Other layers of the format: event trees and what belongs to them. Fault trees mean the same without them. */
const OTHER_LAYERS = new Set([
	'define-event-tree',
	'define-functional-event',
	'define-initiating-event',
	'define-sequence',
	'define-consequence',
	'define-consequence-group',
	'define-alignment',
	'define-rule',
	'define-extern-library',
	'define-extern-function'
]);

/** Events and gates share one space of names; parameters and groups have their own. */
type Space = 'event' | 'parameter' | 'CCF-group';
const spaceOf = (kind: DefinitionKind): Space =>
	kind === 'parameter' || kind === 'CCF-group' ? kind : 'event';

export class Definitions {
	readonly all: Definition[] = [];
	readonly faultTrees: XmlElement[] = [];
	readonly #byPath = new Map<string, Definition>();
	readonly #public = new Map<string, Definition>();
	readonly #attempt: (work: () => void) => void;
	readonly #warn: (at: XmlElement, message: string) => void;

	/** @param attempt  does the work and keeps the fault it ends with */
	constructor(
		root: XmlElement,
		attempt: (work: () => void) => void,
		warn: (at: XmlElement, message: string) => void
	) {
		this.#attempt = attempt;
		this.#warn = warn;
		for (const child of described(root).content) attempt(() => this.#outermost(child));
		for (const group of this.all.filter(({ kind }) => kind === 'CCF-group'))
			attempt(() => this.#declareMembers(group));
	}

	/** A group may name events that are defined nowhere else. */
	#declareMembers({ at, within, content }: Definition) {
		for (const member of membersOf(content))
			if (!this.#lookUp(attribute(member, 'name'), within, 'event'))
				this.#keep({ ...member, name: 'define-basic-event' }, 'basic-event', within, roleOf(at, 'public'));
	}

	#outermost(at: XmlElement) {
		if (at.name === 'define-fault-tree') {
			this.faultTrees.push(at);
			this.#container(at, [], 'public');
		} else if (at.name === 'model-data') this.#collect(at, [], 'public');
		else this.#definition(at, [], 'public');
	}

	#container(at: XmlElement, within: readonly string[], around: string) {
		this.#collect(at, [...within, nameOf(at)], roleOf(at, around));
	}

	#collect(at: XmlElement, within: readonly string[], role: string) {
		for (const child of described(at).content) this.#attempt(() => this.#definition(child, within, role));
	}

	#definition(at: XmlElement, within: readonly string[], around: string) {
		const kind = KIND_OF[at.name];
		if (kind !== undefined) return this.#keep(at, kind, within, roleOf(at, around));
		if (at.name === 'define-component' && within.length > 0) return this.#container(at, within, around);
		if (at.name === 'include')
			return this.#warn(at, `names the file '${at.attributes.get('file') ?? ''}', which is not read`);
		if (OTHER_LAYERS.has(at.name)) return this.#warn(at, 'is not of the fault trees and is left out');
		if (at.name === 'define-substitution')
			throw new Fault(at.line, '<define-substitution> changes what the gates mean, and is not read here');
		throw new Fault(at.line, `<${at.name}> is not known here`);
	}

	#keep(at: XmlElement, kind: DefinitionKind, within: readonly string[], role: string) {
		const name = nameOf(at);
		const path = [...within, name].join('.');
		const made: Definition = {
			kind,
			id: role === 'private' ? path : name,
			at,
			within,
			content: described(at).content
		};
		const space = spaceOf(kind);
		const before =
			this.#byPath.get(`${space} ${path}`) ??
			(role === 'public' ? this.#public.get(`${space} ${name}`) : undefined);
		if (before) {
			// An event may be declared beside its gates and given its number elsewhere.
			if (before.kind !== kind || (before.content.length > 0 && made.content.length > 0))
				throw new Fault(at.line, `'${made.id}' was defined in line ${before.at.line} already`);
			if (made.content.length > 0) Object.assign(before, { content: made.content });
			return;
		}
		this.all.push(made);
		this.#byPath.set(`${space} ${path}`, made);
		if (role === 'public') this.#public.set(`${space} ${name}`, made);
	}

	#lookUp(name: string, within: readonly string[], space: Space): Definition | undefined {
		for (let depth = within.length; depth >= 0; depth--) {
			const found = this.#byPath.get(`${space} ${[...within.slice(0, depth), name].join('.')}`);
			if (found) return found;
		}
		return this.#public.get(`${space} ${name}`);
	}

	/**
	 * What a name or path means where it is written: the innermost container first, then outward, then what is public.
	 * @throws {Fault} where nothing has that name, or something of another kind
	 */
	find(at: XmlElement, within: readonly string[], kinds: readonly DefinitionKind[]): Definition {
		const name = attribute(at, 'name');
		const found = this.#lookUp(name, within, spaceOf(kinds[0]!));
		if (!found) throw new Fault(at.line, `<${at.name}> names '${name}', which is not defined in the file`);
		if (!kinds.includes(found.kind))
			throw new Fault(
				at.line,
				`<${at.name}> names '${name}', which is a ${found.kind} (line ${found.at.line})`
			);
		return found;
	}
}

/** What a common-cause group names. */
export const membersOf = (content: readonly XmlElement[]) =>
	content.flatMap(({ name, children }) => (name === 'members' ? children : []));

function nameOf(at: XmlElement): string {
	const name = attribute(at, 'name');
	if (/^!|\.|\s/.test(name) || name.length > 100)
		throw new Fault(at.line, `'${name.slice(0, 40)}' is not a name; a name is one word without a point`);
	return name;
}

function roleOf(at: XmlElement, around: string): string {
	const role = at.attributes.get('role') ?? around;
	if (role !== 'public' && role !== 'private')
		throw new Fault(at.line, `<${at.name}> has role="${role}"; it is public or private`);
	return role;
}

/** Label and free attributes of an element, and its other children. @throws {Fault} */
export function described(at: XmlElement): {
	label: string | undefined;
	attributes: Map<string, string>;
	content: XmlElement[];
} {
	const attributes = new Map<string, string>();
	const content: XmlElement[] = [];
	let label: string | undefined;
	if (at.text.trim() !== '')
		throw new Fault(
			at.line,
			`<${at.name}> holds the words '${at.text.trim().slice(0, 30)}', which belong in a <label>`
		);
	for (const child of at.children) {
		if (child.name === 'label') label = child.text.trim().replace(/\s+/g, ' ') || undefined;
		else if (child.name === 'attributes')
			for (const one of child.children)
				attributes.set(attribute(one, 'name'), one.attributes.get('value') ?? '');
		else content.push(child);
	}
	return { label, attributes, content };
}
