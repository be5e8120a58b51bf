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
	/** On the way from the event to the top, or beneath it. */
	const isNear = (other: string) =>
		pathDown(file, other, event) !== null || pathDown(file, event, other) !== null;
	const isSign = (id: string): boolean => {
		const { state, links = [], firstDecides, baseRate = 0 } = file.findings[id] ?? {};
		if (firstDecides)
			return links.some(
				({ event: from, p }) =>
					isNear(from) && (state === 'present' ? p > baseRate : state === 'absent' && p < baseRate)
			);
		return links.some(
			({ event: from, negated, p }) =>
				p > 0 && isNear(from) && (negated ? state === 'absent' : state === 'present')
		);
	};
	const fits = (id: string): boolean => {
		const { likelihood } = file.calculations[id]!;
		// One that does not weigh is read by whoever cites it.
		if (!likelihood?.use) return true;
		const [mine, others] = [true, false].map((near) =>
			likelihood.scenarios
				.filter((scenario) => (scenario.event !== null && isNear(scenario.event)) === near)
				.map(({ density }) => density)
		) as [number[], number[]];
		return mine.length > 0 && Math.max(...mine) > Math.min(...others);
	};
	return cites.some((id) => {
		if (!shows(file, id)) return false;
		if (file.findings[id]) return isSign(id);
		if (file.calculations[id]) return fits(id);
		return (
			isTest(file.evidence[id]) ||
			Object.entries(file.findings).some(([sign, { evidence }]) => evidence.includes(id) && isSign(sign))
		);
	});
}
