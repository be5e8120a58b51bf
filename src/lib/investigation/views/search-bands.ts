import { inRegion, type Region } from '$lib/calculations/landing-footprint/regions';
import type { Investigation } from '../case';
import { footprintRegions } from './plan';

/** Ground between two levels of a landing region: as probable as the levels are apart, if that descent took place. */
export interface SearchBand {
	/** The kept run, its scenario and the upper level, as a reference names them: 'As planned|0.9'. */
	run: string;
	key: string;
	name: string;
	areaM2: number;
	weight: number;
	/** Rings around it, and those of the band within that do not belong to it; metres east and north of the pad. */
	outer: Rings;
	inner: Rings;
}

type Rings = readonly (readonly (readonly [number, number])[])[];

/** Area within rings, m²; a hole runs the other way round than what it lies in (shoelace formula). */
function areaOf(polygons: Rings): number {
	let twice = 0;
	for (const ring of polygons)
		for (let i = 0, j = ring.length - 1; i < ring.length; j = i++)
			twice += ring[j]![0] * ring[i]![1] - ring[i]![0] * ring[j]![1];
	return Math.abs(twice) / 2;
}

const percent = (p: number) => Math.round(100 * p);

/** Bands of a kept landing-footprint run: for each descent the ground within 50 %, from there to 90 %, to 99 %. */
export function bandsOf(file: Investigation, run: string): SearchBand[] {
	const kept = file.calculations[run];
	if (kept?.calculation !== 'landing-footprint') return [];
	return footprintRegions(kept.result).flatMap(({ label, levels }) => {
		let [inner, within] = [0, 0];
		let rings: Rings = [];
		return levels.map(({ level, polygons }): SearchBand => {
			const area = areaOf(polygons);
			const band = {
				run,
				key: `${label}|${level}`,
				name:
					inner === 0
						? `${label}, within ${percent(level)} %`
						: `${label}, ${percent(inner)} to ${percent(level)} %`,
				areaM2: area - within,
				weight: level - inner,
				outer: polygons,
				inner: rings
			};
			[inner, within, rings] = [level, area, polygons];
			return band;
		});
	});
}

/** As many places say where a band lies as finely as a bearing needs it. */
const FEWEST_PLACES = 24;
/** What fits into a line of text. */
const LONGEST = 480;

/** Places on a square grid within a band, 'east north, …' in metres; each stands for an equal part of it. */
export function placesIn({ outer, inner, areaM2 }: SearchBand): string {
	const points = outer.flat();
	const [east, north] = [0, 1].map((axis) => points.map((point) => point[axis]!)) as [number[], number[]];
	const [west, south] = [Math.min(...east), Math.min(...north)];
	const [widthM, heightM] = [Math.max(...east) - west, Math.max(...north) - south];
	const within = (rings: Rings, e: number, n: number) =>
		inRegion({ level: 1, rings: rings as Region['rings'] }, e, n);
	let text = '';
	// A thin band slips between the points of a coarse grid: finer until enough of them lie in it.
	for (let finer = 1; finer < 8; finer *= 1.15) {
		const step = Math.sqrt(areaM2 / FEWEST_PLACES) / finer;
		const places: string[] = [];
		for (let e = west + step / 2; e < west + widthM; e += step)
			for (let n = south + step / 2; n < south + heightM; n += step)
				if (within(outer, e, n) && !within(inner, e, n)) places.push(`${Math.round(e)} ${Math.round(n)}`);
		if (text !== '' && places.join(', ').length > LONGEST) return text;
		text = places.join(', ').length > LONGEST ? text : places.join(', ');
		if (places.length >= FEWEST_PLACES) return text;
	}
	return text;
}

/** Bands of all kept landing-footprint runs, in order. */
export const searchBands = (file: Investigation): SearchBand[] =>
	Object.entries(file.calculations)
		.sort(([, a], [, b]) => a.number - b.number)
		.flatMap(([run]) => bandsOf(file, run));
