import { calculationById } from '$lib/calculations/registry';
import type { Investigation } from '../case';
import type { TreeEvent } from '../schema/anomaly';
import type { ReadyTree } from '../schema/ready-tree';
import { below, inputsOf } from './tree';

/**
 * The causes beneath an event as a ready tree: events, gates, starting weights and the signs that speak of them. What
 * was found, decided and concluded stays behind, as do the people it rests on and the branch nobody has thought of.
 * @param from  the top event, whose causes are taken, or a branch, which is taken whole
 * @returns null where nothing that somebody thought of stands there
 */
export function keepable(file: Investigation, from: string): ReadyTree | null {
	const root = file.events[from];
	const anomaly = file.anomalies[root?.anomaly ?? ''];
	if (!root || !anomaly) return null;
	const isNamed = (id: string) => file.events[id]?.residual === false;
	// Causes of a top event that takes them all together only make sense with its gate.
	const apart = anomaly.top === from && root.gate?.type === 'or';
	const causes = (apart ? inputsOf(root) : [from]).filter(isNamed);
	if (causes.length === 0) return null;
	const taken = [...new Set(causes.flatMap((cause) => below(file.events, cause)))].filter(isNamed);
	const names = new Map(taken.map((id, i) => [id, `e${i + 1}`]));
	const name = (id: string) => names.get(id)!;
	return {
		note: apart ? withCalculations(file, root) : root.note,
		causes: causes.map(name),
		events: taken.map((id) => {
			const { title, note, weight, weightBasis, weightNote, kind, gate, faultOf, faultClass } =
				file.events[id]!;
			return {
				name: name(id),
				title,
				note,
				weight,
				weightBasis,
				weightNote,
				kind,
				...(faultOf ? { faultOf } : {}),
				...(faultClass ? { faultClass } : {}),
				gate: gate && {
					type: gate.type,
					k: gate.k,
					inputs: gate.inputs.filter(isNamed).map(name),
					condition: gate.condition && name(gate.condition)
				}
			};
		}),
		findings: Object.values(file.findings)
			.sort((a, b) => a.number - b.number)
			// What a test showed belongs to this flight.
			.filter(({ firstDecides }) => !firstDecides)
			.flatMap(({ statement, baseRate, destructive, note, costMinutes, costPractice, links }) => {
				const own = links.filter(({ event }) => names.has(event));
				return own.length === 0
					? []
					: [
							{
								statement,
								baseRate,
								destructive,
								note,
								costMinutes,
								...(costPractice ? { costPractice } : {}),
								links: own.map(({ event, negated, p }) => ({ event: name(event), negated, p }))
							}
						];
			})
	};
}

/** The note of the top event, and the calculations that were run on this anomaly and are not named there. */
function withCalculations(file: Investigation, { note, anomaly }: TreeEvent): string {
	const run = Object.values(file.calculations)
		.filter((one) => one.anomaly === anomaly)
		.flatMap(({ calculation }) => calculationById(calculation)?.title ?? []);
	const more = [...new Set(run)].filter((title) => !note.includes(title));
	if (more.length === 0) return note;
	return [note, `Calculations run on it: ${more.map((title) => `*${title}*`).join(', ')}.`]
		.filter(Boolean)
		.join('\n\n');
}
