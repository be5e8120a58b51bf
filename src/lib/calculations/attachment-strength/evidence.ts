import type { Evidence, Observation, QuantityField, Role } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import type { Inputs } from './inputs';
import { firstToFail, isUnknown, nameOf, strengthsOf, unknownWords } from './links';
import { formatSi } from '$lib/quantity/format';

const force = (id: string, label: string, role: Role): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	role,
	dimension: 'force',
	unit: 'N',
	required: true,
	range: { above: 0, max: 1e7 }
});
const newtons = (n = 0) => formatSi(n, 'force', { unit: 'N', figures: 3 });

/** Probability of what happened (1 or 0) under one load; the outcomes are the links, in order, and -1: all held. */
const happened = (x: Inputs, seen: Observation | undefined, load: number, random: () => number) =>
	seen?.kind === 'outcome' && firstToFail(strengthsOf(x, random), load) === seen.happened ? 1 : 0;

const ofLoad = (id: string, label: string, help: string): Evidence<Inputs>['scenarios'][number] => ({
	id,
	label,
	help,
	inputs: [
		force('from', 'Least peak load', 'least peak load'),
		force('to', 'Greatest peak load', 'greatest peak load')
	],
	distribution: 'Every load between the two is equally probable by ratio.',
	describe: ({ from, to }) => `${label}, ${newtons(from)} to ${newtons(to)}`,
	check: ({ from = 0, to = 0 }) => (to > from ? undefined : 'the least load must be less than the greatest'),
	predict: (x, { from = 0, to = 0 }, [seen], random) => [
		happened(x, seen, from * (to / from) ** random(), random)
	]
});

export const evidence: Evidence<Inputs> = {
	trials: 'such loads',
	observed: [
		{
			kind: 'choice',
			id: 'happened',
			label: 'What happened to the path',
			options: [
				{ id: 'not-said', label: 'Not looked at' },
				{ id: 'failed', label: 'A link failed' },
				{ id: 'held', label: 'All links held' }
			],
			default: { text: 'not-said', origin: 'nothing is taken as seen' }
		},
		{
			kind: 'text',
			id: 'failed',
			label: 'Name of the link that failed first',
			rowOf: 'links',
			help: 'Until it is said nothing is compared.',
			when: { choice: 'happened', is: ['failed'] }
		}
	],
	observations(values, x) {
		const wanted = String((values['failed'] as string | undefined) ?? '').toLowerCase();
		if (values['happened'] === 'failed' && wanted === '') return [];
		const unknown = x.links.findIndex((l) => isUnknown(x, l));
		if (unknown >= 0 && values['happened'] !== 'not-said')
			return `what happened cannot be compared: ${nameOf(x, unknown)}: ${unknownWords(x)}`;
		const among = x.links.length + 1;
		if (values['happened'] === 'held')
			return [{ kind: 'outcome', label: 'all links would hold', among, happened: -1 }];
		if (values['happened'] !== 'failed') return [];
		const names = x.links.map((_, i) => nameOf(x, i));
		const failed = names.findIndex((name) => name.toLowerCase() === wanted);
		return failed < 0
			? `say which link failed first, by its name: ${names.join(', ')}`
			: [{ kind: 'outcome', label: `${names[failed]} would fail first`, among, happened: failed }];
	},
	scenarios: [
		{
			id: 'as-given',
			label: 'The load as given',
			help: 'The load that stands in the inputs, with its uncertainty.',
			inputs: [],
			predict: (x, _, [seen], random) => [happened(x, seen, x.load, random)]
		},
		ofLoad(
			'opening',
			'Opening of the parachute',
			'Peak load as the canopy opened, from the opening-load calculation.'
		),
		ofLoad('tether', 'Snatch of the tether', 'Peak load as the line came taut, from the tether calculation.'),
		ofLoad('charge', 'Force of the charge', 'What the charge put on the bulkhead and its fittings.'),
		ofLoad('impact', 'Impact on the ground', 'Peak load at the impact: then the path broke on the ground.'),
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Something else: a weakened part, another load. Each outcome is as probable as every other.',
			inputs: [],
			distribution: 'Each link failing first, and all holding, is equally probable.',
			predict: (x) => [1 / (x.links.length + 1)]
		}
	],
	defaultScenarios: () => [{ id: 'as-given' }, { id: NONE_OF_THESE }]
};
