import { marginOfSafety } from '$lib/physics/structure';
import { formatSi } from '$lib/quantity/format';
import { defineCalculation, type Addition, type AdditionContext, type FigureContext } from '../calculation';
import type { Figure } from '../figure';
import { outOf100, percentOf } from '../likelihood';
import { evidence } from './evidence';
import { INPUTS, type Inputs } from './inputs';
import { limits } from './limits';
import { edgesOf, firstToFail, isUnknown, nameOf, sagOf, strengthsOf, unknownWords } from './links';

const newtons = (n: number) => formatSi(n, 'force', { unit: 'N', figures: 3 });

/** How often each link is overloaded, and which is first: shares of the samples. */
interface Failures {
	links: { label: string; overloaded: number; first: number; unknown: boolean }[];
	any: number;
}

function* failures({ nominal, samples, random }: AdditionContext<Inputs>): Generator<void, Addition> {
	const edges = random('edges');
	const links = nominal.links.map((link, i) => ({
		label: nameOf(nominal, i),
		overloaded: 0,
		first: 0,
		unknown: isUnknown(nominal, link)
	}));
	let any = 0;
	for (const [i, x] of samples.entries()) {
		const strengths = strengthsOf(x, edges);
		strengths.forEach((s, k) => (links[k]!.overloaded += s < x.load ? 1 : 0));
		const first = firstToFail(strengths, x.load);
		if (first >= 0) {
			links[first]!.first++;
			any++;
		}
		if (i % 500 === 499) yield;
	}
	const unknown = links.filter((link) => link.unknown);
	for (const link of links) {
		link.overloaded /= samples.length;
		link.first /= samples.length;
	}
	any /= samples.length;
	const strengths = strengthsOf(nominal, () => 0.5);
	const weakest = strengths.indexOf(Math.min(...strengths));
	const series: Failures = { links, any };
	return {
		series,
		statements: [
			`${links[weakest]!.label} is the weakest link${unknown.length ? ' of those whose strength is known' : ''}: about ${newtons(strengths[weakest]!)} against a load of ${newtons(nominal.load)}${asked(strengths[weakest]!, nominal)}`,
			`The load is more than some ${unknown.length ? 'of these' : 'link of the path'} bears in ${outOf100(any)}${
				any > 0 && links.length - unknown.length > 1
					? `; which would be first: ${links
							.filter(({ first }) => first > 0)
							.sort((a, b) => b.first - a.first)
							.map(({ label, first }) => `${label} in ${outOf100(first)}`)
							.join(', ')}`
					: ''
			}.`,
			...unknown.map(
				({ label }) => `${label}: ${unknownWords(nominal)} Without it neither it nor the path has a strength.`
			)
		]
	};
}

/** A strength above the bare load is not yet enough. */
function asked(strength: number, { load, factor, fitting }: Inputs): string {
	const margin = marginOfSafety(strength, load, factor, fitting);
	const needs = newtons(strength / (1 + margin));
	return margin < 0
		? `; with its factors that load asks for ${needs}, so it is too weak.`
		: `, which with its factors asks for ${needs}.`;
}

function figure({ nominal, outputs, series }: FigureContext<Inputs>): Figure {
	const { links, any } = series as Failures;
	const unknown = links.filter((link) => link.unknown).map(({ label }) => label);
	const gives = unknown.length
		? `${unknown.join(', ')} not known when so warm`
		: `the path gives way in ${outOf100(any)}`;
	const margins = links.flatMap(({ label }) => outputs[`margin of ${label}`] ?? []);
	const least = margins.reduce((a, b) => (b.nominal! < a.nominal! ? b : a));
	return {
		title:
			least.nominal! < 0
				? `${least.of} does not have the margin asked for; ${gives}`
				: `Every ${unknown.length ? 'known ' : ''}link has its margin, ${least.of} the least; ${gives}`,
		x: {
			label: `Margin of safety (factor ${Number(nominal.factor.toPrecision(3))})`,
			unit: '1'
		},
		y: { label: 'Link', unit: '1' },
		layers: [
			{ kind: 'rule', axis: 'x', label: 'just enough', at: 0 },
			{
				kind: 'chain',
				label: 'load path',
				links: links.map(({ label, overloaded }) => {
					const margin = outputs[`margin of ${label}`];
					return margin
						? {
								label,
								note: `fails in ${percentOf(overloaded)}`,
								value: margin.nominal!,
								low: margin.low90,
								high: margin.high90
							}
						: { label, note: 'too warm for its strength', value: 0, unknown: true };
				})
			}
		]
	};
}

