/** Weighing causes exactly: the public face of this folder. */
export * from './model';
export { parseTree, type TreeResult } from './tree-file';
export { checkTree } from './check';
export { MAX_SHARING, partsOf, type Part as CommonCausePart } from './common-cause';
export { contributionsTo, decibans, weigh } from './weigh';
export type {
	Contribution,
	Explanation,
	Explanations,
	NodeWeight,
	Refusable,
	WeighOptions,
	Weighing
} from './weighing';
export type { Contradiction } from './contradiction';
export { HOW_OFTEN, strengthOfEvidence, wordForProbability } from './words';
export {
	boundsApart,
	importance,
	importanceAndCutSets,
	type Importance,
	type ImportanceResult
} from './importance';
export { minimalCutSets, type CutSet, type CutSets } from './minimal-cut-sets';
export { mostProbableExplanations } from './explanation';
export { information } from './information';
export type { InformationResult, ObservationValue, Outcomes } from './looks';
export { expectedInformation, type LookValue, type ManyOutcomes } from './expected-information';
export { defaultResidualLink } from './residual';
export { jointProbability, togetherGivenAll, type Joint } from './joint';
export { readOpenPsa, type OpenPsaResult, writeOpenPsa } from './open-psa';
export { type Step, type Steps } from './step';
export { stepsOf } from './steps';
export { outcomesFor } from './outcomes';
export { withFlatWeights, type Assumption } from './assumptions';
export { robustness } from './robustness';
export type { Overturn, Robustness, Swept } from './stands';
export { nearContradiction } from './near-contradiction';
export type { NearContradiction } from './almost-impossible';
export { type Alike, alikeFindings, doubleCounts, type DoubleCount } from './alike';
