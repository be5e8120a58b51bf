import type { TreeEvent } from '../schema/anomaly';
import { inputsOf } from './tree';

/** What each event of a tree is called; of several with one title each says under what it hangs. */
export function namesApart(events: Readonly<Record<string, TreeEvent>>): (event: string) => string {
	const called = ({ anomaly, title }: TreeEvent) => `${anomaly} ${title.toLowerCase()}`;
	const counts = new Map<string, number>();
	for (const event of Object.values(events)) counts.set(called(event), (counts.get(called(event)) ?? 0) + 1);
	return (id) => {
		const event = events[id];
		if (!event) return '';
		const { title } = event;
		if (counts.get(called(event)) === 1) return title;
		const over = Object.values(events).filter((parent) => inputsOf(parent).includes(id));
		return over.length === 0
			? title
			: `${title} (under “${over.map((parent) => parent.title).join('” and “')}”)`;
	};
}
