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
}

/** Area within rings, m²; a hole runs the other way round than what it lies in (shoelace formula). */
function areaOf(polygons: readonly (readonly (readonly [number, number])[])[]): number {
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
				weight: level - inner
			};
			[inner, within] = [level, area];
			return band;
		});
	});
}

/** Bands of all kept landing-footprint runs, in order. */
export const searchBands = (file: Investigation): SearchBand[] =>
	Object.entries(file.calculations)
		.sort(([, a], [, b]) => a.number - b.number)
		.flatMap(([run]) => bandsOf(file, run));
