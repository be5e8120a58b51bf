import type { Investigation } from '../case';
import type { Change } from '../schema/change';
import { holdsItsBuild, isOpen } from './change-life';
import { asItStands } from './proof';

/** Changes that stand alike: what they hold, or how they ended. */
export interface ChangeGroup {
	/** 'holds' groups one build each. */
	kind: 'holds' | 'open' | 'waits' | 'closed' | 'rejected';
	/** For 'holds': the build's name, '' for every build. */
	build: string;
	changes: [string, Change][];
}

/** All changes by what they hold; what holds a build comes first, what is over comes last. */
export function changeGroups(file: Investigation): ChangeGroup[] {
	const groups = new Map<string, ChangeGroup>();
	for (const [id, kept] of Object.entries(file.changes).sort(([, a], [, b]) => a.number - b.number)) {
		const change = asItStands(file, kept);
		const kind = kindOf(change);
		const build = kind === 'holds' ? change.buildName : '';
		const group = groups.get(`${kind} ${build}`) ?? { kind, build, changes: [] };
		group.changes.push([id, change]);
		groups.set(`${kind} ${build}`, group);
	}
	return [...groups.values()].sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind));
}

const ORDER = ['holds', 'open', 'waits', 'closed', 'rejected'] as const;

function kindOf(change: Change): ChangeGroup['kind'] {
	if (holdsItsBuild(change)) return 'holds';
	if (!isOpen(change)) return change.state === 'closed' ? 'closed' : 'rejected';
	return change.state === 'verified' || change.state === 'flown' ? 'waits' : 'open';
}
