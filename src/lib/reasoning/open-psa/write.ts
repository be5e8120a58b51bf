/**
 * Writes a tree in the Open-PSA Model Exchange Format (open standard; fault-tree layer). Probabilities of all its events
 * and gates are the same before any evidence; what the format has no word for is told.
 */
import { rootGates, tableRows } from '../check';
import { negationOf, readLiteral } from '../literal';
import { choose } from '../common-cause';
import type { Literal, TreeEvent, TreeGate, TreeGroup, TreeModel } from '../model';
import { chanceOf, linkInputs, placeOf } from './exclusive';
import { OWN } from './own';

export interface OpenPsaFile {
	xml: string;
	/** What the file can't hold, in words: signs, calculations. */
	leftOut: string[];
}

/** @param model  a tree that `checkTree` finds no fault with */
export function writeOpenPsa(model: TreeModel): OpenPsaFile {
	return new Writing(model).file();
}

type Lines = string[];

class Writing {
	readonly #model: TreeModel;
	readonly #names = new Map<string, string>();
	readonly #taken = new Set<string>();
	readonly #kindOf = new Map<string, 'gate' | 'basic-event' | 'house-event'>();
	/** Events that the file brings along for what it has no gate for. */
	readonly #added: TreeEvent[] = [];
	/** By event that excludes others: its group and place. */
	readonly #places = new Map<string, string>();

	constructor(model: TreeModel) {
		this.#model = model;
		for (const { id } of model.gates ?? []) this.#kindOf.set(id, 'gate');
		for (const { id, kind } of model.events)
			this.#kindOf.set(id, kind === 'house' ? 'house-event' : 'basic-event');
		for (const { id } of [...(model.gates ?? []), ...model.events]) this.#name(id);
	}

