import type { Investigation } from '../case';
import type { AnyOperation } from './operation';

export const conclusionOps: readonly AnyOperation<Investigation>[] = [];
