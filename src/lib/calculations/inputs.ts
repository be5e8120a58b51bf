import {
	distributionOf,
	quantile,
	standardDeviation,
	type Distribution
} from '$lib/probability/distributions';
import type { Random } from '$lib/probability/generator';
import { normalCdf } from '$lib/probability/special';
import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';
import { formatSi } from '$lib/quantity/format';
import { parseQuantity } from '$lib/quantity/parse';
import { toSi, type Quantity } from '$lib/quantity/quantity';
import { readQuantity } from '$lib/quantity/read';
import { ok, refuse, type Result } from '$lib/quantity/result';
import type { Field, LeafField, ListField, QuantityField } from './calculation';

/** What was asked for is wrong at one place: `path` is 'wind.2.speed' (rows count from 1), '' for the whole. */
export interface Problem {
	path: string;
	message: string;
}

export type Values = Record<string, unknown>;

/** One quantity that may vary from sample to sample. */
export interface Varying {
	path: string;
	label: string;
	distribution: Distribution;
	standardDeviation: number;
}

/** A leaf as it is stored: the quantity, the choice or the text, and where it came from if it was not typed. */
export type Stored = Quantity | string | null | { [field: string]: Stored }[];

export interface ReadInputs {
	nominal: Values;
	varying: Varying[];
	/** Everything as read, defaults filled in. */
	stored: Record<string, Stored>;
	notes: string[];
	/** Where a distribution as typed can't be meant so. */
	warnings: string[];
}

type Failable<T> = Result<T, Problem>;
const at = (path: string, message: string) => refuse<Problem>({ path, message });

/** Reads raw values (text, JSON forms, rows) by a list of fields; the first problem is returned with its place. */
export function readInputs(
	fields: readonly Field[],
	raw: Values,
	prefix = '',
	labelPrefix = ''
): Failable<ReadInputs> {
	const known = new Set(fields.map((f) => f.id));
	const stranger = Object.keys(raw).find((key) => !known.has(key) && key !== 'from');
	if (stranger !== undefined)
		return at(prefix + stranger, `there is no input "${stranger}"; the inputs are ${[...known].join(', ')}`);
	const out: ReadInputs = { nominal: {}, varying: [], stored: {}, notes: [], warnings: [] };
	for (const field of fields) {
		const path = prefix + field.id;
		const label = labelPrefix + field.label;
		if (!applies(field, (id) => out.nominal[id])) {
			const given = raw[field.id];
			if (given !== undefined && given !== null && given !== '')
				out.notes.push(`${label}: not used with this choice.`);
			continue;
		}
		const read =
			field.kind === 'list'
				? readList(field, raw[field.id], path)
				: readLeaf(
						withDefault(field, (id) => out.nominal[id]),
						raw[field.id],
						path,
						label
					);
		if (!read.ok) return read;
		out.nominal[field.id] = read.value.nominal;
		out.stored[field.id] = read.value.stored;
		out.varying.push(...read.value.varying);
		if (field.idleWithout && out.nominal[field.idleWithout] === undefined) {
			const other = fields.find((f) => f.id === field.idleWithout)!.label;
			if (read.value.nominal !== undefined) out.notes.push(`${label}: not used without “${other}”.`);
			continue;
		}
		out.notes.push(...read.value.notes);
		out.warnings.push(...(read.value.warnings ?? []));
	}
	return ok(out);
}

/** Whether a field is asked for, given what the choices beside it are. */
export const applies = ({ when }: Pick<Field, 'when'>, chosen: (id: string) => unknown): boolean =>
	!when || when.is.some((id) => id === (chosen(when.choice) ?? ''));

/** The field with the default that the choices and values before it call for. */
export function withDefault<F extends LeafField>(field: F, chosen: (id: string) => unknown): F {
	if (field.kind !== 'quantity') return field;
	const { defaultOf, defaultWith } = field;
	const given = defaultWith && chosen(defaultWith.field);
	const stated =
		given !== undefined && given !== ''
			? defaultWith!.stated
			: defaultOf?.texts[String(chosen(defaultOf.choice))];
	return stated ? { ...field, default: stated } : field;
}

interface ReadField {
	nominal: unknown;
	stored: Stored;
	varying: Varying[];
	notes: string[];
	warnings?: string[];
}

