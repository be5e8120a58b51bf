import type { ObservationValue } from '$lib/reasoning';
import type { Finding } from '$lib/investigation/schema/anomaly';
import { hasResult, isTest } from '$lib/investigation/views/predictions';
import type { AnomalyDesk } from '../anomaly/desk.svelte';

export interface NextLook extends ObservationValue {
	finding: Finding;
	/** Tests without a result that the sign cites: it is what they would show. */
	tests: readonly { id: string; number: number; title: string }[];
	/** Minutes, or null where nobody has said. */
	cost: number | null;
	/** Bits an hour. */
	perHour: number | null;
}

/** Bits below which a look changes nothing that anybody would see. */
export const NEXT_TO_NOTHING = 0.005;

/** Signs that nobody has looked at, by what they are expected to tell, the most telling first. */
export function nextLooks(desk: AnomalyDesk): NextLook[] {
	return (desk.weigher.deeper?.information?.observations ?? [])
		.flatMap((observation) => {
			const finding = desk.file.findings[observation.id];
			if (finding?.state !== 'notExamined') return [];
			const cost = finding.costMinutes;
			const tests = finding.evidence.flatMap((id) => {
				const item = desk.file.evidence[id];
				return isTest(item) && !item.withdrawn && !hasResult(item)
					? [{ id, number: item.number, title: item.title }]
					: [];
			});
			return [
				{ ...observation, finding, tests, cost, perHour: cost ? (60 * observation.bits) / cost : null }
			];
		})
		.sort((a, b) => b.bits - a.bits);
}
