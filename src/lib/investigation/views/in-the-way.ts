import type { ConstructionFault } from './construction';

/** Where to go to clear it, and which field of the page takes it. */
export type Where =
	| { view: 'tree'; event: string; field?: ConstructionFault['field'] }
	| { view: 'findings'; finding?: string; field?: 'evidence' }
	| { view: 'conclusion'; event: string; field: 'state' | 'cites' | 'despite' }
	| { view: 'changes' };

/** One thing that stands between an anomaly and its conclusion. */
export interface InTheWay {
	rule: 'branch' | 'construction' | 'finding' | 'conclusion' | 'contradiction' | 'change';
	message: string;
	where: Where;
	/** False: worth doing, but the conclusion does not wait for it. */
	blocks: boolean;
}
