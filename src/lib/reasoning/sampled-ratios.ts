/**
 * What a number that the answer rests on makes of one state's weight when it is moved. Almost all are linear: the
 * weight becomes 1 + (new - old) · slope times what it was, with a slope that the state alone decides.
 */
import type { Assumption } from './assumptions';
import { saidBy, type Chain } from './chain';
import { nameOf } from './literal';
import type { Resolved } from './resolve';

export interface Slope {
	of: (chain: Chain) => number;
	/** In most states, and what is quickest to come by. */
	usual: number;
	/** The least and the greatest that any state could have. */
	least: number;
	most: number;
}

/** @returns undefined where another value would let states count that this one rules out: they are not in the sample */
export function slopeOf(tree: Resolved, { kind, id, from, value }: Assumption): Slope | undefined {
	const either = (isOne: (chain: Chain) => boolean): Slope | undefined =>
		value > 0 && value < 1
			? {
					of: (chain) => (isOne(chain) ? 1 / value : -1 / (1 - value)),
					usual: -1 / (1 - value),
					least: -1 / (1 - value),
					most: 1 / value
				}
			: undefined;
	switch (kind) {
		case 'weight': {
			const node = tree.index.get(id) as number;
			// Exclusive events give way in proportion, so whatever is not this one keeps its share of the rest.
			return either((chain) => chain.holds(2 * node));
		}
		case 'reliability': {
			const origin = tree.origins.findIndex((own) => own.id === id);
			return either((chain) => chain.isGenuine(origin));
		}
		case 'saysAnyway': {
			const origin = tree.origins.findIndex((own) => own.id === id);
			const said = saidBy(tree, origin);
			const [weighs, slope] = said.has('present') ? [value, 1 / value] : [1 - value, -1 / (1 - value)];
			// What says both is never anything but genuine, whatever it says anyway.
			if (said.size !== 1) return bounded(() => 0, 0);
			if (!(weighs > 0)) return undefined;
			return bounded((chain) => (chain.isGenuine(origin) ? 0 : slope), slope);
		}
		case 'density': {
			const l = tree.likelihoods.findIndex((own) => own.id === id);
			const { scenarios = [] } = tree.likelihoods[l] ?? {};
			const own = scenarios.findIndex(
				({ event }) => (event === undefined ? undefined : nameOf(tree, event)) === from
			);
			if (!(value > 0)) return undefined;
			const decides = (chain: Chain) =>
				scenarios.findIndex(({ event }) => event === undefined || chain.holds(event)) === own;
			return bounded((chain) => (decides(chain) ? 1 / value : 0), 1 / value);
		}
		case 'link':
		case 'baseRate':
			return ofSign(tree, kind, id, from, value);
	}
}

const bounded = (of: Slope['of'], extreme: number): Slope => ({
	of,
	usual: 0,
	least: Math.min(0, extreme),
	most: Math.max(0, extreme)
});

/** A sign is there unless neither its base rate nor any link makes it: (1 - b) · (1 - l) · …, linear in each. */
function ofSign(
	tree: Resolved,
	kind: 'link' | 'baseRate',
	id: string,
	from: string | undefined,
	value: number
): Slope | undefined {
	const o = tree.observations.findIndex(({ reports }) => reports.some((report) => report.id === id));
	const { reports, links, baseRate } = tree.observations[o] as Resolved['observations'][number];
	const made = new Set(reports.map(({ state }) => state).filter((state) => state !== 'notExamined'));
	const source = kind === 'link' ? links.find((link) => nameOf(tree, link.from) === from)?.from : undefined;
	const [present, absent] = [made.has('present'), made.has('absent')];
	// Without base rate a sign that nothing else makes is ruled out, and what is certain is never absent.
	if ((present && value === 0 && baseRate === 0) || (absent && value === 1)) return undefined;
	const others = links.filter((link) => link.from !== source);
	const b = kind === 'link' ? baseRate : 0;
	return {
		of: (chain) => {
			if (source !== undefined && !chain.holds(source)) return 0;
			const said = chain.said(o);
			if (said === undefined || said === 'both') return 0;
			if (!said) return -1 / (1 - value);
			const rest = others.reduce(
				(none, link) => (chain.holds(link.from) ? none * (1 - link.p) : none),
				1 - b
			);
			return rest / (1 - rest * (1 - value));
		},
		usual: 0,
		least: absent ? -1 / (1 - value) : 0,
		most: present ? (1 - b) / (1 - (1 - b) * (1 - value)) : 0
	};
}
