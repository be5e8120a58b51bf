/**
 * Investigations whose truth is known, drawn apart from the engine: a random tree, a state of it in which the top event
 * is true, and what would then be found, drawn through links, base rates, origins and calculated densities. Only the
 * tree's format is shared with the engine; gates and signs are evaluated here, on plain booleans.
 */
import { randomStream, type Random } from '../../../../src/lib/probability/generator';
import type { Literal, TreeGate, TreeModel } from '../../../../src/lib/reasoning/model';

export interface Investigation {
	model: TreeModel;
	/** By event and gate: what really was so. */
	truth: Readonly<Record<string, boolean>>;
}

type Truth = Record<string, boolean>;

/** States drawn in search of one in which the top is true, before the tree is given up for another. */
const MAX_DRAWS = 2000;
/** Share of the signs that nobody looks for, whatever the truth. */
const UNEXAMINED = 0.3;

/** The same seed and number give the same investigation. */
export function investigation(seed: number, number: number): Investigation {
	const random = randomStream(seed, `investigation ${number}`);
	for (;;) {
		const tree = new Draw(random).tree();
		for (let i = 0; i < MAX_DRAWS; i++) {
			const truth = stateOf(tree, random);
			if (truth[tree.top]) return { model: { ...tree, ...findingsOf(tree, truth, random) }, truth };
		}
	}
}

type Tree = TreeModel & { top: string; gates: TreeGate[]; exclusive: string[][] };

class Draw {
	constructor(private readonly random: Random) {}

	/** 20 to 28 basic events beneath gates of all kinds, some of them shared. */
	tree(): Tree {
		const events: TreeModel['events'] = Array.from({ length: 20 + below(9, this.random) }, (_, i) => ({
			id: `e${i}`,
			p: 0.005 * 60 ** this.random()
		}));
		const exclusive: string[][] = [];
		if (this.random() < 0.4) {
			const group = events.slice(0, 2 + below(3, this.random));
			for (const event of group) event.p = ((0.2 + 0.75 * this.random()) * 1) / group.length;
			exclusive.push(group.map(({ id }) => id));
		}
		if (this.random() < 0.4) events.push({ id: 'house', kind: 'house', state: this.random() < 0.5 });
		const gates: TreeGate[] = [];
		let open = events.map(({ id }) => id);
		while (open.length > 5) {
			const inputs = new Set(Array.from({ length: 2 + below(3, this.random) }, () => any(open, this.random)));
			if (inputs.size < 2) continue;
			open = open.filter((id) => !inputs.has(id));
			// A shared event: it stands elsewhere in the tree as well.
			if (this.random() < 0.3) inputs.add(any(events, this.random).id);
			const gate = this.gate(`g${gates.length}`, [...inputs]);
			gates.push(gate);
			open.push(gate.id);
		}
		gates.push({ id: 'TOP', type: 'or', inputs: open });
		return { top: 'TOP', events, gates, exclusive };
	}

	private gate(id: string, inputs: string[]): TreeGate {
		const u = this.random();
		const last = inputs.length - 1;
		if (u < 0.5) return { id, type: 'or', inputs };
		if (u < 0.65) return { id, type: 'and', inputs: inputs.slice(0, 2) };
		if (u < 0.75) return { id, type: 'atLeast', k: Math.min(2, inputs.length), inputs };
		if (u < 0.85)
			return { id, type: 'inhibit', inputs: inputs.slice(0, last), condition: inputs[last] ?? '' };
		if (u < 0.93) return { id, type: 'xor', inputs: inputs.slice(0, 2) };
		return { id, type: 'and', inputs: [{ not: inputs[0] ?? '' }, ...inputs.slice(1, 2)] };
	}
}

const below = (n: number, random: Random) => Math.floor(n * random());
const any = <T>(of: readonly T[], random: Random) => of[below(of.length, random)] as T;

