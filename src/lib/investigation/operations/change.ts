import type { Investigation } from '../case';
import type { AnyOperation } from './operation';

export const changeOps: readonly AnyOperation<Investigation>[] = [];
