import { NUMBER } from './number';
import type { Quantity } from './quantity';
import { ok, refuse, type Result } from './result';

/** Reads an amount, '5 kg', with its spread where there is one; blank is null. */
type Read = (text: string) => Result<{ quantity: Quantity | null; notes: string[] }>;

const NAMED = /^(normal|gaussian|uniform|triang(?:ular|le)|log-? ?normal)\b ?(?:of |from |between )?(.*)$/i;
const FACTOR = new RegExp(
	String.raw`^(${NUMBER}) ?([^×*;,\d]*?) ?(?:×|\bx\b|\*|;|, |,? ?\bfactor\b) ?(${NUMBER}) ?([^\d]*)$`,
	'iu'
);

/**
 * A distribution by its name: 'normal 8 ± 1 kg', 'uniform 5 to 8 kg', 'triangular 5, 6, 8 kg' (least, most probable,
 * greatest), 'log-normal 8 × 1.2 kg' (median times and over a factor); each also as 'normal(8, 1) kg'. Null where no name
 * stands in front.
 */
export function readNamed(text: string, read: Read): ReturnType<Read> | null {
	const named = NAMED.exec(text);
	if (!named) return null;
	const name = named[1]!.toLowerCase().slice(0, 2);
	const [, inside, behind = ''] = /^\((.*)\) ?(.*)$/.exec(named[2]!) ?? [];
	const parts = (inside ?? named[2]!)
		.split(/ ?; ?|, |(?<=[\d\p{L}°%]) ?\bto\b ?/u)
		.map((part) => part.trim());
	const [a = '', b = ''] = parts;
	const unit = inside === undefined ? '' : ` ${behind}`;
	if (name === 'tr')
		return triangle(
			text,
			parts.map((part) => part + unit),
			read
		);
	if (name === 'lo') return logNormal(text, (inside ?? named[2]!) + unit, read);
	const plain = name === 'un' ? `${a} to ${b}${unit}` : `${a} ± ${b}${unit}`;
	const found = read(inside === undefined ? named[2]! : plain);
	if (!found.ok) return found;
	const { quantity } = found.value;
	if (name === 'un' && quantity?.low === undefined)
		return refuse('write a uniform as uniform 5 to 8, with its unit');
	if (name !== 'un' && quantity?.plusMinus === undefined)
		return refuse('write a normal as normal 8 ± 1, with its unit');
	return ok({ ...found.value, quantity: { ...quantity!, text } });
}

function triangle(text: string, parts: readonly string[], read: Read): ReturnType<Read> {
	const example = 'write a triangular as least, most probable, greatest: triangular 5, 6, 8, with its unit';
	if (parts.length !== 3 || parts.includes('')) return refuse(example);
	const last = read(parts[2]!);
	if (!last.ok) return last;
	const unit = last.value.quantity!.unit;
	const values: number[] = [];
	for (const part of parts) {
		const one = read(/[\p{L}°%'"]\.?$/u.test(part) ? part : `${part} ${unit}`);
		if (!one.ok) return one;
		const { quantity } = one.value;
		if (!quantity || quantity.unit !== unit || quantity.plusMinus !== undefined || quantity.low !== undefined)
			return refuse(example);
		values.push(quantity.value);
	}
	const [low = 0, value = 0, high = 0] = values;
	if (!(low <= value && value <= high && low < high)) return refuse(example);
	return ok({ ...last.value, quantity: { text, unit, value, low, high, shape: 'triangular' } });
}

function logNormal(text: string, rest: string, read: Read): ReturnType<Read> {
	const example = 'write a log-normal as its median and a factor: log-normal 8 × 1.2, with its unit';
	const [, median = '', before = '', by = '', behind = ''] = FACTOR.exec(rest) ?? [];
	const found = median ? read(`${median} ${before || behind}`) : refuse(example);
	if (!found.ok) return found;
	const { quantity } = found.value;
	const factor = Number(by.replace(',', '.'));
	if (!quantity || !(quantity.value > 0) || !(factor > 1))
		return refuse(`${example}; both are above zero, the factor above 1`);
	if (/^°/.test(quantity.unit))
		return refuse('a log-normal needs a scale that begins at nothing: give it in K');
	return ok({
		...found.value,
		quantity: {
			...quantity,
			text,
			plusMinus: Number((quantity.value * Math.log(factor)).toPrecision(6)),
			factor
		}
	});
}
