import * as v from 'valibot';
import { type TreeModel, treeSchema } from '$lib/reasoning';
import { sameObservation } from '$lib/reasoning/check';
import { readLiteral } from '$lib/reasoning/literal';
import type { Literal, TreeFinding, TreeGate } from '$lib/reasoning/model';
import type { Change, Investigation } from '../case';
import { done, refused } from '../outcome';
import type { Gate, TreeEvent } from '../schema/anomaly';
import { id, LIMITS } from '../schema/common';
import { ASSUMED, RESIDUAL } from '../views/tree-file';
import { type Readable, readable, under } from '../views/tree-readable';
import { operation } from './operation';
import { nextNumber, put } from './records';
import { isUnplanted } from './tree-plant';
import { hook, leaf } from './tree-parts';

const clean = (text: string) =>
	text
		.normalize('NFC')
		.replace(/(?![\n\t])\p{Cc}/gu, '')
		.trim();

/** One line of a record, in place of a name that a file may give at any length. */
const line = (text: string) => {
	const whole = clean(text).replace(/\s+/g, ' ');
	return whole.length > LIMITS.line ? `${whole.slice(0, LIMITS.line - 1)}…` : whole;
};
const titleOf = ({ id: node, label = '' }: Described) => line(label) || line(node);

/** What a file says beside: its notes, free attributes, and a name that was too long for a line. */
function noteOf(described: Described): string {
	const { label = '', note = '', source = '', attributes = {} } = described;
	const free = Object.entries(attributes).filter(([name]) => name !== RESIDUAL);
	return clean(
		[
			line(label).endsWith('…') ? label : '',
			note,
			source,
			...free.map(([name, value]) => `${name}: ${value}`)
		]
			.filter(Boolean)
			.join('\n\n')
	).slice(0, LIMITS.text);
}
type Described = Pick<TreeModel['events'][number], 'id' | 'label' | 'note' | 'source' | 'attributes'>;

/**
 * [T13] A tree from a file is read in whole and in one step. Where no cause stands yet, the causes of an OR go directly
 * under the top event; else it becomes one branch there.
 */
const readTree = operation({
	name: 'anomaly.readTree',
	label: 'Read a tree from a file',
	args: v.object({ anomaly: id, tree: treeSchema }),
	apply: (file: Investigation, { anomaly, tree: given }, { newId }) => {
		const topId = file.anomalies[anomaly]?.top ?? '';
		const top = file.events[topId];
		if (!top?.gate) return refused('This anomaly is no longer there.', 'anomaly');
		const read = readable(given);
		if (!read.ok) return read;
		const records = new Records(anomaly, read.value, newId);
		const spread = isUnplanted(file, anomaly) ? records.spread() : null;
		const changes: Change[] = [];
		if (spread === null) {
			const branch = records.idOf(read.value.top);
			const hooked = hook({ ...file, events: { ...file.events, ...records.events } }, topId, branch);
			if (!hooked.ok) return hooked;
			changes.push(put(file, 'events', topId, hooked.value));
		} else {
			const { causes, residual } = spread;
			const inputs = [...causes, ...top.gate.inputs];
			changes.push(
				put(file, 'events', topId, {
					...top,
					note: top.note || spread.note,
					gate: { ...top.gate, inputs, complete: false }
				})
			);
			const [own] = top.gate.inputs;
			if (residual !== null && own !== undefined)
				changes.push(put(file, 'events', own, { ...file.events[own]!, weight: residual }));
		}
		const first = nextNumber(file.findings);
		return done([
			...changes,
			...Object.entries(records.events).map(([event, record]) => put(file, 'events', event, record)),
			...records.others(file, first)
		]);
	}
});

/** A file's tree as records under fresh identities. */
class Records {
	readonly events: Record<string, TreeEvent> = {};
	readonly #anomaly: string;
	readonly #read: Readable;
	readonly #newId: () => string;
	readonly #ids = new Map<string, string>();
	/** The file's branch that nobody has thought of, where the case's own takes its place. */
	#residual: string | null = null;

	constructor(anomaly: string, read: Readable, newId: () => string) {
		this.#anomaly = anomaly;
		this.#read = read;
		this.#newId = newId;
		const { events, gates = [] } = read.tree;
		for (const { id: node } of [...events, ...gates]) this.#ids.set(node, newId());
		for (const event of events) this.events[this.idOf(event.id)] = this.#basic(event);
		for (const gate of gates) this.events[this.idOf(gate.id)] = this.#intermediate(gate);
	}

	idOf(node: string): string {
		return this.#ids.get(node) ?? '';
	}

