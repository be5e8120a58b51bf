import { getContext, setContext } from 'svelte';
import { type Contribution, type NodeWeight, type Weighing, withFlatWeights } from '$lib/reasoning';
import { eventsOfPart, nameIn, partsIn } from '$lib/investigation/views/common-cause';
import type { TreeEvent } from '$lib/investigation/schema/anomaly';
import { aloneIn } from '$lib/investigation/views/alone';
import { eventsOf } from '$lib/investigation/views/tree';
import { leadOf } from '$lib/investigation/views/leading';
import { manyOutcomes } from '$lib/investigation/views/looks';
import { namesApart } from '$lib/investigation/views/names-apart';
import { lookAgain } from '$lib/investigation/views/look-again';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import type { Weighed as ForClosure } from '$lib/investigation/views/closure';
import type { OpenInvestigation } from '../case/open-case.svelte';
import { mayReplace } from '../ui/unsaved';
import { NONE, toggled } from './handles';
import { Weigher } from '../weighing/weigher.svelte';

/** The numbers shown are nobody's own, so nothing is decided on them. */
export const EQUAL_STARTS =
	'The numbers shown are those with equal starts. Go back to your own weights first.';

/** What the four views of one anomaly share: what is chosen, what is folded, and how it weighs. */
export class AnomalyDesk {
	readonly id: string;
	readonly #open: () => OpenInvestigation;
	readonly weigher = new Weigher();
	/** Event that is chosen; the top where none is. */
	#chosen = $state<string | null>(null);
	/** Place at which it was chosen: the parent, where an event stands in several places. */
	chosenUnder = $state<string | null>(null);
	#finding = $state<string | null>(null);
	/** Event whose link to the chosen finding is to be said, where a cell of the matrix asked for it. */
	linking = $state<string | null>(null);
	/** What on the sheet led to a margin that stands below it. */
	cameFrom = $state.raw<HTMLElement | null>(null);
	folded = $state.raw(NONE);
	lit = $state.raw(NONE);
	/** Event whose argument is laid out on the page, where one is. */
	argued = $state<string | null>(null);
	/** Starting weights that are only being tried, while a slider is dragged. */
	tried = $state.raw<Readonly<Record<string, number>>>({});

	constructor(open: () => OpenInvestigation, id: string) {
		this.#open = open;
		this.id = id;
	}

