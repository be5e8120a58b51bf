import { calculationById } from '$lib/calculations/registry';
import type { FaultClass } from '$lib/investigation/schema/anomaly';
import type { ReadyTree } from '$lib/investigation/schema/ready-tree';

/** A step of the scale 'how often' that the pages offer. All in the trees are common practice, no source. */
export type Often = 0.001 | 0.01 | 0.05 | 0.1 | 0.3 | 0.5 | 0.7 | 0.9 | 0.99;

/** The failed state of a part, not developed further. */
interface Leaf {
	name: string;
	title: string;
	often: Often;
	fault: FaultClass;
	undeveloped?: true;
}
/** A configuration of the vehicle, switched off when planted. */
interface House {
	name: string;
	house: string;
}
/** An intermediate event over its immediate causes. */
interface Step {
	name: string;
	title: string;
	/** OR where it is left out. */
	gate?: 'and';
	of: readonly Cause[];
}
/** A text is the name of an event that stands elsewhere in the tree and is shared. */
export type Cause = Leaf | House | Step | string;

/** Something to look for, where, how often it is there on a sound flight, and how often each event leaves it. */
export interface Sign {
	sign: string;
	where: string;
	anyway: Often;
	shownBy: Readonly<Record<string, Often>>;
	/** What looking takes, roughly, once the part is at hand. */
	minutes: number;
	/** Looking destroys something. */
	destructive?: true;
}

/** A common anomaly as the trade knows it: written by us from the trade's knowledge, no source. */
export interface StartingTree {
	id: string;
	title: string;
	/** When to take it, one line. */
	takeIt: string;
	causes: readonly Cause[];
	signs: readonly Sign[];
	/** Calculations that tell the causes apart. */
	calculations: readonly string[];
}

const FAULT_WORDS: Record<FaultClass, string> = {
	primary: 'Primary fault: it failed under what it was made for.',
	secondary: 'Secondary fault: it met more than it was made for. Ask what brought that.',
	command: 'Command fault: it did as it was told, at the wrong time or not at all. Ask what told it.'
};

/** The tree as `anomaly.plant` takes it. */
export function readyTree({ causes, signs, calculations }: StartingTree): ReadyTree {
	const events: ReadyTree['events'] = [];
	const name = (cause: Cause) => (typeof cause === 'string' ? cause : cause.name);
	const walk = (cause: Cause) => {
		if (typeof cause === 'string') return;
		const plain = { name: cause.name, note: '', weight: null, gate: null };
		if ('house' in cause) events.push({ ...plain, title: cause.house, kind: 'house' });
		else if ('of' in cause) {
			const gate = {
				type: cause.gate ?? ('or' as const),
				k: null,
				inputs: cause.of.map(name),
				condition: null
			};
			events.push({ ...plain, title: cause.title, kind: 'intermediate', gate });
			cause.of.forEach(walk);
		} else
			events.push({
				...plain,
				title: cause.title,
				kind: cause.undeveloped ? 'undeveloped' : 'basic',
				weight: cause.often,
				faultClass: cause.fault,
				note: FAULT_WORDS[cause.fault]
			});
	};
	causes.forEach(walk);
	const titles = calculations.map((id) => `*${calculationById(id)?.title ?? id}*`).join(', ');
	return {
		note: `Calculations that can tell these causes apart: ${titles}.`,
		causes: causes.map(name),
		events,
		findings: signs.map(({ sign, where, anyway, shownBy, minutes, destructive = false }) => ({
			statement: sign,
			note: `Where to look: ${where}.`,
			baseRate: anyway,
			destructive,
			costMinutes: minutes,
			costPractice: true,
			links: Object.entries(shownBy).map(([event, p]) => ({ event, negated: false, p }))
		}))
	};
}