	file(): OpenPsaFile {
		const { title, top, gates = [], events, exclusive = [], commonCause = [] } = this.#model;
		const roots = rootGates(this.#model);
		const first = top ?? (roots.length === 1 ? roots[0] : undefined);
		const ordered = [...gates].sort((a, b) => Number(b.id === first) - Number(a.id === first));
		const { chained, plain } = this.#exclusive(events, exclusive);
		const written = ordered.flatMap((gate) => this.#gate(gate));
		const grouped = new Set(commonCause.flatMap(({ members }) => members));
		const bare = ({ p: _, ...event }: TreeEvent) => event;
		const data = [
			...plain.map((event) => (grouped.has(event.id) ? bare(event) : event)),
			...this.#added
		].flatMap((event) => this.#event(event));
		const own = first === undefined ? {} : { [OWN.top]: first };
		const lines = [
			'<?xml version="1.0" encoding="UTF-8"?>',
			'<opsa-mef>',
			...inside([
				'<define-fault-tree name="fault-tree">',
				...inside([
					...described({ label: title }, own),
					...written,
					...chained,
					...commonCause.flatMap((group) => this.#group(group))
				]),
				'</define-fault-tree>',
				...(data.length === 0 ? [] : ['<model-data>', ...inside(data), '</model-data>'])
			]),
			'</opsa-mef>',
			''
		];
		return { xml: lines.join('\n'), leftOut: leftOut(this.#model) };
	}

	/** An identifier of the format: letters, digits, '-' and '_', a letter first, none twice. */
	#name(id: string): string {
		const known = this.#names.get(id);
		if (known !== undefined) return known;
		const plain = id
			.normalize('NFKD')
			.replace(/\p{M}/gu, '')
			.replace(/[^A-Za-z0-9_-]+/g, '-')
			.replace(/^[^A-Za-z]+/, '')
			.replace(/-+$/, '')
			.slice(0, 60);
		const base = plain === '' ? 'e' : plain;
		let name = base;
		for (let n = 2; this.#taken.has(name); n++) name = `${base}-${n}`;
		this.#taken.add(name);
		this.#names.set(id, name);
		return name;
	}

	#reference(literal: Literal): Lines {
		const { id, negated } = readLiteral(literal);
		const event = `<${this.#kindOf.get(id) ?? 'event'} name="${this.#name(id)}"/>`;
		return negated ? ['<not>', ...inside([event]), '</not>'] : [event];
	}

	#add(id: string, p: number): string {
		let free = id;
		for (let n = 2; this.#kindOf.has(free); n++) free = `${id} ${n}`;
		this.#kindOf.set(free, 'basic-event');
		this.#added.push({ id: free, p });
		return free;
	}

	#gate(gate: TreeGate): Lines {
		const { type } = gate;
		const own = ['inhibit', 'priorityAnd', 'exactlyOne', 'odd'].includes(type) ? { [OWN.type]: type } : {};
		return this.#definition('define-gate', gate, own, this.#formula(gate));
	}

	#formula({ id, type, inputs, condition, k, min, max, table = {} }: TreeGate): Lines {
		const of = (name: string, literals: readonly Literal[], counts = '') => [
			`<${name}${counts}>`,
			...inside(literals.flatMap((literal) => this.#reference(literal))),
			`</${name}>`
		];
		switch (type) {
			case 'inhibit':
				return of('and', condition === undefined ? inputs : [...inputs, condition]);
			case 'priorityAnd':
				return of('and', inputs);
			case 'odd':
				return of('xor', inputs);
			case 'atLeast':
				return of('atleast', inputs, ` min="${k}"`);
			case 'exactlyOne':
				return of('cardinality', inputs, ' min="1" max="1"');
			case 'cardinality':
				return of('cardinality', inputs, ` min="${min}" max="${max}"`);
			case 'table': {
				// A row of the table is a chance of its own that counts where the inputs stand as it says.
				const rows = tableRows(inputs.length).flatMap((row) => {
					const chance = this.#add(`${id} ${row}`, table[row] ?? 0);
					return of('and', [
						...inputs.map((input, i) => (row[i] === 'T' ? input : negationOf(input))),
						chance
					]);
				});
				return ['<or>', ...inside(rows), '</or>'];
			}
			default:
				return of(type, inputs);
		}
	}

	/** Events that exclude one another, as a chain of gates (`exclusive.ts`); each event keeps its own weight. */
	#exclusive(events: readonly TreeEvent[], groups: readonly (readonly string[])[]) {
		const chained: Lines = [];
		const byId = new Map(events.map((event) => [event.id, event]));
		const gone = new Set<string>();
		for (const [g, group] of groups.entries()) {
			let before = 0;
			for (const [i, id] of group.entries()) {
				const event = byId.get(id)!;
				const p = event.p ?? 0;
				this.#places.set(id, placeOf(g, i));
				if (i > 0) {
					const inputs = linkInputs(group.slice(0, i), this.#add(`${id} otherwise`, chanceOf(p, before)));
					this.#kindOf.set(id, 'gate');
					gone.add(id);
					chained.push(
						...this.#definition(
							'define-gate',
							event,
							{ ...ownKind(event), [OWN.weight]: String(p) },
							this.#formula({ id, type: 'and', inputs })
						)
					);
				}
				before += p;
			}
		}
		return { chained, plain: events.filter(({ id }) => !gone.has(id)) };
	}

	#group(group: TreeGroup): Lines {
		const { members, model, factors, staggered } = group;
		const q = this.#model.events.find(({ id }) => id === members[0])?.p ?? 0;
		const n = members.length;
		const [name, from] = staggered
			? (['phi-factor', 1] as const)
			: ({ beta: ['beta-factor', n], multiLetter: ['MGL', 2], alpha: ['alpha-factor', 1] } as const)[model];
		const written = factors.map((factor, i) => (staggered ? factor / choose(n - 1, i) : factor));
		return this.#definition(
			'define-CCF-group',
			group,
			{},
			[
				'<members>',
				...inside(members.flatMap((member) => this.#reference(member))),
				'</members>',
				'<distribution>',
				...inside([`<float value="${q}"/>`]),
				'</distribution>',
				'<factors>',
				...inside(
					written.flatMap((factor, i) => [
						`<factor level="${from + i}">`,
						...inside([`<float value="${factor}"/>`]),
						'</factor>'
					])
				),
				'</factors>'
			],
			` model="${name}"`
		);
	}

	#event(event: TreeEvent): Lines {
		const { kind, p, state } = event;
		if (kind === 'house') {
			const on = state ?? p === 1;
			return this.#definition('define-house-event', event, {}, [`<constant value="${on}"/>`]);
		}
		return this.#definition(
			'define-basic-event',
			event,
			ownKind(event),
			p === undefined ? [] : [`<float value="${p}"/>`]
		);
	}

	#definition(
		element: string,
		notes: TreeEvent | TreeGate | TreeGroup,
		own: Record<string, string>,
		content: Lines,
		more = ''
	): Lines {
		const { id } = notes;
		const name = this.#name(id);
		return [
			`<${element} name="${name}"${more}>`,
			...inside([
				...described(notes, {
					...(name === id ? {} : { [OWN.id]: id }),
					...(this.#places.has(id) ? { [OWN.exclusive]: this.#places.get(id)! } : {}),
					...own
				}),
				...content
			]),
			`</${element}>`
		];
	}
}

const ownKind = ({ kind }: TreeEvent): Record<string, string> =>
	kind === undefined || kind === 'basic' ? {} : { [OWN.kind]: kind };

const inside = (lines: readonly string[]): Lines => lines.map((line) => `\t${line}`);

/** Control characters have no place in XML, not even as references. */
const escaped = (text: string) =>
	text
		// eslint-disable-next-line no-control-regex
		.replace(/[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFD-\uFFFF]/g, '')
		.replace(/&/g, '&amp;')
		.replace(/</g, '&lt;')
		.replace(/>/g, '&gt;')
		.replace(/"/g, '&quot;')
		.replace(/[\t\n\r]/g, (space) => `&#${space.charCodeAt(0)};`);

type Notes = Partial<Pick<TreeEvent, 'label' | 'note' | 'source' | 'attributes'>>;

function described({ label, note, source, attributes = {} }: Notes, own: Record<string, string>): Lines {
	const all = {
		...attributes,
		...own,
		...(note ? { [OWN.note]: note } : {}),
		...(source ? { [OWN.source]: source } : {})
	};
	const free = Object.entries(all).map(
		([name, value]) => `<attribute name="${escaped(name)}" value="${escaped(value)}"/>`
	);
	return [
		...(label ? [`<label>${escaped(label)}</label>`] : []),
		...(free.length === 0 ? [] : ['<attributes>', ...inside(free), '</attributes>'])
	];
}

function leftOut({ findings = [], origins = [], likelihoods = [], given, top }: TreeModel): string[] {
	const counted = (n: number, one: string, more: string) => (n === 0 ? [] : [`${n} ${n === 1 ? one : more}`]);
	const known = Object.entries(given ?? {}).filter(([id, state]) => !(id === top && state));
	return [
		...counted(findings.length, 'finding', 'findings'),
		...counted(origins.length, 'origin', 'origins'),
		...counted(likelihoods.length, 'calculated likelihood', 'calculated likelihoods'),
		...counted(known.length, 'state that is given', 'states that are given')
	];
}