	readonly file = $derived.by(() => this.#open().file);
	readonly anomaly = $derived.by(() => this.file.anomalies[this.id]);
	#eventsBefore: Readonly<Record<string, TreeEvent>> = {};
	/** The same object while no event has changed: a sign that is turned leaves the tree as it is. */
	readonly events = $derived.by(() => {
		const now = eventsOf(this.file, this.id);
		const before = this.#eventsBefore;
		const isSame =
			now.length === Object.keys(before).length && now.every(([id, event]) => before[id] === event);
		return isSame ? before : (this.#eventsBefore = Object.fromEntries(now));
	});
	/** What an event is called, told apart from others of the same title. */
	readonly titleOf = $derived.by(() => namesApart(this.events));
	readonly #alone = $derived.by(() => aloneIn(this.events));
	readonly findings = $derived.by(() =>
		Object.entries(this.file.findings)
			.filter(([, finding]) => finding.anomaly === this.id)
			.sort(([, a], [, b]) => a.number - b.number)
	);
	/** How often an event by itself shows a sign of this tree, the base rate included. */
	alone = (finding: string, event: string) =>
		this.#alone(this.file.findings[finding]!, event, this.residualLinks[finding]);
	readonly chosen = $derived.by(() =>
		this.#chosen !== null && this.events[this.#chosen] ? this.#chosen : (this.anomaly?.top ?? '')
	);
	readonly request = $derived.by(() => ({
		...toTreeModel(this.file, this.id, this.tried),
		// Equal starts are looked at at leisure: all that follows is worked out for them too.
		trying: Object.keys(this.tried).length > 0 && !this.isFlat,
		argued: this.argued,
		looks: manyOutcomes(this.file, this.id)
	}));

	readonly #parts = $derived.by(() => partsIn(this.file, this.id));
	/** What an id is called that a combination or an explanation names: an event, a part of a group, or not that. */
	nameOf = (id: string) => nameIn(this.file, this.#parts, id);
	/** The events that these make true: what lights up in the tree. */
	eventsOf = (ids: readonly string[]) =>
		ids.flatMap((id) => eventsOfPart(this.#parts, id)).filter((id, i, all) => all.indexOf(id) === i);

	readonly weighing = $derived.by((): Omit<Weighing, 'compiled'> | null =>
		this.weigher.answer?.ok ? this.weigher.answer.weighing : null
	);
	/** By finding, where nobody set it: the link from what nobody has thought of that was assumed. */
	readonly residualLinks = $derived.by((): Readonly<Record<string, number>> =>
		this.weigher.answer?.ok ? this.weigher.answer.residualLinks : {}
	);
	/** Events and gates alike: both are events to a person. */
	readonly weights = $derived.by((): Record<string, NodeWeight> => ({
		...this.weighing?.events,
		...this.weighing?.gates
	}));
	/** What leads, or cannot be told apart. */
	readonly lead = $derived.by(() => leadOf(this.events, this.weights));
	readonly contributions = $derived.by((): readonly Contribution[] => this.weigher.told?.contributions ?? []);
	/** Probability of an event given everything, as it stood when the contributions were worked out. */
	withAll(event: string): number | null {
		return this.weigher.told?.givenAll[event] ?? null;
	}
	/** Probability of an event given everything but this piece; undefined where it is not known. */
	without(piece: Contribution, event: string): number | undefined {
		return piece.withoutIt[event];
	}

	/** What the closure rules take from the weighing. */
	readonly forClosure = $derived.by((): ForClosure => {
		const known = Object.entries(this.weights).flatMap(([id, { givenAll }]) =>
			givenAll === null ? [] : [[id, givenAll] as const]
		);
		return { givenAll: Object.fromEntries(known), contradiction: this.contradiction };
	});
	/** Why the conclusion is to be looked at again; a weight that is only tried moves nothing. */
	readonly again = $derived.by(() =>
		lookAgain(this.file, this.id, Object.keys(this.tried).length === 0 ? this.forClosure : undefined)
	);
	readonly contradiction = $derived.by(() => this.weighing?.contradiction?.message ?? null);

	/** A person chooses an event; what they typed beside the one chosen before is not lost unasked. */
	choose(event: string | null, under: string | null = null) {
		if (event === this.chosen || mayReplace('event-notes')) this.show(event, under);
	}
	show(event: string | null, under: string | null = null) {
		this.#chosen = event;
		this.chosenUnder = under;
	}

	get finding() {
		return this.#finding;
	}
	set finding(finding: string | null) {
		if (finding === this.#finding || mayReplace('finding-notes')) {
			if (finding !== this.#finding) this.linking = null;
			this.#finding = finding;
		}
		if (this.#finding !== null) this.expectTurned(this.#finding);
	}

	/** A hand rests on this sign: what its being there and its absence would do is made ready. */
	expectTurned(id: string) {
		const states = (['present', 'absent'] as const).filter(
			(state) => state !== this.file.findings[id]?.state
		);
		this.weigher.expect(() =>
			states.flatMap((state) => {
				const finding = this.file.findings[id];
				if (!finding) return [];
				const turned = { ...this.file, findings: { ...this.file.findings, [id]: { ...finding, state } } };
				return [{ ...toTreeModel(turned, this.id), trying: true, argued: null }];
			})
		);
	}

	fold(event: string) {
		this.folded = toggled(this.folded, event);
	}

	/** Weighs a starting weight without keeping it. */
	try(event: string, weight: number | null) {
		const { [event]: _, ...others } = this.tried;
		this.tried = weight === null ? others : { ...others, [event]: weight };
	}

	/** Every cause starts equal, to see what the evidence says by itself; nothing is kept. */
	readonly isFlat = $derived.by(() => Object.keys(this.tried).length > 1);
	setFlat(flat: boolean) {
		const { events } = withFlatWeights(toTreeModel(this.file, this.id).model);
		this.tried = flat
			? Object.fromEntries(events.flatMap(({ id, p }) => (p === undefined ? [] : [[id, p]])))
			: {};
	}

	do = (operation: string, args: unknown) => this.#open().do(operation, args);
	get address() {
		return `/investigations/${this.#open().id}/anomalies/${this.id}`;
	}
	get investigation() {
		return this.#open().id;
	}
}

const KEY = Symbol('anomaly');
export const provideDesk = (desk: AnomalyDesk) => setContext(KEY, desk);
export const useDesk = (): AnomalyDesk => getContext<AnomalyDesk>(KEY);
