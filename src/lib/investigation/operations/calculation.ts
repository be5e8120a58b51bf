import type { Investigation } from '../case';
import type { AnyOperation } from './operation';

export const calculationOps: readonly AnyOperation<Investigation>[] = [];
