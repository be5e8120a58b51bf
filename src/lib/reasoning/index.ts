/** Weighing causes exactly: the public face of this folder. */
export * from './model';
export { parseTree, type TreeResult } from './tree-file';
export { checkTree } from './check';
export { decibans, weigh } from './weigh';
export type { Contribution, NodeWeight, WeighOptions, Weighing } from './weighing';
export type { Contradiction } from './contradiction';
export { strengthOfEvidence, wordForProbability } from './words';
