import type { Investigation } from '../case';
import type { AnyOperation } from './operation';

export const treeOps: readonly AnyOperation<Investigation>[] = [];
