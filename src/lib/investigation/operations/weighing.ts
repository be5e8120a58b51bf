import type { Investigation } from '../case';
import type { AnyOperation } from './operation';

export const weighingOps: readonly AnyOperation<Investigation>[] = [];
