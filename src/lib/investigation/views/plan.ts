import { distanceAndBearing } from '$lib/physics/geodesy';
import { fromSi, toSi } from '$lib/quantity/quantity';
import type { Investigation } from '../case';
import { assumedOf, type OnPlan, padPlace, positions } from './positions';

/** One thing that lies on the plan. */
export interface PlanItem extends OnPlan {
	id: string;
	/** 'E7', as everywhere. */
	mark: string;
	title: string;
	kind: 'piece' | 'photo' | 'other';
	/** From the pad. */
	distanceM: number;
	bearingDeg: number;
	/** What it was measured from, when by distance and bearing. */
	measuredFrom: string | null;
	/** What was assumed for want of a plus-minus, in words; '' where nothing was. */
	assumed: string;
	/** Hazards in it that are not known to be safe. */
	notSafe: string[];
}

/** Where one descent scenario would have ended: nested regions, the smallest first. */
export interface PlanRegion {
	label: string;
	levels: { level: number; polygons: (readonly [number, number])[][] }[];
}

export interface Plan {
	items: PlanItem[];
	wind: { heightM: number; fromDeg: number; speedMS: number }[];
	regions: PlanRegion[];
	/** Bearing in which it was launched, true degrees, or null. */
	launchedDeg: number | null;
}

/** Everything that the plan shows, or the words for what is missing. */
export function planOf(file: Investigation): { ok: true; plan: Plan } | { ok: false; missing: string } {
	const pad = padPlace(file);
	if (!pad) return { ok: false, missing: 'The pad has no position yet, and everything is drawn from there.' };
	const placed = positions(file);
	const declination = file.site['main']?.declinationDeg ?? 0;
	// What no longer counts lies nowhere.
	const counting = [...placed].filter(([id]) => !file.evidence[id]!.withdrawn);
	const items = counting.map(([id, at]): PlanItem => {
		const item = file.evidence[id]!;
		const { distanceM, bearingDeg } = distanceAndBearing(pad, at.place);
		return {
			...at,
			id,
			mark: `E${item.number}`,
			title: item.title,
			kind: item.kind === 'piece' || item.kind === 'photo' ? item.kind : 'other',
			distanceM,
			bearingDeg,
			measuredFrom: item.position?.kind === 'bearing' ? item.position.from : null,
			assumed: assumedOf(item.position),
			notSafe: Object.values(file.hazards)
				.filter((hazard) => hazard.evidence === id && hazard.state !== 'safe')
				.map((hazard) => hazard.what)
		};
	});
	const launch = file.about['main']?.launchDirection ?? null;
	return {
		ok: true,
		plan: {
			items: items.sort((a, b) => Number(a.mark.slice(1)) - Number(b.mark.slice(1))),
			wind: windOf(file),
			regions: regionsOf(file),
			launchedDeg:
				launch && launch.elevationDeg < 90
					? (launch.bearingDeg + (launch.reference === 'magnetic' ? declination : 0) + 360) % 360
					: null
		}
	};
}

/** The pieces in the order in which they lie along their trail. */
export interface Trail {
	/** Mean bearing of the pieces from the pad, true degrees. */
	bearingDeg: number;
	/** By item: its place in the order, from 1, and how far along that bearing it lies. */
	along: ReadonlyMap<string, { order: number; alongM: number }>;
}

/**
 * The trail of the found pieces: their mean direction from the pad, and the order along it. Null with fewer than
 * two pieces, and where they lie on all sides, so that there is no trail: the sum of their offsets is then shorter
 * than half of their summed distances (a convention of this tool).
 */
export function trailOf(items: readonly PlanItem[]): Trail | null {
	const pieces = items.filter(({ kind }) => kind === 'piece');
	const sum = (value: (item: PlanItem) => number) => pieces.reduce((total, item) => total + value(item), 0);
	const [east, north, whole] = [sum((p) => p.eastM), sum((p) => p.northM), sum((p) => p.distanceM)];
	const length = Math.hypot(east, north);
	if (pieces.length < 2 || length < whole / 2 || whole === 0) return null;
	const alongOf = ({ eastM, northM }: PlanItem) => (eastM * east + northM * north) / length;
	const ordered = pieces
		.map((item) => ({ id: item.id, alongM: alongOf(item) }))
		.sort((a, b) => a.alongM - b.alongM);
	return {
		bearingDeg: ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360,
		along: new Map(ordered.map(({ id, alongM }, i) => [id, { order: i + 1, alongM }]))
	};
}

/** The wind table in true degrees and metres above the pad. */
export function windOf(file: Investigation): Plan['wind'] {
	const weather = file.weather['main'];
	if (!weather) return [];
	const declination = file.site['main']?.declinationDeg ?? 0;
	const elevation = file.site['main']?.elevation;
	const offset = weather.heightsAre === 'aboveSea' && elevation ? toSi(elevation, 'length').value : 0;
	return weather.wind.map(({ height, fromDeg, speed }) => ({
		heightM: toSi(height, 'length').value - offset,
		fromDeg: (fromDeg + (weather.fromReference === 'magnetic' ? declination : 0) + 360) % 360,
		speedMS: toSi(speed, 'speed').value
	}));
}

/** Regions of the landing-footprint runs kept in the case; a later run of the same scenario replaces an earlier one. */
function regionsOf(file: Investigation): PlanRegion[] {
	const byLabel = new Map<string, PlanRegion>();
	const runs = Object.values(file.calculations)
		.filter((run) => run.calculation === 'landing-footprint')
		.sort((a, b) => a.number - b.number);
	for (const run of runs)
		for (const region of footprintRegions(run.result)) byLabel.set(region.label, region);
	return [...byLabel.values()];
}

/** Region layers of a stored figure; its units are metres from the pad. */
export function footprintRegions(result: unknown): PlanRegion[] {
	const layers = (result as { figure?: { layers?: unknown[] } } | null)?.figure?.layers ?? [];
	const regions = new Map<string, PlanRegion>();
	for (const layer of layers as {
		kind: string;
		label: string;
		polygons: (readonly [number, number])[][];
	}[]) {
		if (layer.kind !== 'region') continue;
		const [, label = layer.label, level = '90'] = /^(.*?),? (\d+) %$/.exec(layer.label) ?? [];
		const region = regions.get(label) ?? { label, levels: [] };
		region.levels.push({ level: Number(level) / 100, polygons: layer.polygons });
		regions.set(label, region);
	}
	for (const region of regions.values()) region.levels.sort((a, b) => a.level - b.level);
	return [...regions.values()];
}

/** '049°' as bearings are written. */
export const bearingText = (deg: number): string => `${String(Math.round(deg) % 360).padStart(3, '0')}°`;

/** '612 m' or '1.24 km'; under 10 m with a decimal. */
export function distanceText(metres: number): string {
	if (metres < 10) return `${metres.toFixed(1)} m`;
	return metres < 1000 ? `${Math.round(metres)} m` : `${fromSi(metres, 'km', 'length').toFixed(2)} km`;
}
