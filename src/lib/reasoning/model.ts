/**
 * The tree as plain data: what the engine weighs and what a person can type. One schema, the types read off it.
 * `docs/methods/weighing.md`, "Typing a tree", explains every field with worked examples.
 */
import * as v from 'valibot';

export const gateTypes = [
	'or',
	'and',
	'atLeast',
	'cardinality',
	'xor',
	'exactlyOne',
	'odd',
	'inhibit',
	'priorityAnd',
	'not',
	'nor',
	'nand',
	'imply',
	'iff',
	'table'
] as const;
export type GateType = (typeof gateTypes)[number];

/** `at-least`, `AT_LEAST` and `atleast` can only mean `atLeast`. */
const gateTypeOf = new Map(gateTypes.map((type) => [type.toLowerCase(), type]));
const gateType = v.pipe(
	v.string(),
	v.transform((typed) => gateTypeOf.get(typed.toLowerCase().replace(/[-_ ]/g, '')) ?? typed),
	v.picklist(gateTypes, `a gate's type is one of ${gateTypes.join(', ')}`)
);

const id = v.pipe(
	v.string('an id is a text'),
	v.nonEmpty('an id must not be empty'),
	v.maxLength(200, 'an id has at most 200 characters'),
	v.regex(/^[^!\s]/, "an id must not begin with '!' (that means 'not') or with a space")
);
const probability = v.pipe(
	v.number('a probability is a number from 0 to 1'),
	v.check((p) => p >= 0 && p <= 1, 'a probability must lie between 0 and 1')
);
/** `"A"`, `"!A"` and `{"not": "A"}`: an event or gate, or its negation. */
const literal = v.union(
	[v.string(), v.strictObject({ not: v.string() })],
	'write an id, or "!id" for its negation'
);
export type Literal = v.InferOutput<typeof literal>;

const text = v.optional(v.string());
/** Free names and values that another format carries along; nothing is weighed by them. */
const attributes = v.optional(v.record(v.string(), v.string()));
const notes = { label: text, note: text, source: text, attributes };

const event = v.strictObject({
	id,
	...notes,
	/** Probability that it is true before anything is known, its starting weight. A house event has `state` instead. */
	p: v.optional(probability),
	kind: v.optional(v.picklist(['basic', 'undeveloped', 'conditioning', 'house'])),
	state: v.optional(v.boolean())
});

const gate = v.strictObject({
	id,
	...notes,
	type: gateType,
	inputs: v.array(literal),
	/** `atLeast`: how many of the inputs. */
	k: v.optional(v.number()),
	/** `cardinality`: from min to max of the inputs. */
	min: v.optional(v.number()),
	max: v.optional(v.number()),
	/** `inhibit`: the conditioning event. */
	condition: v.optional(literal),
	/** `table`: probability for every combination of the inputs' states, keyed 'TF…' in their order. */
	table: v.optional(v.record(v.string(), probability))
});

const link = v.strictObject({ from: literal, p: probability, note: text, source: text });

const finding = v.strictObject({
	id,
	...notes,
	state: v.optional(
		v.picklist(['present', 'absent', 'notExamined'], "a finding's state is present, absent or notExamined")
	),
	/** Probability that the sign is there with none of its linked causes. */
	baseRate: v.optional(probability),
	/** Each: probability that this event by itself produces the sign, base rate not included. */
	links: v.optional(v.array(link)),
	/** The first link whose event is true decides alone, its `p` the whole probability; the base rate is for where none is. */
	first: v.optional(v.literal(true)),
	origin: v.optional(id),
	/** Id of another finding that is the same observation. */
	sameAs: v.optional(id)
});

const origin = v.strictObject({
	id,
	...notes,
	/** Probability that what comes from it is genuine. */
	reliability: probability,
	/** Probability that it says 'present' when it is not genuine. */
	saysAnyway: probability
});

const density = v.pipe(
	v.number('a density is a number, not below 0'),
	v.check((d) => d >= 0 && Number.isFinite(d), 'a density must be finite and not below 0')
);
const scenario = v.strictObject({
	...notes,
	event: v.optional(literal),
	otherwise: v.optional(v.literal(true)),
	density,
	standardError: v.optional(density)
});
const likelihood = v.strictObject({ id, ...notes, scenarios: v.array(scenario) });

const group = v.strictObject({
	id,
	...notes,
	/** Events of one probability that a cause they share could make true together. */
	members: v.array(id),
	model: v.picklist(
		['beta', 'multiLetter', 'alpha'],
		"a common-cause group's model is beta, multiLetter or alpha"
	),
	/** `beta`: one; `multiLetter`: beta, gamma … , one less than members; `alpha`: one for each number of members. */
	factors: v.array(
		v.pipe(
			v.number('a factor is a number from 0 to 1'),
			v.check((f) => f >= 0 && f <= 1, 'a factor must lie between 0 and 1')
		)
	),
	/** `alpha`: the factors come from staggered testing. */
	staggered: v.optional(v.boolean())
});

export const treeSchema = v.strictObject({
	kind: v.optional(v.literal('tree')),
	formatVersion: v.optional(v.literal(1, 'this version reads formatVersion 1')),
	title: text,
	note: text,
	source: text,
	top: v.optional(id),
	events: v.array(event),
	gates: v.optional(v.array(gate)),
	exclusive: v.optional(v.array(v.array(id))),
	commonCause: v.optional(v.array(group)),
	origins: v.optional(v.array(origin)),
	findings: v.optional(v.array(finding)),
	likelihoods: v.optional(v.array(likelihood)),
	given: v.optional(v.record(v.string(), v.boolean()))
});

export type TreeModel = v.InferOutput<typeof treeSchema>;
export type TreeEvent = v.InferOutput<typeof event>;
export type TreeGate = v.InferOutput<typeof gate>;
export type TreeLink = v.InferOutput<typeof link>;
export type TreeFinding = v.InferOutput<typeof finding>;
export type TreeOrigin = v.InferOutput<typeof origin>;
export type TreeScenario = v.InferOutput<typeof scenario>;
export type TreeGroup = v.InferOutput<typeof group>;
export type TreeLikelihood = v.InferOutput<typeof likelihood>;
export type FindingState = NonNullable<TreeFinding['state']>;
