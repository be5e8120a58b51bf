import { defineCalculation, type Output } from '../calculation';
import { answer, figure } from './answer';
import { evidence } from './evidence';
import { INPUTS } from './inputs';

const ofKind = (id: string, label: string): Output => ({
	id,
	label,
	dimension: 'length',
	unit: 'm',
	dimensionOf: 'kind'
});
const number = (id: string, label: string, unit = '1'): Output => ({ id, label, dimension: 'ratio', unit });

export const reconcileReadings = defineCalculation({
	id: 'reconcile-readings',
	title: 'Reconciling readings',
	question: 'These readings of one thing differ: do they agree, which one is wrong, and what is the value?',
	version: 1,
	inputs: INPUTS,
	outputs: [
		{ ...ofKind('value', 'Value, each reading counted as far as the others bear it out'), main: true },
		{ ...number('wrong', 'Probability of being wrong', '%'), main: true },
		ofKind('weightedMean', 'Weighted mean, if all are right'),
		number('chance', 'How often right readings scatter this much or more', '%'),
		number('birge', 'Birge ratio, a screening test only'),
		ofKind('median', 'Median, uncertainties aside'),
		ofKind('mandelPaule', 'Mean with one more error in each, as Mandel and Paule find it'),
		ofKind('derSimonianLaird', 'The same, as DerSimonian and Laird find it'),
		number('modifiedZ', 'Modified z, an outlier beyond 3.5')
	],
	sources: [
		{ text: 'JCGM 100:2008 (GUM), 5.2 and example H.2, as transcribed in MSLNZ/GTC', basis: 'seen' },
		{
			text: 'Kacker, Metrologia 41 (2004) 132: weighted mean, DerSimonian-Laird, as transcribed in statsmodels',
			basis: 'seen'
		},
		{
			text: 'Kacker, Kessel, Sommer, J. Res. NIST 115 (2010) 453: the Birge test misreads standard uncertainties (abstract)',
			basis: 'seen'
		},
		{ text: 'Birge 1932; Mandel and Paule 1970; Iglewicz and Hoaglin 1993', basis: 'from memory' },
		{ text: 'Probability of being wrong: Bayes’ rule over all sets of wrong readings', basis: 'hand-worked' },
		{ text: 'Starting probability of a wrong reading', basis: 'common practice, no source' }
	],
	docs: 'methods/reconcile-readings.md',
	check: ({ least, greatest }) =>
		least !== undefined && greatest !== undefined && !(least < greatest)
			? 'the least value of a wrong reading must be below the greatest'
			: undefined,
	// What there is to say follows from the readings, which are observed.
	model: () => ({}),
	evidence,
	addition: answer,
	figure
});