export const attachmentStrength = defineCalculation({
	id: 'attachment-strength',
	title: 'Strength of an attachment',
	question:
		'Which link of the load path gives way first, with what margin, and could it have held this load?',
	version: 4,
	inputs: INPUTS,
	outputs: [
		{
			id: 'pathStrength',
			label: 'Strength of the path: its weakest link',
			dimension: 'force',
			unit: 'N',
			main: true
		},
		{ id: 'margin', label: 'Margin of safety', dimension: 'ratio', unit: '1' },
		{ id: 'strength', label: 'Strength', dimension: 'force', unit: 'N' },
		{
			id: 'simplySupported',
			label: 'Strength with its edge simply supported',
			dimension: 'force',
			unit: 'N'
		},
		{ id: 'clamped', label: 'Strength with its edge clamped', dimension: 'force', unit: 'N' },
		{ id: 'sagSimplySupported', label: 'Sag, edge simply supported', dimension: 'length', unit: 'mm' },
		{ id: 'sagClamped', label: 'Sag, edge clamped', dimension: 'length', unit: 'mm' }
	],
	sources: [
		{ text: 'ISO 898-1 and ASME B1.1: tensile stress area (quoted in public texts)', basis: 'seen' },
		{ text: 'FED-STD-H28/2B, table II.B.1, formulas 2a and 4a (quoted in public code)', basis: 'seen' },
		{ text: 'Roark’s Formulas for Stress and Strain, table 11.2, cases 16 and 17', basis: 'from memory' },
		{ text: 'Wood Handbook, FPL-GTR-282, chapters 5 and 12', basis: 'from memory' },
		{ text: 'Petrie, Handbook of Adhesives and Sealants, table 10.17; ASTM D4896, scope', basis: 'seen' },
		{ text: '3D Printing and Additive Manufacturing, doi 10.1089/3dp.2020.0109, abstract', basis: 'seen' },
		{ text: 'NASA-STD-5001B, NASA-STD-5020B: factors', basis: 'from memory' }
	],
	docs: 'methods/attachment-strength.md',
	cautions: [
		'A line or fitting under load stores energy: in a pull test stand out of its line, wear eye protection, load it from a distance.',
		'A margin computed here clears nothing for flight: local rules and the range’s safety officer prevail.'
	],
	check(x) {
		const names = x.links.map((_, i) => nameOf(x, i));
		const twice = names.find((name, i) => names.indexOf(name) < i);
		if (twice) return `two links are called ${twice}; give each its own name`;
		for (const [i, l] of x.links.entries()) {
			if (l.count !== undefined && !Number.isInteger(l.count))
				return `${names[i]}: how many share the load must be a whole number`;
			if (l.kind === 'plate' && !(l.loadRadius! < l.radius!))
				return `${names[i]}: what presses on the plate must be smaller than the plate`;
			if (l.kind === 'plate' && !(l.thickness! < l.radius!))
				return `${names[i]}: this is no plate, it is no thinner than its radius; check both and their units`;
			if (l.bearingStrength !== undefined && l.hole === undefined)
				return `${names[i]}: a crushing strength needs the diameter of the hole`;
			if (l.hole !== undefined && !(l.hole < l.washer!))
				return `${names[i]}: the hole must be smaller than the washer`;
			if (l.holdsAt === 'here' && x.temperature === undefined)
				return `${names[i]}: its strength holds at this temperature: give the temperature of the warmest joint`;
		}
		if (x.links.every((l) => isUnknown(x, l))) return `${names[0]}: ${unknownWords(x)}`;
		return undefined;
	},
	model(x, random) {
		const strengths = strengthsOf(x, random);
		const each = (value: (i: number) => number | undefined) => {
			const members = x.links.flatMap((_, i) => {
				const v = isUnknown(x, x.links[i]!) ? undefined : value(i);
				return v === undefined ? [] : [[nameOf(x, i), v] as const];
			});
			return members.length ? Object.fromEntries(members) : undefined;
		};
		const plates = x.links.map((l) => (l.kind === 'plate' ? edgesOf(l) : undefined));
		const sags = x.links.map((l) => (l.kind === 'plate' ? sagOf(l, x.load) : undefined));
		return {
			pathStrength: x.links.some((l) => isUnknown(x, l)) ? undefined : Math.min(...strengths),
			margin: each((i) => marginOfSafety(strengths[i]!, x.load, x.factor, x.fitting)),
			strength: each((i) => strengths[i]),
			simplySupported: each((i) => plates[i]?.simplySupported),
			clamped: each((i) => plates[i]?.clamped),
			sagSimplySupported: each((i) => sags[i]?.simplySupported),
			sagClamped: each((i) => sags[i]?.clamped)
		};
	},
	limits,
	evidence,
	addition: failures,
	figure
});
