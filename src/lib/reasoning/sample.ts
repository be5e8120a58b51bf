import type { Resolved } from './resolve';
import type { Weighing, WeighOptions } from './weighing';
export function sampleWeighing(_tree: Resolved, _options: WeighOptions): Weighing {
	throw new Error('not yet');
}