/** Draws every event from its starting weight and settles the gates, which stand inputs first. */
function stateOf({ events, gates, exclusive }: Tree, random: Random): Truth {
	const truth: Truth = {};
	for (const { id, p = 0, state } of events) truth[id] = state ?? random() < p;
	for (const group of exclusive) {
		let u = random();
		for (const id of group) {
			const p = events.find((event) => event.id === id)?.p ?? 0;
			truth[id] = u >= 0 && u < p;
			u -= p;
		}
	}
	for (const { id, type, inputs, condition, k = 0 } of gates) {
		const n = inputs.filter((input) => holds(truth, input)).length;
		truth[id] =
			type === 'or'
				? n > 0
				: type === 'atLeast'
					? n >= k
					: type === 'xor'
						? n === 1
						: n === inputs.length && (condition === undefined || holds(truth, condition));
	}
	return truth;
}

const holds = (truth: Truth, literal: Literal) =>
	typeof literal === 'string' ? truth[literal] === true : truth[literal.not] !== true;

/** What was found: signs that the true causes left or that were there anyway, as their origins report them. */
function findingsOf(
	{ events, gates }: Tree,
	truth: Truth,
	random: Random
): Required<Pick<TreeModel, 'origins' | 'findings' | 'likelihoods'>> {
	const nodes = [...events, ...gates.slice(0, -1)].map(({ id }) => id);
	const origins = ['witness', 'sensor'].map((id) => ({
		id,
		reliability: 0.6 + 0.39 * random(),
		saysAnyway: 0.1 + 0.6 * random()
	}));
	/** Each is genuine or not, and says 'present' anyway or not, once and for all that it reports. */
	const moods = new Map(
		origins.map(({ id, reliability, saysAnyway }) => [
			id,
			random() < reliability ? undefined : random() < saysAnyway
		])
	);
	const findings: NonNullable<TreeModel['findings']> = [];
	const signs: boolean[] = [];
	const count = 8 + below(8, random);
	for (let i = 0; i < count; i++) {
		const origin = random() < 0.4 ? any(origins, random).id : undefined;
		// The same observation once more, in other words or through another origin.
		const same = i > 0 && random() < 0.2 ? below(i, random) : undefined;
		const from = new Set(Array.from({ length: 1 + below(3, random) }, () => any(nodes, random)));
		const links = [...from].map((id) => ({
			from: random() < 0.1 ? { not: id } : id,
			p: 0.15 + 0.84 * random()
		}));
		const baseRate = random() < 0.3 ? 0 : 0.25 * random();
		const sign =
			same === undefined
				? [random() < baseRate, ...links.map(({ from, p }) => holds(truth, from) && random() < p)].some(
						Boolean
					)
				: (signs[same] as boolean);
		signs.push(sign);
		const said = (origin === undefined ? undefined : moods.get(origin)) ?? sign;
		findings.push({
			id: `f${i}`,
			state: random() < UNEXAMINED ? 'notExamined' : said ? 'present' : 'absent',
			...(same === undefined ? { links, baseRate } : { sameAs: `f${same}` }),
			...(origin === undefined ? {} : { origin })
		});
	}
	const likelihoods = Array.from({ length: below(3, random) }, (_, i) =>
		likelihood(`l${i}`, nodes, truth, random)
	);
	return { origins, findings, likelihoods };
}

/** A quantity measured: each scenario predicts it as a normal density, the last as a broad one. */
function likelihood(id: string, nodes: readonly string[], truth: Truth, random: Random) {
	const scenarios = [...new Set([any(nodes, random), any(nodes, random)]), undefined].map((event, i) => ({
		event,
		mean: event === undefined ? 0 : 3 * i - 2 + random(),
		spread: event === undefined ? 4 : 0.5 + random()
	}));
	const real = scenarios.find(({ event }) => event === undefined || truth[event]);
	const x = (real?.mean ?? 0) + (real?.spread ?? 1) * normal(random);
	return {
		id,
		scenarios: scenarios.map(({ event, mean, spread }) => ({
			...(event === undefined ? { otherwise: true as const } : { event }),
			density: Math.exp(-(((x - mean) / spread) ** 2) / 2) / (spread * Math.sqrt(2 * Math.PI))
		}))
	};
}

const normal = (random: Random) => Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