function readList(field: ListField, raw: unknown, path: string): Failable<ReadField> {
	if (raw !== undefined && raw !== null && !Array.isArray(raw))
		return at(path, `${field.label}: a list of rows is needed`);
	const rows = (raw ?? []) as unknown[];
	if (rows.length < field.min)
		return at(path, `${field.label}: at least ${count(field.min, field.item)} needed, ${rows.length} given`);
	if (rows.length > field.max)
		return at(path, `${field.label}: at most ${field.max} rows, ${rows.length} given`);
	const out = {
		nominal: [] as Values[],
		stored: [] as Record<string, Stored>[],
		varying: [] as Varying[],
		notes: [] as string[],
		warnings: [] as string[]
	};
	for (const [i, row] of rows.entries()) {
		const rowPath = `${path}.${i + 1}`;
		if (typeof row !== 'object' || row === null || Array.isArray(row))
			return at(
				rowPath,
				`each ${field.item} is an object such as {"${field.fields.map((f) => f.id).join('", "')}"}`
			);
		const name = (row as Values)['name'];
		const read = readInputs(
			field.fields,
			row as Values,
			`${rowPath}.`,
			`${typeof name === 'string' && name ? name : `${field.item} ${i + 1}`}: `
		);
		if (!read.ok) return read;
		const before = field.ascending && out.nominal.at(-1)?.[field.ascending];
		const here = field.ascending && read.value.nominal[field.ascending];
		if (typeof before === 'number' && typeof here === 'number' && !(here > before))
			return at(
				`${rowPath}.${field.ascending}`,
				`${field.label}: the rows must rise by ${field.ascending}; put them in order, each once`
			);
		out.nominal.push(read.value.nominal);
		out.stored.push(read.value.stored);
		out.varying.push(...read.value.varying);
		out.notes.push(...read.value.notes);
		out.warnings.push(...read.value.warnings);
	}
	return ok(out);
}
const count = (n: number, item: string) => `${n} ${item}${n === 1 ? ' is' : 's are'}`;

function readLeaf(field: LeafField, raw: unknown, path: string, label: string): Failable<ReadField> {
	if (field.kind === 'quantity') return readQuantityField(field, raw, path, label);
	if (field.kind === 'text') {
		if (raw !== undefined && raw !== null && typeof raw !== 'string')
			return at(path, `${label}: a text is needed`);
		const text = raw?.trim() ?? '';
		if (text.length > 500) return at(path, `${label}: at most 500 characters`);
		return ok({ nominal: text || undefined, stored: text, varying: [], notes: [] });
	}
	const chosen = raw === undefined || raw === null || raw === '' ? field.default.text : raw;
	if (!field.options.some((o) => o.id === chosen))
		return at(
			path,
			`${label}: ${JSON.stringify(chosen)} is not one of ${field.options.map((o) => o.id).join(', ')}`
		);
	return ok({ nominal: chosen, stored: chosen as string, varying: [], notes: [] });
}

function readQuantityField(
	field: QuantityField,
	raw: unknown,
	path: string,
	label: string
): Failable<ReadField> {
	const { dimension, unit } = field;
	const read = readQuantity(raw, { dimension, defaultUnit: unit });
	if (!read.ok) return at(path, `${label}: ${read.error}`);
	let { quantity } = read.value;
	const notes = read.value.notes.map((note) => `${label}: ${note}.`);
	if (!quantity) {
		if (!field.default) {
			if (field.required) return at(path, `${label} is missing: type ${asked(dimension, unit)}`);
			return ok({ nominal: undefined, stored: null, varying: [], notes: [] });
		}
		quantity = stated(field.default.text, field);
		// So many per cent of nothing need no word.
		const none = quantity.value === 0 && field.spread?.text.endsWith('%');
		const spread = field.spread && !isSpread(quantity) && !none ? ` ± ${field.spread.text}` : '';
		notes.push(`${label}: ${field.default.text}${spread} is assumed (${field.default.origin}).`);
		if (field.spread && spread) quantity = withSpread(quantity, field.spread.text, field);
	} else if (field.spread && !isSpread(quantity)) {
		quantity = withSpread(quantity, field.spread.text, field);
		notes.push(
			`${label}: no uncertainty was given; ± ${field.spread.text} is assumed (${field.spread.origin}).`
		);
	}
	const si = toSi(quantity, dimension);
	const rare = (si.factor ?? 1) ** RARE;
	const outside = [si.low ?? si.value / rare, si.high ?? si.value * rare]
		.map((x) => beyond(x, field))
		.find(Boolean);
	if (outside) return at(path, `${label}: ${outside}`);
	if (dimension === 'angle' && Math.abs(si.low ?? si.value) > 2 * Math.PI + 1e-9)
		return at(
			path,
			`${label}: ${formatSi(si.value, 'angle', { figures: 3 })} is more than a full turn; write ${formatSi(si.value % (2 * Math.PI), 'angle', { figures: 3 })} if that is meant`
		);
	const { range = {} } = field;
	const distribution = distributionOf(si, {
		...(range.above === undefined
			? range.min === undefined
				? {}
				: { min: range.min }
			: { min: range.above }),
		...(range.max === undefined ? {} : { max: range.max })
	});
	const varying =
		distribution.kind === 'fixed'
			? []
			: [{ path, label, distribution, standardDeviation: standardDeviation(si) }];
	return ok({
		nominal: si.value,
		stored: quantity,
		varying,
		notes,
		warnings: cutOff(label, distribution, field)
	});
}

/** A log-normal may reach the bounds so many standard deviations out: 1 of 1000 lie beyond. */
const RARE = 3.1;

