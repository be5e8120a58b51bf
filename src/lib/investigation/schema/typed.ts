import * as v from 'valibot';
import { stored } from './stored';

interface Typed {
	/** Null for a text that can't be read. */
	read: (text: string) => number | null;
	min: number;
	max: number;
	/** Says what can be written instead. */
	message: string;
}

/** A number, or what a person typed for it. */
const typed = (as: Typed) =>
	v.pipe(
		orBlank(as),
		v.nonNullable(v.number(), as.message),
		stored<number>({ type: 'number', minimum: as.min, maximum: as.max })
	);

/** The same where it may be left open: a blank is 'not known', never 0. */
const orBlank = ({ read, min, max, message }: Typed) =>
	v.pipe(
		v.union([v.number(), v.string(), v.null()], message),
		v.rawTransform(({ dataset, addIssue, NEVER }): number | null => {
			const given = dataset.value;
			if (given === null || (typeof given === 'string' && given.trim() === '')) return null;
			const value = typeof given === 'number' ? given : read(given.trim().replace(/[−–]/g, '-'));
			if (value === null || !(value >= min && value <= max)) {
				addIssue({ message });
				return NEVER;
			}
			return value === 0 ? 0 : value;
		}),
		stored<number | null>({ anyOf: [{ type: 'number', minimum: min, maximum: max }, { type: 'null' }] })
	);

const plainNumber = (text: string) =>
	/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text) ? Number(text.replace(',', '.')) : null;

/** Zone of a clock in minutes east of UTC, from minutes or as '+02:00', 'UTC-5', '+0530', 'Z'. */
export const zone = v.pipe(
	typed({
		read: (text) => {
			const plain = text.replace(/^(utc|gmt)\s*/i, '');
			if (plain === '' || /^z$/i.test(plain)) return 0;
			const match = /^([+-])?(\d{1,2})(?::?(\d{2}))?$/.exec(plain);
			if (!match || Number(match[3] ?? 0) > 59) return null;
			return (match[1] === '-' ? -1 : 1) * (Number(match[2]) * 60 + Number(match[3] ?? 0));
		},
		min: -14 * 60,
		max: 14 * 60,
		message: 'Write the zone as +02:00 or UTC-5; it lies between −14 h and +14 h.'
	}),
	v.integer('A zone is a whole number of minutes.')
);

/** '+02:00' for 120. */
export function zoneText(minutes: number): string {
	const size = Math.abs(minutes);
	const two = (n: number) => String(n).padStart(2, '0');
	return `${minutes < 0 ? '−' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/** Declination in degrees east of true north: '3.1 E', '2° W', '-2'; blank is 'not known'. */
export const declination = orBlank({
	read: (text) => {
		const match = /^([+-]?[\d.,]+)\s*(?:°|deg(?:rees)?)?\s*(east|west|e|w)?$/i.exec(text);
		const size = match && plainNumber(match[1]!);
		if (size === null || (match![2] && size < 0)) return null;
		return /^w/i.test(match![2] ?? '') ? -size : size;
	},
	min: -180,
	max: 180,
	message: 'Write the declination as 3.1 E or 2 W (west is negative).'
});

/** A count of uses, flights or firings; blank is 'not counted'. */
export const count = orBlank({
	read: (text) => (/^\d+$/.test(text) ? Number(text) : null),
	min: 0,
	max: 100_000,
	message: 'Enter a whole number, 0 or more.'
});

/** A fraction: '25 %' or 0.25. */
export const fraction = typed({
	read: (text) => {
		const percent = /^(.*?)\s*%$/.exec(text);
		const size = plainNumber(percent ? percent[1]! : text);
		return size !== null && percent ? size / 100 : size;
	},
	min: 0,
	max: 2,
	message: 'Write a share such as 25 % or 0.25.'
});

/** A spread of directions in degrees. */
export const spreadDegrees = typed({
	read: (text) => plainNumber(text.replace(/\s*(°|deg(rees)?)$/i, '')),
	min: 0,
	max: 180,
	message: 'Enter degrees between 0 and 180.'
});
