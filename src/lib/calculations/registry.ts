import type { AnyCalculation } from './calculation';
import { fallSeparation } from './fall-separation/fall-separation';

/** Every calculation, in the order in which they are offered. */
export const CALCULATIONS: readonly AnyCalculation[] = [fallSeparation];

export const calculationById = (id: string): AnyCalculation | undefined =>
	CALCULATIONS.find((c) => c.id === id);