/** A normal distribution that loses so much at the bounds of what can be is no longer the one typed. */
const NOTICEABLE = 0.02;

/** That a spread reaches beyond what can be, and what that makes of the value, in a sentence. */
function cutOff(label: string, d: Distribution, { dimension, unit }: QuantityField): string[] {
	if (d.kind !== 'truncated normal') return [];
	const below = normalCdf((d.low - d.mean) / d.sd);
	const above = 1 - normalCdf((d.high - d.mean) / d.sd);
	if (below + above < NOTICEABLE) return [];
	const show = (si: number, figures = 3) => formatSi(si, dimension, { unit, figures });
	const side = below > above ? `below ${show(d.low)}` : `above ${show(d.high)}`;
	const spread = dimension === 'temperature' ? 'temperature difference' : dimension;
	const plusMinus = formatSi(d.sd, spread, { ...(spread === dimension ? { unit } : {}), figures: 2 });
	return [
		`${label}: with a standard deviation of ${plusMinus}, ${Math.round(100 * (below + above))} of 100 values would lie ${side}, where none can be. They are left out, so that half of the rest lie above ${show(quantile(d, 0.5))} and not above the ${show(d.mean)} typed. Was a smaller plus-minus meant? Else type a range, such as "5 to 8", or a log-normal.`
	];
}

/** Whether a text reads as a value that this field takes. */
export const takes = (field: QuantityField, text: string): boolean =>
	readQuantityField(field, text, '', '').ok;

/** 'a length, such as 5 m' */
const asked = (dimension: Dimension, unit: string) =>
	dimension !== 'ratio'
		? `${DIMENSIONS[dimension].phrase}, such as 5 ${unit}`
		: unit === '1'
			? 'a number, such as 5'
			: 'a percentage, such as 5 %';

const isSpread = (q: Quantity) => q.plusMinus !== undefined || q.low !== undefined;

/** A default that the program states; one that does not read is a programmer's mistake. */
function stated(text: string, { dimension, unit }: QuantityField): Quantity {
	const read = parseQuantity(text, { dimension, defaultUnit: unit });
	if (!read.ok || !read.value.quantity)
		throw new Error(`default "${text}": ${read.ok ? 'blank' : read.error}`);
	return read.value.quantity;
}

function withSpread(q: Quantity, text: string, field: QuantityField): Quantity {
	const share = /^([\d.]+) ?%$/.exec(text);
	// So many °C is a temperature, not a difference of two; and no share of a temperature in °C means anything.
	if (field.dimension === 'temperature' && !/\d K$/.test(text))
		throw new Error(`spread "${text}": the spread of a temperature is stated in K`);
	if (share) return { ...q, plusMinus: (Math.abs(q.value) * Number(share[1])) / 100 };
	const { value } = toSi(stated(text, field), field.dimension);
	const unit =
		toSi({ text: '', unit: q.unit, value: 1 }, field.dimension).value -
		toSi({ text: '', unit: q.unit, value: 0 }, field.dimension).value;
	return { ...q, plusMinus: value / unit };
}

/** No measured value is smaller (SI); its inverse square can still be computed with. */
const TINY = 1e-30;

/** Why a value is impossible here, or undefined. */
function beyond(x: number, { range = {}, dimension, unit }: QuantityField): string | undefined {
	const { min, above, max } = range;
	if (x !== 0 && Math.abs(x) < TINY) return `${x} is too small to be meant; write 0 or a larger number`;
	const show = (si: number) => formatSi(si, dimension, { unit });
	if (above !== undefined && !(x > above))
		return `${show(x)} is impossible here; it must be more than ${show(above)}`;
	if (min !== undefined && x < min) return `${show(x)} is impossible here; it must be at least ${show(min)}`;
	if (max !== undefined && x > max)
		return `${show(x)} is beyond what this calculation is made for; at most ${show(max)}`;
	return undefined;
}

/**
 * Draws inputs: each varying quantity has its own stream, so that adding one leaves the others' numbers as they were.
 * A value at an excluded bound is moved off it.
 */
export function inputSampler(read: ReadInputs, stream: (path: string) => Random): () => Values {
	const draws = read.varying.map((v) => ({ ...v, keys: v.path.split('.'), random: stream(v.path) }));
	return () => {
		const values = copy(read.nominal);
		for (const { keys, random, distribution } of draws)
			set(values, keys, Math.max(quantile(distribution, random()), lowest(distribution)));
		return values;
	};
}
const lowest = (d: Distribution) => (d.kind === 'truncated normal' && d.low === 0 ? d.sd * 1e-6 : -Infinity);

const copy = (values: Values): Values =>
	Object.fromEntries(
		Object.entries(values).map(([key, value]) => [
			key,
			Array.isArray(value) ? value.map((row: Values) => ({ ...row })) : value
		])
	);

function set(values: Values, keys: string[], value: number): void {
	const [first = '', row, field] = keys;
	if (row === undefined || field === undefined) values[first] = value;
	else (values[first] as Values[])[Number(row) - 1]![field] = value;
}