	/** The top's own causes, where its gate is an OR: they go under the anomaly's top event, which stands for it. */
	spread(): { causes: string[]; residual: number | null; note: string } | null {
		const { tree, top } = this.#read;
		const gate = tree.gates?.find((own) => own.id === top);
		const isUsed = tree.findings?.some(({ links = [] }) =>
			links.some(({ from }) => readLiteral(from).id === top)
		);
		if (gate?.type !== 'or' || isUsed) return null;
		delete this.events[this.idOf(top)];
		const thought = tree.events.find(({ attributes = {} }) => attributes[RESIDUAL] === 'true');
		const uses = (tree.gates ?? []).filter((own) => under(own).includes(thought?.id ?? ''));
		if (thought && uses.length === 1 && uses[0] === gate) {
			this.#residual = thought.id;
			delete this.events[this.idOf(thought.id)];
		}
		return {
			causes: under(gate)
				.filter((input) => input !== this.#residual)
				.map((input) => this.idOf(input)),
			residual: this.#residual === null ? null : (thought?.p ?? null),
			note: gate.note ?? ''
		};
	}

	#basic(event: TreeModel['events'][number]): TreeEvent {
		const { kind = 'basic', p = 0, state, source = '', ...described } = event;
		const house = kind === 'house';
		return {
			...leaf(this.#anomaly, titleOf(event), kind),
			note: noteOf(house ? event : described),
			weight: house || this.#read.unweighed.has(event.id) ? null : p,
			weightNote: house ? '' : line(source),
			on: house && (state ?? p === 1)
		};
	}

	#intermediate(gate: TreeGate): TreeEvent {
		const { type, k, inputs, condition } = gate;
		const idOf = (input: Literal) => this.idOf(readLiteral(input).id);
		return {
			...leaf(this.#anomaly, titleOf(gate), 'intermediate'),
			note: noteOf(gate),
			gate: {
				// After `plainGates` there are no others.
				type: type as Gate['type'],
				k: type === 'atLeast' ? (k ?? 1) : null,
				inputs: inputs.map(idOf),
				condition: condition === undefined ? null : idOf(condition),
				complete: false
			}
		};
	}

	/** Origins, findings and exclusions. @param first  number of the first finding */
	others(file: Investigation, first: number): Change[] {
		const { exclusive = [], commonCause = [], origins = [], findings = [] } = this.#read.tree;
		const originIds = new Map(origins.map((origin) => [origin.id, this.#newId()]));
		const findingIds = new Map(findings.map((finding) => [finding.id, this.#newId()]));
		// One observation has one base rate, in whichever of its words the file gives it.
		const baseRates = new Map(
			sameObservation(this.#read.tree).flatMap((same) => {
				const rate = same.find(({ baseRate }) => baseRate !== undefined)?.baseRate;
				return same.map((finding) => [finding.id, rate] as const);
			})
		);
		return [
			...exclusive.map((group) =>
				put(file, 'exclusions', this.#newId(), {
					anomaly: this.#anomaly,
					events: group.map((event) => this.idOf(event)),
					reason: 'So says the file that the tree was read from.'
				})
			),
			...commonCause.map((group) => {
				const { members, model, factors, staggered = false, source = '' } = group;
				return put(file, 'commonCauses', this.#newId(), {
					anomaly: this.#anomaly,
					title: titleOf(group),
					events: members.map((member) => this.idOf(member)),
					model,
					factors,
					staggered,
					basis: 'guess',
					basisNote: line(source)
				});
			}),
			...origins.map((origin) => {
				const { reliability, saysAnyway } = origin;
				const record = { name: titleOf(origin), reliability, saysAnyway, note: noteOf(origin) };
				return put(file, 'origins', originIds.get(origin.id)!, record);
			}),
			...findings.map((finding, i) => {
				const { state = 'notExamined', origin, sameAs } = finding;
				return put(file, 'findings', findingIds.get(finding.id)!, {
					anomaly: this.#anomaly,
					number: first + i,
					statement: titleOf(finding),
					state,
					baseRate: baseRates.get(finding.id) ?? 0,
					...(finding.first ? { firstDecides: true } : {}),
					...this.#links(finding),
					origin: originIds.get(origin ?? '') ?? null,
					sameAs: findingIds.get(sameAs ?? '') ?? null,
					evidence: [],
					costMinutes: null,
					destructive: false,
					note: noteOf(finding)
				});
			})
		];
	}

	#links({ links = [], first }: TreeFinding) {
		const read = links.map(({ from, p, note }) => ({ ...readLiteral(from), p, note }));
		const thought = read.find(({ id: node, negated }) => node === this.#residual && !negated && !first);
		return {
			links: read
				.filter((link) => link !== thought)
				.map(({ id: node, negated, p }) => ({ event: this.idOf(node), negated, p })),
			residualLink: thought && thought.note !== ASSUMED ? thought.p : null
		};
	}
}

export const readOps = [readTree];
