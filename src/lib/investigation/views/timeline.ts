import { sigmasOfLevel, standardDeviation } from '$lib/probability/distributions';
import type { Quantity } from '$lib/quantity/quantity';
import { toSi } from '$lib/quantity/quantity';
import type { Investigation } from '../case';
import type { Moment, TimelineEntry } from '../schema/places-and-times';

/**
 * [R5] Two moments have an order where their distance exceeds 1.96 standard deviations of that distance, so that the
 * order would come out wrong in no more than 1 of 40 such pairs; closer ones are shown without an order.
 */
const ORDERED_FROM = sigmasOfLevel(0.95);

/** A moment put on true time. */
export interface Timed {
	/** Seconds after 1970 UTC, true time; null where the clock or the launch has no time. */
	trueS: number | null;
	/** Seconds after launch; null where the two can't be compared. */
	sinceLaunchS: number | null;
	/** One standard deviation of the moment on true time, s; null where the clock was never compared. */
	sigmaS: number | null;
	/** Why the moment could not be put on true time or how well, in words; '' when all is known. */
	remark: string;
}

export interface TimelineRow extends Timed {
	id: string;
	entry: TimelineEntry;
	/** Rows whose order against this one can't be told. */
	unordered: string[];
	/** True where the order against the row above can't be told. */
	tiedAbove: boolean;
}

/** Where a moment's error comes from: its own reading, and what all readings of that clock share. */
interface Reading {
	base: string;
	/** Seconds on the base: after launch, or true time before the clock's own error is known. */
	trueS: number | null;
	ownSigmaS: number;
	sharedSigmaS: number | null;
	remark: string;
}

/** Seconds after 1970 of a reading as it stands on the clock, and how finely it was written. */
function parseLocal(reading: string): { s: number; stepS: number } {
	const stepS = reading.length === 10 ? 86_400 : reading.length === 16 ? 60 : reading.length === 19 ? 1 : 0;
	const s = Date.parse(reading + (reading.length === 10 ? 'T00:00Z' : 'Z')) / 1000;
	// A reading to the minute may be any second of it: its middle, with the spread of a uniform minute.
	return { s: s + stepS / 2, stepS };
}

const uniformSigma = (widthS: number) => widthS / Math.sqrt(12);

const seconds = (q: Quantity) => {
	const si = toSi(q, 'time');
	return { value: si.value, sigma: standardDeviation(si) };
};

/** True time of launch, with its spread; null where no date and time of day were given. */
function launch(file: Investigation): { s: number; sigmaS: number } | null {
	const about = file.about['main'];
	if (!about || about.flownAt.length <= 10) return null;
	const { s, stepS } = parseLocal(about.flownAt);
	return { s: s - about.zoneMinutes * 60, sigmaS: uniformSigma(stepS) };
}

function read(file: Investigation, at: Moment, plusMinus: Quantity | null): Reading {
	const spread = plusMinus ? seconds(plusMinus).value : null;
	if (at.kind === 'sinceLaunch') {
		const after = seconds(at.after);
		const from = launch(file);
		return {
			base: 'launch',
			trueS: from ? from.s + after.value : null,
			ownSigmaS: spread ?? after.sigma,
			sharedSigmaS: from?.sigmaS ?? null,
			remark: from ? '' : 'the time of launch is not recorded'
		};
	}
	const clock = file.clocks[at.clock];
	const { s, stepS } = parseLocal(at.reading);
	const ownSigmaS = spread ?? uniformSigma(stepS);
	if (!clock)
		return { base: at.clock, trueS: null, ownSigmaS, sharedSigmaS: null, remark: 'its clock is not listed' };
	const ahead = clock.ahead && seconds(clock.ahead);
	return {
		base: at.clock,
		trueS: s - clock.zoneMinutes * 60 - (ahead?.value ?? 0),
		ownSigmaS,
		sharedSigmaS: ahead?.sigma ?? null,
		remark: !ahead
			? `${clock.name} was never compared with another clock`
			: ahead.sigma === 0
				? `how well ${clock.name} was compared is not stated; taken as exact`
				: ''
	};
}

