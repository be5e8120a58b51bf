import type { TreeModel } from '$lib/reasoning';

/** The engine speaks of identities; people know titles. */
export function named(
	message: string,
	{ events, gates, findings, likelihoods, origins, commonCause }: TreeModel
): string {
	const labels = new Map(
		[
			...events,
			...(gates ?? []),
			...(findings ?? []),
			...(likelihoods ?? []),
			...(origins ?? []),
			...(commonCause ?? [])
		].map(({ id, label }) => [id, label ?? id])
	);
	const said = message.replace(/'(!?)([a-z0-9-]+)'/g, (whole, not: string, id: string) => {
		const label = labels.get(id);
		return label === undefined ? whole : `${not ? 'not ' : ''}“${label}”`;
	});
	return said.charAt(0).toUpperCase() + said.slice(1) + (/[.!?]$/.test(said) ? '' : '.');
}
