/** How the story grows a tree, links signs and decides: thin words over the named operations, and the honesty checks. */
import type { DispositionState } from '$lib/investigation/schema/anomaly';
import { changeFollows, standsInTheWay } from '$lib/investigation/views/closure';
import { eventsOf, isBranch } from '$lib/investigation/views/tree';
import type { Bench } from './bench';

type Basis = 'guess' | 'commonPractice' | 'ownHistory' | 'test';

/** One event with what stands beneath it. */
export type Node =
	| { id: string; title: string; p: number; basis: Basis; why: string; undeveloped?: true }
	| { id: string; title: string; house: boolean; note: string }
	| {
			id: string;
			title: string;
			gate: 'or' | 'and' | 'atLeast' | 'inhibit';
			k?: number;
			condition?: { id: string; title: string; p: number; why: string };
			inputs: (Node | { shared: string })[];
	  };

export async function state(
	bench: Bench,
	id: string,
	record: {
		title: string;
		expected: string;
		observed: string;
		when: string;
		consequence: string;
		phase: string;
		firstImpression: string;
		subject: string;
		failedState: string;
		boundary: string[];
	},
	topTitle: string,
	residual: number,
	causes: readonly Node[],
	/** What was thought before any sign was looked at, by branch. */
	impressions: Readonly<Record<string, string>>
): Promise<void> {
	bench.ids(`${id}-00`, `${id}-99`);
	await bench.do('anomaly.state', { id, record, topTitle });
	await weigh(bench, `${id}-99`, residual, 'guess', 'own habit: one cause in thirty was on nobody’s list');
	for (const cause of causes) await grow(bench, `${id}-00`, cause);
	await bench.do('event.setComplete', { event: `${id}-00`, complete: true });
	await bench.do('impression.seal', {
		anomaly: id,
		of: Object.entries(impressions).map(([event, p]) => ({ event, p }))
	});
}

const weigh = (bench: Bench, event: string, weight: number, weightBasis: Basis, weightNote: string) =>
	bench.do('event.weigh', { event, weight, weightBasis, weightNote });

async function grow(bench: Bench, under: string, node: Node | { shared: string }): Promise<void> {
	if ('shared' in node) {
		await bench.do('event.share', { event: node.shared, under });
		return;
	}
	const { id, title } = node;
	const kind = 'house' in node ? 'house' : 'undeveloped' in node ? 'undeveloped' : 'basic';
	await bench.do('event.add', { id, under, kind, title });
	if ('p' in node) await weigh(bench, id, node.p, node.basis, node.why);
	if ('house' in node) await bench.do('event.change', { id, record: { on: node.house, note: node.note } });
	if (!('gate' in node)) return;
	for (const input of node.inputs) await grow(bench, id, input);
	if (node.condition) bench.ids(node.condition.id);
	if (node.gate !== 'or') await bench.do('event.setGate', { event: id, type: node.gate, k: node.k ?? null });
	if (node.condition) {
		const { id: condition, title: words, p, why } = node.condition;
		await bench.do('event.change', { id: condition, record: { title: words } });
		await weigh(bench, condition, p, 'guess', why);
	}
	await bench.do('event.setComplete', { event: id, complete: true });
	// None of these is the state of one part: each says what must come together.
	await bench.do('event.setFault', { event: id, faultOf: 'system' });
}

interface Sign {
	statement: string;
	state: 'present' | 'absent' | 'notExamined';
	base: number;
	/** Event to probability; '!event' for when it did not happen. */
	links: Record<string, number>;
	evidence?: string[];
	origin?: string;
	sameAs?: string;
	cost?: number;
	destructive?: true;
	note?: string;
}

export async function sign(bench: Bench, anomaly: string, id: string, given: Sign): Promise<void> {
	const { statement, state: seen, base, links, evidence = [], origin = null, sameAs = null } = given;
	await bench.do('finding.add', {
		id,
		anomaly,
		record: {
			statement,
			state: seen,
			baseRate: base,
			links: Object.entries(links).map(([from, p]) => ({
				event: from.replace(/^!/, ''),
				negated: from.startsWith('!'),
				p
			})),
			residualLink: null,
			origin,
			sameAs,
			evidence,
			costMinutes: given.cost ?? null,
			destructive: given.destructive ?? false,
			note: given.note ?? ''
		}
	});
}

/** What a word may be said of: the range in which the event's probability must lie. */
const RANGES: Partial<Record<DispositionState, [number, number]>> = {
	ruledOutByEvidence: [0, 0.05],
	ruledOutByCalculation: [0, 0.05],
	unlikely: [0, 0.45],
	likely: [0.55, 0.95],
	contributed: [0.55, 1],
	established: [0.95, 1]
};

/** Decides a branch and refuses a word that its weight does not bear. */
export async function decide(
	bench: Bench,
	anomaly: string,
	event: string,
	disposition: DispositionState,
	reason: string,
	cites: string[],
	causeType?: 'proximate' | 'intermediate' | 'root' | 'contributing'
): Promise<void> {
	// To a figure that people read: the last digits belong to the engine's version.
	const weight = Number(((await bench.weights(anomaly))[event] ?? Number.NaN).toFixed(4));
	const [low, high] = RANGES[disposition] ?? [0, 1];
	if (!(weight >= low && weight <= high))
		throw new Error(`${event} stands at ${weight.toFixed(3)}: it can’t be called ${disposition}`);
	await bench.do('disposition.set', { event, state: disposition, reason, cites, weightThen: weight });
	if (causeType) await bench.do('causeType.set', { event, causeType });
}

export const percent = (p: number) =>
	p > 0.99 ? 'over 99 %' : p < 0.01 ? 'under 1 %' : `${Math.round(p * 100)} %`;

/** Writes the conclusion; nothing may stand in its way, and what the text leans on must hold. */
export async function conclude(
	bench: Bench,
	anomaly: string,
	record: Record<string, unknown>,
	claims: readonly [words: string, holds: boolean][]
): Promise<void> {
	const wrong = claims.filter(([, holds]) => !holds).map(([words]) => words);
	if (wrong.length > 0)
		throw new Error(`${anomaly}: the numbers do not say that ${wrong.join('; nor that ')}`);
	const file = await bench.file();
	const givenAll = await bench.weights(anomaly);
	const blocking = standsInTheWay(file, anomaly, { givenAll, contradiction: null }).filter(
		({ blocks }) => blocks
	);
	if (blocking.length > 0) throw new Error(`${anomaly}: ${blocking.map(({ message }) => message).join(' ')}`);
	await bench.do('conclusion.write', {
		anomaly,
		record: { nextTest: '', noChangeReason: '', ...record },
		weights: await bench.numbers(anomaly)
	});
}

/** For whoever tunes the story: every event as it stands. */
export async function show(bench: Bench, anomaly: string): Promise<string> {
	const file = await bench.file();
	const weights = await bench.weights(anomaly);
	return eventsOf(file, anomaly)
		.map(
			([id, event]) =>
				`${id} ${(weights[id] ?? Number.NaN).toFixed(4)} ${isBranch(event) ? event.disposition.state : event.kind} ${event.title}`
		)
		.concat(changeFollows(file, anomaly).map(({ message }) => message))
		.join('\n');
}
