import type { Investigation } from '../case';
import { unaccounted } from './parts';

/**
 * Where the make-safe check stands. Only 'safe' means that every listed thing is recorded as safe and somebody said
 * that nothing is missing from the list; 'notWhole' lacks that word.
 */
export interface MakeSafe {
	state: 'notListed' | 'open' | 'notWhole' | 'safe';
	/** Identities of what is not recorded as safe, as listed. */
	open: string[];
	words: string;
}

export function makeSafe(file: Investigation): MakeSafe {
	const hazards = Object.entries(file.hazards);
	const open = hazards.filter(([, h]) => h.state !== 'safe').map(([id]) => id);
	if (hazards.length === 0)
		return { state: 'notListed', open, words: 'Nothing is listed yet. Treat everything as live.' };
	if (open.length === 0) {
		const whole = file.about['main']?.allListed !== undefined;
		const listed =
			hazards.length === 1
				? 'The one thing listed is safe.'
				: `All ${hazards.length} things listed are safe.`;
		return {
			state: whole ? 'safe' : 'notWhole',
			open,
			words: whole ? listed : `${listed} Nobody has said that nothing is missing: treat the rest as live.`
		};
	}
	const lost = open.filter((id) => file.hazards[id]!.state === 'notRecovered').length;
	const unknown = open.length - lost;
	return {
		state: 'open',
		open,
		words:
			[unknown > 0 && `${unknown} not known safe`, lost > 0 && `${lost} not recovered`]
				.filter(Boolean)
				.join(', ') + '. The scene is not safe yet.'
	};
}

/** What may still hurt, and where it is: in a found piece, or nobody has said where. */
export interface StillOpen {
	id: string;
	what: string;
	state: 'notKnown' | 'notRecovered';
	/** The found piece that it sits in. */
	item: { id: string; mark: string } | null;
}

/** Everything that is not recorded as safe, also what sits in no placed piece or was not recovered. */
export const notKnownSafe = (file: Investigation): StillOpen[] =>
	makeSafe(file).open.map((id) => {
		const { what, state, evidence } = file.hazards[id]!;
		const item = evidence === null ? undefined : file.evidence[evidence];
		return {
			id,
			what,
			state: state as StillOpen['state'],
			item: item ? { id: evidence!, mark: `E${item.number}` } : null
		};
	});

export const SECTIONS = [
	{ key: 'make-safe', title: 'Make safe' },
	{ key: 'vehicle', title: 'Vehicle, build and parts' },
	{ key: 'site', title: 'Site and access' },
	{ key: 'flight', title: 'When and in which direction' },
	{ key: 'weather', title: 'Weather' },
	{ key: 'expected', title: 'What was expected' },
	{ key: 'timeline', title: 'Timeline and clocks' }
] as const;
export type SectionKey = (typeof SECTIONS)[number]['key'];

/** What each section of the record still lacks, in a word or two each; an empty list is a complete section. */
export function recordGaps(file: Investigation): Record<SectionKey, string[]> {
	const about = file.about['main'];
	const site = file.site['main'];
	const weather = file.weather['main'];
	const parts = Object.values(file.parts);
	const clocks = Object.values(file.clocks);
	const safe = makeSafe(file);
	const gaps = (...missing: (string | false)[]) => missing.filter((gap) => gap !== false);
	const count = (n: number, one: string, many = one) => n > 0 && `${n} ${n === 1 ? one : many}`;
	return {
		'make-safe': gaps(
			safe.state === 'notListed' && 'nothing listed',
			safe.state === 'notWhole' && 'whether everything is listed',
			count(safe.open.filter((id) => file.hazards[id]!.state === 'notKnown').length, 'not known safe'),
			count(safe.open.filter((id) => file.hazards[id]!.state === 'notRecovered').length, 'not recovered')
		),
		vehicle: gaps(
			!about?.buildName && !about?.build && 'build',
			parts.length === 0 && 'parts',
			count(unaccounted(file), 'unaccounted for'),
			count(parts.filter((p) => p.uses === null).length, 'without use count')
		),
		site: gaps(
			!site?.pad && 'pad position',
			!site?.elevation && 'elevation',
			site?.declinationDeg == null && 'declination',
			(!site || [site.ownersLeave, site.powerLines, site.water, site.fireRisk].includes('notKnown')) &&
				'access',
			!site?.told.length && 'who was told'
		),
		flight: gaps(
			!about?.flownAt && 'date and time',
			about?.flownAt?.length === 10 && 'time of day',
			!about?.launchDirection && 'launch direction'
		),
		weather: gaps(
			!weather?.surfaceTemperature && 'temperature',
			!weather?.surfacePressure && 'pressure',
			!weather?.wind.length && 'wind'
		),
		expected: gaps(
			...(
				[
					['apogee', 'apogee'],
					['descentTime', 'descent time']
				] as const
			).map(([what, words]) => !Object.values(file.expected).some((e) => e.what === what) && words)
		),
		timeline: gaps(
			Object.keys(file.timeline).length === 0 && 'moments',
			clocks.length === 0 && 'clocks',
			count(clocks.filter((c) => c.ahead === null).length, 'clock not compared', 'clocks not compared')
		)
	};
}
