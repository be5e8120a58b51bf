/**
 * What our trees say and the open format has no element for stands in its free attributes under these names, so that
 * a tree that is written and read again is the same tree. Other readers pass over them.
 */
export const OWN = {
	/** The id, where it is no identifier. */
	id: 'witness-mark-id',
	/** Top event of the tree. */
	top: 'witness-mark-top',
	/** Type of a gate that the format writes as a plainer one: inhibit, priorityAnd, exactlyOne, odd. */
	type: 'witness-mark-type',
	/** Kind of a basic event: undeveloped, conditioning. */
	kind: 'witness-mark-kind',
	/** Group and place of an event that excludes others. */
	exclusive: 'witness-mark-exclusive',
	/** Its weight. */
	weight: 'witness-mark-p',
	note: 'witness-mark-note',
	source: 'witness-mark-source'
} as const;
