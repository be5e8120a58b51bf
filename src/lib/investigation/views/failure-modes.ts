import type { Investigation } from '../case';

/** One listed failure mode, and where it stands. */
export interface CheckedMode {
	id: string;
	part: string;
	mode: string;
	stands: 'placed' | 'notApplicable' | 'open';
	/** Of a placed one. */
	event: string;
	title: string;
	notApplicable: string;
}

/** Every listed failure mode by part; one whose event was removed since is open again. */
export function crossCheck(file: Investigation): CheckedMode[] {
	return Object.entries(file.failureModes)
		.map(([id, { part, mode, event, notApplicable }]): CheckedMode => {
			const placed = event === null ? undefined : file.events[event];
			return {
				id,
				part: file.parts[part]?.name ?? 'a part no longer listed',
				mode,
				stands: placed ? 'placed' : notApplicable ? 'notApplicable' : 'open',
				event: placed ? event! : '',
				title: placed?.title ?? '',
				notApplicable
			};
		})
		.sort((a, b) => a.part.localeCompare(b.part) || a.id.localeCompare(b.id));
}
