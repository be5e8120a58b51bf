/**
 * The links assumed from what nobody has thought of, while one number is moved: they are made of the starting weights
 * and of the finding's other links, and follow both (`defaultResidualLink`).
 */
import type { Movable } from './assumptions';
import type { Resolved } from './resolve';
import type { Weigher } from './weights';

export interface Assumed {
	/** The event that nobody has thought of. */
	event: string;
	/** Findings whose link from it nobody has set. */
	findings: readonly string[];
}

/** The sign of one observation under the tree's other causes, given the top event: how often none of them leaves it. */
interface Unlinked {
	observation: number;
	/** Its link from what nobody has thought of. */
	link: number;
	absent: number;
	/** By node, how probable it is where the sign is absent. */
	ifAbsent: Float64Array;
}

export class AssumedLinks {
	private readonly all: readonly Unlinked[];
	/** By node, how probable it is whether the sign is there or not. */
	private readonly usual: Float64Array;
	private readonly held: ReadonlyMap<number, boolean>;

	/** @param before  weighs the tree without its evidence and tells of every node */
	constructor(
		private readonly tree: Resolved,
		private readonly before: Weigher,
		{ event, findings }: Assumed
	) {
		const unthought = tree.index.get(event) ?? -1;
		const open = new Set(findings);
		this.held = new Map([[unthought, false], ...(tree.top === undefined ? [] : [[tree.top, true] as const])]);
		before.log(tree, { held: this.held });
		this.usual = before.probabilities();
		this.all = tree.observations.flatMap(({ reports, links }, observation) => {
			const link = links.findIndex(({ from }) => from === 2 * unthought);
			const looked = reports.some(({ state }) => state !== 'notExamined');
			if (link < 0 || !looked || !reports.some(({ id }) => open.has(id))) return [];
			const absent = this.absentIn(tree, observation);
			return [{ observation, link, absent, ifAbsent: before.probabilities() }];
		});
	}

	/** @returns the tree at a value, and its degree in the value; null where it is no polynomial of the first two */
	follow(movable: Movable): { at: (value: number) => Resolved; degree: 1 | 2 | null } {
		const { kind, id, value, linear, at, far } = movable;
		const { all, tree } = this;
		if (kind === 'link') {
			const own = all.find(({ observation: o }) => tree.observations[o]?.reports.some((r) => r.id === id));
			const there = own && this.absentIn(at(far), own.observation);
			// Its own assumed link, once typed, is none any more.
			if (!own || there === own.absent) return { at, degree: 1 };
			const slope = (there! - own.absent) / (far - value);
			return { at: (to) => withLinks(at(to), [own], () => own.absent + slope * (to - value)), degree: 2 };
		}
		if (kind !== 'weight' || all.length === 0) return { at, degree: linear ? 1 : null };
		if (!linear)
			return {
				at: (to) => {
					const moved = at(to);
					return withLinks(moved, all, ({ observation }) => this.absentIn(moved, observation));
				},
				degree: null
			};
		const event = tree.index.get(id) as number;
		const usual = this.usual[event] as number;
		const follows = all.filter(({ ifAbsent }) => ifAbsent[event] !== usual);
		if (follows.length === 0) return { at, degree: 1 };
		return {
			at: (to) => {
				const weighs = (p: number) => (p * to) / value + ((1 - p) * (1 - to)) / (1 - value);
				return withLinks(at(to), follows, ({ absent, ifAbsent }) => {
					const ratio = weighs(ifAbsent[event] as number) / weighs(usual);
					return absent * (Number.isNaN(ratio) ? 1 : ratio);
				});
			},
			degree: null
		};
	}

	/** How often no other cause leaves the sign; 1 where they are impossible or it is there anyway. */
	private absentIn(tree: Resolved, observation: number): number {
		const { before, held } = this;
		const { baseRate } = tree.observations[observation] as Resolved['observations'][number];
		const all = before.log(tree, { held });
		const absent = before.log(tree, { held, alsoAbsent: observation }) - Math.log1p(-baseRate) - all;
		return Number.isNaN(absent) ? 1 : Math.min(1, Math.exp(absent));
	}
}

function withLinks(
	tree: Resolved,
	unlinked: readonly Unlinked[],
	absent: (one: Unlinked) => number
): Resolved {
	const observations = [...tree.observations];
	for (const one of unlinked) {
		const own = observations[one.observation] as Resolved['observations'][number];
		const p = Math.min(1, Math.max(0, 1 - absent(one)));
		const links = own.links.map((link, i) => (i === one.link ? { ...link, p } : link));
		observations[one.observation] = { ...own, links };
	}
	return { ...tree, observations };
}
