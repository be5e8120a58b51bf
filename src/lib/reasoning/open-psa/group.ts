/**
 * Common-cause groups of a file. Open-PSA Model Exchange Format: beta-factor, MGL and alpha-factor (models seen; elements
 * from memory), phi-factor (from memory).
 */
import { choose } from '../common-cause';
import type { TreeGroup } from '../model';
import { type Definition, membersOf } from './definitions';
import { attribute, type Computed, numberIn } from './expression';
import { Fault, type XmlElement } from './xml';

type Shared = Pick<TreeGroup, 'model' | 'factors' | 'staggered'>;

/**
 * The probability that its members have in common, and how it is shared out.
 * @param number  computes an expression
 * @throws {Fault}
 */
export function readGroup(
	{ id, at, content }: Definition,
	number: (at: XmlElement) => Computed
): { q: Computed; shared: Shared } {
	const model = attribute(at, 'model');
	const [distribution, ...more] = content.filter(({ name }) => name === 'distribution');
	const expression = distribution?.children[0];
	if (!expression || more.length > 0 || distribution.children.length > 1)
		throw new Fault(at.line, `the common-cause group '${id}' has no single <distribution>`);
	for (const { name, line } of content)
		if (!['members', 'distribution', 'factor', 'factors'].includes(name))
			throw new Fault(line, `<${name}> is not known in a common-cause group`);
	const n = membersOf(content).length;
	const first = { 'beta-factor': n, MGL: 2, 'alpha-factor': 1, 'phi-factor': 1 }[model];
	if (first === undefined)
		throw new Fault(
			at.line,
			`'${model}' is not a model that is read: beta-factor, MGL, alpha-factor or phi-factor`
		);
	const factors = content
		.flatMap((child) => (child.name === 'factors' ? child.children : child.name === 'factor' ? [child] : []))
		.map((factor, i) => {
			const [of, ...others] = factor.children;
			if (factor.name !== 'factor' || !of || others.length > 0)
				throw new Fault(factor.line, `<${factor.name}> of the group '${id}' is no factor with one number`);
			const level = factor.attributes.has('level') ? numberIn(factor, 'level') : first + i;
			if (level !== first + i)
				throw new Fault(
					factor.line,
					`a factor of the group '${id}' has level ${level}; here it is ${first + i}`
				);
			return number(of).value;
		});
	return { q: number(expression), shared: share(model, factors, n, at) };
}

function share(model: string, factors: readonly number[], n: number, at: XmlElement): Shared {
	if (model === 'beta-factor') return { model: 'beta', factors: [...factors] };
	if (model === 'MGL') return { model: 'multiLetter', factors: [...factors] };
	// A set of k members has phi(k) of the whole, so all sets of k that hold one member have alpha(k) = C(n-1, k-1) phi(k).
	const ways = model === 'phi-factor' ? factors.map((phi, i) => phi * choose(n - 1, i)) : [...factors];
	const sum = ways.reduce((a, b) => a + b, 0);
	if (model === 'phi-factor' && Math.abs(sum - 1) > 1e-6)
		throw new Fault(
			at.line,
			`the phi factors share out ${Number(sum.toPrecision(6))} of each member's probability, not all of it`
		);
	if (!(sum > 0)) throw new Fault(at.line, 'the alpha factors are all 0');
	// Only their ratios count: k alpha(k) / sum of k alpha(k).
	return {
		model: 'alpha',
		factors: ways.map((alpha) => alpha / sum),
		...(model === 'phi-factor' ? { staggered: true } : {})
	};
}
