import { checkTree, type CutSets, minimalCutSets, weigh, type Weighing } from '$lib/reasoning';
import type { ToWeigh } from '$lib/investigation/views/tree-model';

export type WeighRequest = ToWeigh;

/** What came of weighing one anomaly, or in words why it can't be weighed. Plain data: it crosses to the page. */
export type Weighed =
	| { ok: true; weighing: Omit<Weighing, 'compiled'>; residualLinks: Record<string, number>; ms: number }
	| { ok: false; problems: string[] };

let compiled: Weighing['compiled'];

/** Weighs; the diagrams of the call before are used again where only numbers have changed. */
export function weighCase({ model, residual, byDefault }: WeighRequest): Weighed {
	const problems = checkTree(model);
	if (problems.length > 0) return { ok: false, problems: problems.map((p) => named(p, model)) };
	const started = performance.now();
	void residual;
	void byDefault;
	const { compiled: kept, ...weighing } = weigh(model, { reuse: compiled });
	compiled = kept;
	return { ok: true, weighing, residualLinks: {}, ms: performance.now() - started };
}

void (null as CutSets | null);
void minimalCutSets;
/** The engine speaks of identities; people know titles. */
export function named(
	message: string,
	{ events, gates, findings, likelihoods, origins }: WeighRequest['model']
): string {
	const labels = new Map(
		[...events, ...(gates ?? []), ...(findings ?? []), ...(likelihoods ?? []), ...(origins ?? [])].map(
			({ id, label }) => [id, label ?? id]
		)
	);
	const said = message.replace(/'([a-z0-9-]+)'/g, (whole, id: string) => {
		const label = labels.get(id);
		return label === undefined ? whole : `“${label}”`;
	});
	return said.charAt(0).toUpperCase() + said.slice(1) + (/[.!?]$/.test(said) ? '' : '.');
}
