import { crc32 } from 'node:zlib';
import type { HistoryLine } from './types';

/** `prev` of the first line of a history. */
export const NO_LINE = '00000000';
const HEAD = /^([0-9a-f]{8}) \{"rev":(\d{1,15}),/;
const HEAD_BYTES = 40;

const checksum = (body: string | Buffer) => crc32(body).toString(16).padStart(8, '0');

/** A line of the file: checksum, space, JSON, newline. `rev` comes first so that it can be read without parsing. */
export function encodeLine(line: HistoryLine): { text: string; crc: string; body: string } {
	const { rev, prev, baseRev, time, who, operation, args, changes, key, baseline } = line;
	const body = JSON.stringify({ rev, prev, baseRev, time, who, operation, args, changes, key, baseline });
	const crc = checksum(body);
	return { text: `${crc} ${body}\n`, crc, body };
}

export interface ReadLine {
	rev: number;
	crc: string;
	/** Offset of the byte after the line. */
	end: number;
	/** Absent for revisions below the one asked for: checked, but not parsed. */
	line?: HistoryLine;
}

export interface Segment {
	lines: ReadLine[];
	/** Bytes up to which all lines are good. */
	goodBytes: number;
	/** What follows: nothing, the beginning of a line that was never acknowledged, or damage. */
	rest: 'nothing' | 'torn' | 'damaged';
}

/**
 * Reads a segment up to its first bad line. Only a remainder without a newline, or of NUL bytes alone, can come
 * from a write that was cut off; anything else may have been acknowledged once, and is damage.
 */
export function readSegment(bytes: Buffer, fromRev = 0): Segment {
	const lines: ReadLine[] = [];
	let start = 0;
	while (start < bytes.length) {
		const end = bytes.indexOf(10, start);
		const read = end < 0 ? null : readLine(bytes.subarray(start, end), fromRev);
		if (!read) {
			const rest = bytes.subarray(start);
			const torn = rest.every((byte) => byte === 0) || (end < 0 && !readLine(rest.subarray(0, -1), Infinity));
			return { lines, goodBytes: start, rest: torn ? 'torn' : 'damaged' };
		}
		start = end + 1;
		lines.push({ ...read, end: start });
	}
	return { lines, goodBytes: start, rest: 'nothing' };
}

function readLine(bytes: Buffer, fromRev: number): Omit<ReadLine, 'end'> | null {
	const head = HEAD.exec(bytes.toString('latin1', 0, HEAD_BYTES));
	if (!head || checksum(bytes.subarray(9)) !== head[1]) return null;
	const read: Omit<ReadLine, 'end'> = { rev: Number(head[2]), crc: head[1] };
	if (read.rev >= fromRev) read.line = JSON.parse(bytes.toString('utf8', 9)) as HistoryLine;
	return read;
}

/** Revision of the last line in the end of a segment, if that end holds one whole. */
export function lastRevIn(tail: Buffer): number | null {
	if (tail.at(-1) !== 10) return null;
	const start = tail.subarray(0, -1).lastIndexOf(10) + 1;
	return readLine(tail.subarray(start, -1), Infinity)?.rev ?? null;
}
