import type { Investigation } from '../case';
import { shows } from './citations';
import { isTest } from './predictions';
import { pathDown } from './tree';

/**
 * Whether something that is cited speaks for an event: a sign that it would leave, a calculation under which it fits
 * better than something else, the result of a test. A piece, a photo or a statement speaks through the sign that rests
 * on it.
 */
export function speaksFor(file: Investigation, event: string, cites: readonly string[]): boolean {
	const { sign, restsOn, densities } = around(file, event);
	return cites.some((id) => {
		if (!shows(file, id)) return false;
		if (file.findings[id]) return sign(id) === 'for';
		if (!file.calculations[id])
			return isTest(file.evidence[id]) || restsOn(id).some((finding) => sign(finding) === 'for');
		const read = densities(id);
		return !read || (read.mine.length > 0 && Math.max(...read.mine) > Math.min(...read.others));
	});
}

/**
 * Whether something that is cited speaks against an event: a sign that it would leave and that is absent, one that is
 * there and that only others leave, a calculation under which something else fits better. Evidence on which no sign of
 * the tree rests, and the result of a test, is read by whoever cites it.
 */
export function speaksAgainst(file: Investigation, event: string, cites: readonly string[]): boolean {
	const { sign, restsOn, densities } = around(file, event);
	return cites.some((id) => {
		if (!shows(file, id)) return false;
		if (file.findings[id]) return sign(id) === 'against';
		if (!file.calculations[id]) {
			const signs = restsOn(id);
			return signs.length === 0 || signs.some((finding) => sign(finding) === 'against');
		}
		const read = densities(id);
		return !read || Math.max(0, ...read.mine) < Math.max(...read.others);
	});
}

/** What there is to read about one event. */
function around(file: Investigation, event: string) {
	/** On the way from the event to the top, or beneath it. */
	const isNear = (other: string) =>
		pathDown(file, other, event) !== null || pathDown(file, event, other) !== null;
	return {
		sign: (id: string): 'for' | 'against' | 'neither' => {
			const { state, links = [], firstDecides, baseRate = 0 } = file.findings[id] ?? {};
			if (state === 'notExamined') return 'neither';
			if (firstDecides) {
				const told = links.filter(({ event: from, p }) => isNear(from) && p !== baseRate);
				if (told.some(({ p }) => (state === 'present') === p > baseRate)) return 'for';
				return told.length > 0 ? 'against' : 'neither';
			}
			const speaking = links.filter(({ p }) => p > 0);
			const near = speaking.filter((link) => isNear(link.event));
			if (speaking.length === 0) return 'neither';
			if (near.length === 0) return state === 'present' ? 'against' : 'neither';
			return near.some(({ negated }) => (state === 'present') !== negated) ? 'for' : 'against';
		},
		/** Signs of the event's tree that rest on an item and were looked at. */
		restsOn: (item: string) =>
			Object.entries(file.findings).flatMap(([id, { anomaly, state, evidence }]) =>
				anomaly === file.events[event]?.anomaly && state !== 'notExamined' && evidence.includes(item)
					? [id]
					: []
			),
		/** Of a calculation that weighs; one that does not is read by whoever cites it. */
		densities: (id: string) => {
			const { likelihood } = file.calculations[id]!;
			if (!likelihood?.use) return null;
			const [mine, others] = [true, false].map((near) =>
				likelihood.scenarios
					.filter((scenario) => (scenario.event !== null && isNear(scenario.event)) === near)
					.map(({ density }) => density)
			) as [number[], number[]];
			return { mine, others };
		}
	};
}
