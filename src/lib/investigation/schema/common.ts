import * as v from 'valibot';
import { stored } from './stored';

/** Limits are generous for people and firm for files; every one has a message (docs/file-format.md lists them). */
export const LIMITS = {
	line: 300,
	text: 20_000,
	list: 500,
	rows: 2_000
} as const;

/** Control characters would break a report and hide text; line breaks and tabs are a person's own. */
// eslint-disable-next-line no-control-regex
const CONTROL = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/g;

const clean = (text: string) => text.normalize('NFC').replace(CONTROL, '');

/** One line of text that may be left empty. */
export const line = v.pipe(
	v.string('Enter text here.'),
	v.transform((text) => clean(text).replace(/\s+/g, ' ').trim()),
	v.maxLength(LIMITS.line, `Keep this to ${LIMITS.line} characters; longer text belongs in the notes.`)
);

/** One line that must say something; `ask` tells the person what. */
export const requiredLine = (ask: string) => v.pipe(line, v.nonEmpty(ask));

/** Free text, Markdown where it is shown formatted. */
export const text = v.pipe(
	v.string('Enter text here.'),
	v.transform((value) => clean(value).trim()),
	v.maxLength(
		LIMITS.text,
		`Keep this to ${LIMITS.text.toLocaleString('en')} characters; attach a longer text as a file.`
	)
);

/** Identity of a record: short, sortable by the time it was made, never shown to people. */
export const id = v.pipe(
	v.string(),
	v.regex(/^[a-z0-9][a-z0-9-]{0,63}$/, 'This is not the identity of a record.')
);
export type Id = v.InferOutput<typeof id>;

export const ids = v.pipe(
	v.array(id),
	v.maxLength(LIMITS.list, `At most ${LIMITS.list} can be listed here.`)
);

/** A probability typed as 0.2, '20 %', or '1 in 5'; blank is null, 'not given'. */
export const probability = v.pipe(
	v.union([v.number(), v.string(), v.null()]),
	v.rawTransform(({ dataset, addIssue, NEVER }): number | null => {
		const given = dataset.value;
		if (given === null) return null;
		const value = typeof given === 'number' ? given : readProbability(given);
		if (value === null) return null;
		if (!Number.isFinite(value) || value < 0 || value > 1) {
			const meant =
				value > 1 && value <= 100 && `${given}`.trim() === `${value}` ? ` Write "${value} %".` : '';
			addIssue({
				message: `A probability lies between 0 and 1 (or 0 % and 100 %); "${given}" does not.${meant}`
			});
			return NEVER;
		}
		return Object.is(value, -0) ? 0 : value;
	}),
	stored<number | null>({ anyOf: [{ type: 'number', minimum: 0, maximum: 1 }, { type: 'null' }] })
);

function readProbability(typed: string): number | null {
	const trimmed = typed.trim().replace(',', '.');
	if (trimmed === '') return null;
	const odds = /^(\d+(?:\.\d+)?)\s*(?:in|of|out of|\/)\s*(\d[\d\s]*(?:\.\d+)?)$/i.exec(trimmed);
	if (odds) return Number(odds[1]) / Number(odds[2]!.replace(/\s/g, ''));
	const percent = /^(\d+(?:\.\d+)?)\s*%$/.exec(trimmed);
	if (percent) return Number(percent[1]) / 100;
	return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(trimmed) ? Number(trimmed) : NaN;
}

const MINUTES = { m: 1, h: 60, d: 1440 } as const;

/** How long something takes, typed as 20, '20 min', '1.5 h' or '2 days'; kept in minutes, blank is null, 'not said'. */
export const minutes = v.pipe(
	v.union([v.number(), v.string(), v.null()]),
	v.rawTransform(({ dataset, addIssue, NEVER }): number | null => {
		const given = dataset.value;
		if (given === null || (typeof given === 'string' && given.trim() === '')) return null;
		const value = typeof given === 'number' ? given : readMinutes(given);
		if (value >= 0 && Number.isFinite(value)) return value;
		addIssue({ message: `Write how long it takes as "20 min", "1.5 h" or "2 days"; "${given}" is none.` });
		return NEVER;
	}),
	stored<number | null>({ anyOf: [{ type: 'number', minimum: 0 }, { type: 'null' }] })
);

function readMinutes(typed: string): number {
	const [, number = '', unit = 'm'] =
		/^(\d+(?:[.,]\d+)?)\s*(?:(m|h|d)(?:in(?:ute)?s?|ours?|ays?)?)?$/i.exec(typed.trim()) ?? [];
	return number === ''
		? NaN
		: Number(number.replace(',', '.')) * MINUTES[unit.toLowerCase() as keyof typeof MINUTES];
}

export const WRITE_TIME = 'Write a date and time as 2026-05-17 14:02 or 2026-05-17 14:02:10.';

/** Date and time as read on a clock, to the minute or second, without a zone: the clock's zone says the rest. */
export const localTime = v.pipe(
	v.string(),
	v.trim(),
	v.regex(/^\d{4}-\d{2}-\d{2}([T ]\d{2}:\d{2}(:\d{2}(\.\d{1,3})?)?)?$/, WRITE_TIME),
	v.check(
		(value) => !Number.isNaN(Date.parse(value.replace(' ', 'T') + (value.length > 10 ? 'Z' : ''))),
		'There is no such date or time.'
	),
	v.transform((value) => value.replace(' ', 'T'))
);

/** Moment at which the tool wrote something down, UTC. */
export const instant = v.pipe(v.string(), v.isoTimestamp());

export const emptyOr = <S extends v.GenericSchema<string, string>>(
	schema: S,
	message = WRITE_TIME.replace(/\.$/, '; leave it empty if it is not known.')
) => v.pipe(v.string(), v.trim(), v.union([v.literal(''), schema], message));

/** A bearing or wind direction in degrees, 0 to 360. */
export const degrees = v.pipe(
	v.union([
		v.number(),
		v.pipe(
			v.string(),
			v.trim(),
			v.nonEmpty('Enter degrees, 0 to 360.'),
			v.transform((t) => Number(t.replace(/°|deg(rees)?/i, '').replace(',', '.')))
		)
	]),
	v.number('Enter degrees, 0 to 360.'),
	v.check((d) => Number.isFinite(d) && d >= 0 && d <= 360, 'Enter degrees between 0 and 360.'),
	stored<number>({ type: 'number', minimum: 0, maximum: 360 })
);

export const northReference = v.picklist(
	['true', 'magnetic'],
	'Say whether this was read against true or magnetic north.'
);