/** Puts one moment on true time. */
export function timed(file: Investigation, at: Moment, plusMinus: Quantity | null = null): Timed {
	return asTimed(file, at, read(file, at, plusMinus));
}

function asTimed(file: Investigation, at: Moment, reading: Reading): Timed {
	const from = launch(file);
	const { trueS, ownSigmaS, sharedSigmaS, remark } = reading;
	return {
		trueS,
		sinceLaunchS:
			at.kind === 'sinceLaunch' ? seconds(at.after).value : from && trueS !== null ? trueS - from.s : null,
		sigmaS: sharedSigmaS === null ? null : Math.hypot(ownSigmaS, sharedSigmaS),
		remark
	};
}

/**
 * Time from one entry of the timeline to another, with one standard deviation (null where a clock was never compared).
 * What readings of one clock share cancels. Null where the two can't be put on one time.
 */
export function elapsed(
	file: Investigation,
	from: string,
	to: string
): { seconds: number; sigmaS: number | null } | null {
	const [first, last] = [file.timeline[from], file.timeline[to]];
	if (!first || !last) return null;
	const [a, b] = [read(file, first.at, first.plusMinus), read(file, last.at, last.plusMinus)];
	const own = Math.hypot(a.ownSigmaS, b.ownSigmaS);
	if (a.base === 'launch' && b.base === 'launch') {
		const [x, y] = [timed(file, first.at), timed(file, last.at)];
		return x.sinceLaunchS === null || y.sinceLaunchS === null
			? null
			: { seconds: y.sinceLaunchS - x.sinceLaunchS, sigmaS: own };
	}
	if (a.trueS === null || b.trueS === null) return null;
	const shared = a.base === b.base ? 0 : sum(a.sharedSigmaS, b.sharedSigmaS);
	return { seconds: b.trueS - a.trueS, sigmaS: shared === null ? null : Math.hypot(own, shared) };
}

const sum = (a: number | null, b: number | null) => (a === null || b === null ? null : Math.hypot(a, b));

/** True if nobody can say which of two readings came first. What readings of one clock share cancels between them. */
function unordered(a: Reading, b: Reading, apartS: number): boolean {
	if (a.base === b.base) return apartS <= ORDERED_FROM * Math.hypot(a.ownSigmaS, b.ownSigmaS);
	if (a.sharedSigmaS === null || b.sharedSigmaS === null) return true;
	return apartS <= ORDERED_FROM * Math.hypot(a.ownSigmaS, b.ownSigmaS, a.sharedSigmaS, b.sharedSigmaS);
}

/**
 * All moments of the timeline on one clock, earliest first; those that can't be put on true time come last, in the
 * order of their own clock. Rows say against which others their order can't be told.
 */
export function timeline(file: Investigation): TimelineRow[] {
	const all = Object.entries(file.timeline).map(([id, entry]) => {
		const reading = read(file, entry.at, entry.plusMinus);
		const place = asTimed(file, entry.at, reading);
		return { id, entry, reading, ...place, sortS: place.trueS ?? place.sinceLaunchS ?? Infinity };
	});
	const placed = (row: (typeof all)[number]) => (row.trueS === null ? 1 : 0);
	all.sort((a, b) => placed(a) - placed(b) || a.sortS - b.sortS || a.id.localeCompare(b.id));
	const tied = (a: (typeof all)[number], b: (typeof all)[number]) =>
		(a.trueS === null) !== (b.trueS === null) || unordered(a.reading, b.reading, Math.abs(a.sortS - b.sortS));
	return all.map((row, i) => ({
		id: row.id,
		entry: row.entry,
		trueS: row.trueS,
		sinceLaunchS: row.sinceLaunchS,
		sigmaS: row.sigmaS,
		remark: row.remark,
		unordered: all.filter((other) => other !== row && tied(row, other)).map((other) => other.id),
		tiedAbove: i > 0 && tied(row, all[i - 1]!)
	}));
}
