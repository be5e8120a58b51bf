import { makeAir, type Air } from '$lib/physics/air';
import { STANDARD_GRAVITY_M_S2, standardAtmosphere } from '$lib/physics/atmosphere';
import { fall, type FallPhase, type FallStart } from '$lib/physics/fall';
import { makeFaller, type Faller } from '$lib/physics/faller';
import { makeWindFromParts } from '$lib/physics/wind';
import { airLevels, airOf, levelsKey, remember, windOf, type WindAndAir } from './through-wind';

/** Where a piece lands and when. */
export interface Landing {
	east: number;
	north: number;
	time: number;
	/** Speed over the ground, m/s. */
	speed: number;
}

/** Falls from each start to the height of the pad, opening at the heights of its phases. */
export type Drop = (ballistic: number | readonly FallPhase[], starts: readonly FallStart[]) => Landing[];

/**
 * Drops in this sample's air and wind: by the fast method (within 0.5 m) for samples, by the exact one for the nominal
 * run. What lies below all starts is worked out once for a piece, so many starts cost little more than one.
 */
export function dropper(x: WindAndAir, precise: boolean): Drop {
	const { heights, east, north } = windOf(x);
	if (precise) {
		const air = airOf(x);
		const wind = makeWindFromParts(heights, east, north);
		return (ballistic, starts) =>
			starts.map((start) => {
				const end = fall({ ballistic, start, air, wind });
				return { east: end.eastM, north: end.northM, time: end.timeS, speed: end.impactSpeedMS };
			});
	}
	const near = nearAir(x);
	const ground = `${near.key} ${heights.join()}`;
	return (ballistic, starts) => {
		const phases = typeof ballistic === 'number' ? [{ ballisticKgM2: ballistic }] : ballistic;
		// Written out: a spread costs more than the fall.
		const states = starts.map(({ eastM, northM, upM, vEastMS, vNorthMS, vUpMS }) => ({
			eastM,
			northM,
			upM,
			vEastMS,
			vNorthMS,
			vUpMS,
			time: 0
		}));
		for (const { ballisticKgM2, untilHeightM = 0 } of phases) {
			const end = Math.max(0, untilHeightM);
			const above = states.filter(({ upM, vUpMS }) => end === 0 || upM > end || vUpMS > 0);
			if (above.length === 0) continue;
			const faller = fallers(`${ground} ${end}`, () => makeFaller(near.air, heights, end));
			const highest = above.reduce((most, { upM, vUpMS }) => Math.max(most, upM + rise(vUpMS)), 0);
			faller.load(ballisticKgM2 / near.share((end + highest) / 2), east, north, highest);
			for (const at of above) {
				faller.drop(at.eastM, at.northM, at.upM, at.vEastMS, at.vNorthMS, at.vUpMS);
				const { landed } = faller;
				at.eastM = landed[0]!;
				at.northM = landed[1]!;
				at.upM = landed[2]!;
				at.time += landed[3]!;
				at.vEastMS = landed[4]!;
				at.vNorthMS = landed[5]!;
				at.vUpMS = landed[6]!;
			}
		}
		return states.map(({ eastM, northM, time, vEastMS, vNorthMS, vUpMS }) => ({
			east: eastM,
			north: northM,
			time,
			speed: Math.hypot(vEastMS, vNorthMS, vUpMS)
		}));
	};
}

/** How far a piece that leaves with this speed upward rises at most, m. */
const rise = (vUpMS: number) => (vUpMS > 0 ? vUpMS ** 2 / (2 * STANDARD_GRAVITY_M_S2) : 0);

const fallers = remember<Faller>(64);
const airs = remember<Air>(64);

/** Air near a sample's that many samples share, and how much denser the sample's is at a height above the pad. */
interface NearAir {
	air: Air;
	key: string;
	share(height: number): number;
}

const ELEVATION_STEP_M = 100;

/**
 * The nearest air of whole kelvins at the pad and whole hectometres of elevation, so that an uncertain temperature
 * does not ask for a faller of its own in every sample. Pressure scales the density of the whole column alike, and
 * drag acts by density over ballistic coefficient only; what is left of a kelvin changes the density by the same
 * share at all heights to 0.05 % in 3 km.
 */
function nearAir(x: WindAndAir): NearAir {
	const standard = standardAtmosphere(x.siteElevation);
	const temperature = x.siteTemperature ?? standard.temperatureK;
	const pressure = x.sitePressure ?? standard.pressurePa;
	const elevation = ELEVATION_STEP_M * Math.round(x.siteElevation / ELEVATION_STEP_M);
	const sounding = levelsKey(x);
	const at = (kelvin: number) =>
		airs(`${elevation} ${kelvin} ${sounding}`, () =>
			makeAir({
				siteElevationM: elevation,
				surfaceTemperatureK: kelvin,
				surfacePressurePa: STANDARD_PA,
				sounding: airLevels(x, elevation, x.siteTemperature === undefined ? undefined : kelvin)
			})
		);
	const [below, above] = [at(Math.floor(temperature)), at(Math.floor(temperature) + 1)];
	const part = temperature - Math.floor(temperature);
	const near = Math.round(part);
	return {
		air: near === 0 ? below : above,
		key: `${elevation} ${Math.floor(temperature) + near} ${sounding}`,
		share: (height) =>
			(pressure / STANDARD_PA) * (above.densityKgM3(height) / below.densityKgM3(height)) ** (part - near)
	};
}
const STANDARD_PA = 101_325;
