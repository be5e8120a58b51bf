import type { Investigation } from '../case';
import type { AnyOperation } from './operation';

export const evidenceOps: readonly AnyOperation<Investigation>[] = [];
