import type { Investigation } from '../case';
import type { Evidence, EvidenceOf } from '../schema/evidence';
import type { Prediction } from '../schema/prediction';

/** All that was predicted of a test, the withdrawn too, in the order in which it was locked. */
export const predictionsOf = (file: Investigation, test: string): [string, Prediction][] =>
	Object.entries(file.predictions)
		.filter(([, prediction]) => prediction.test === test)
		.sort(([a, one], [b, other]) => one.at.localeCompare(other.at) || a.localeCompare(b));

/** The prediction that stands for a test, or undefined. */
export const standingPrediction = (file: Investigation, test: string): [string, Prediction] | undefined =>
	predictionsOf(file, test).find(([, { withdrawn }]) => withdrawn === null);

export const isTest = (item: Evidence | undefined): item is EvidenceOf<'test'> => item?.kind === 'test';

export const hasResult = (item: EvidenceOf<'test'>): boolean => item.result !== '' || item.value !== null;
