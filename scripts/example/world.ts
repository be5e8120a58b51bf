/**
 * What really happened on the invented day, computed by the project's own physics: the flight, the way down, and
 * where the pieces lie. The story's measurements are this truth with honest errors; nobody in the story knows it.
 */
import { makeAir } from '$lib/physics/air';
import { ballisticFromSpeedKgM2 } from '$lib/physics/descent';
import { fall } from '$lib/physics/fall';
import { fromLocal, type Position } from '$lib/physics/geodesy';
import { integrate } from '$lib/physics/ode';
import { makeWind, type WindLevel } from '$lib/physics/wind';
import { randomStream } from '$lib/probability/generator';

export const PAD: Position = { latitudeDeg: 38.5213, longitudeDeg: -33.2046 };
export const SITE = { elevationM: 64, temperatureC: 17.2, pressureHPa: 1004.4 };

/** The balloon's wind, as the story measured it: metres above the pad, where it comes from, m/s, °C. */
export const MEASURED_WIND = [
	[10, 285, 4.9, 17.2],
	[50, 287, 5.9, 16.8],
	[100, 290, 6.5, 16.3],
	[200, 293, 7.3, 15.5],
	[300, 295, 7.9, 14.9],
	[450, 298, 8.5, 13.8],
	[600, 300, 9.1, 12.7],
	[800, 303, 9.8, 11.4],
	[1000, 306, 10.5, 10.0],
	[1300, 309, 11.2, 8.1],
	[1700, 312, 12.3, 5.4],
	[2100, 314, 13.2, 2.9]
] as const;

/** The wind an hour later was a little stronger and had veered a little. */
const TRUE_WIND: WindLevel[] = MEASURED_WIND.map(([heightM, fromDeg, speedMS]) => ({
	heightM,
	fromDeg: fromDeg + 4,
	speedMS: speedMS * 1.06
}));

const wind = makeWind(TRUE_WIND);
const air = makeAir({
	siteElevationM: SITE.elevationM,
	surfaceTemperatureK: SITE.temperatureC + 273.15,
	surfacePressurePa: SITE.pressureHPa * 100
});
export const groundDensityKgM3 = air.densityKgM3(0);

const G = 9.80665;
const LIFT_OFF_KG = 8.95;
const BURNT_OUT_KG = 7.42;
const THRUST_N = 640;
const BURN_S = 2.62;
const DRAG_AREA_M2 = 0.0043;
/** The moment at which the outer half leaves, and what its loss does to the drag. */
const PARTED_S = 2.31;
const DRAG_AFTER = 1.9;
const HEADING_DEG = 296;
const MAIN_HEIGHT_M = 200;
export const FIN = { fallSpeedMS: 9.4, massG: 95.4 };
export const DROGUE = { plannedMS: 18, realMS: 25.2, mainMS: 6.4 };

interface Moment {
	t: number;
	heightM: number;
	eastM: number;
	northM: number;
	speedMS: number;
}

/** Up to apogee along the velocity; `dragAfter` 1 is the flight that was expected. */
function ascent(dragAfter: number): { track: Moment[]; apogee: Moment & { vAlong: number } } {
	const along = (HEADING_DEG * Math.PI) / 180;
	const track: Moment[] = [];
	const at = (t: number, s: Float64Array): Moment => ({
		t,
		heightM: s[1]!,
		eastM: s[0]! * Math.sin(along),
		northM: s[0]! * Math.cos(along),
		speedMS: Math.hypot(s[2]!, s[3]!)
	});
	const tilt = (3.2 * Math.PI) / 180;
	let state = Float64Array.of(0, 0, 0.01 * Math.sin(tilt), 0.01 * Math.cos(tilt));
	let from = 0;
	// The corners of thrust and drag stand at the ends of stretches, so that no step crosses one.
	for (const to of [PARTED_S, BURN_S, 60]) {
		const burning = from < BURN_S - 1e-9;
		const dragArea = DRAG_AREA_M2 * (from >= PARTED_S - 1e-9 ? dragAfter : 1);
		const end = integrate({
			y0: state,
			t0: from,
			tEnd: to,
			maxStep: 0.05,
			events: [(_, s) => (s[1]! > 5 ? s[3]! : 1)],
			onStep: (t, s) => void track.push(at(t, s)),
			derivative(t, s, d) {
				const mass = LIFT_OFF_KG - ((LIFT_OFF_KG - BURNT_OUT_KG) * Math.min(t, BURN_S)) / BURN_S;
				const v = Math.hypot(s[2]!, s[3]!);
				const push = (burning ? THRUST_N : 0) - (air.densityKgM3(s[1]!) * v * v * dragArea) / 2;
				// On the rail, 2 m long, it goes where the rail points.
				const onRail = s[1]! < 2;
				d[0] = s[2]!;
				d[1] = s[3]!;
				d[2] = (push / mass) * (s[2]! / v) - (onRail ? G * Math.cos(tilt) * Math.sin(tilt) : 0);
				d[3] = (push / mass) * (s[3]! / v) - (onRail ? G * Math.cos(tilt) ** 2 : G);
			}
		});
		state = Float64Array.from(end.y);
		from = end.t;
		if (end.event >= 0) break;
	}
	return { track, apogee: { ...at(from, state), vAlong: state[2]! } };
}

function flight() {
	const up = ascent(DRAG_AFTER);
	const expected = ascent(1).apogee;
	const track = [...up.track];
	const along = (HEADING_DEG * Math.PI) / 180;
	const { apogee } = up;
	const landing = fall({
		ballistic: [
			{
				ballisticKgM2: ballisticFromSpeedKgM2(DROGUE.realMS, groundDensityKgM3),
				untilHeightM: MAIN_HEIGHT_M
			},
			{ ballisticKgM2: ballisticFromSpeedKgM2(DROGUE.mainMS, groundDensityKgM3) }
		],
		start: {
			eastM: apogee.eastM,
			northM: apogee.northM,
			upM: apogee.heightM,
			vEastMS: apogee.vAlong * Math.sin(along),
			vNorthMS: apogee.vAlong * Math.cos(along),
			vUpMS: 0
		},
		air,
		wind,
		onStep: (t, s) =>
			void track.push({
				t: apogee.t + t,
				heightM: s.upM,
				eastM: s.eastM,
				northM: s.northM,
				speedMS: Math.hypot(s.vEastMS, s.vNorthMS, s.vUpMS)
			})
	});
	const heightAt = (t: number) => {
		const i = track.findIndex((m) => m.t >= t);
		if (i < 0) return 0;
		const [a, b] = [track[Math.max(0, i - 1)]!, track[i]!];
		return b.t > a.t ? a.heightM + ((b.heightM - a.heightM) * (t - a.t)) / (b.t - a.t) : b.heightM;
	};
	const timeDownTo = (heightM: number) =>
		track.find((m) => m.t > apogee.t && m.heightM <= heightM)?.t ?? Number.NaN;
	const burnout = up.track.find((m) => m.t >= BURN_S)!;
	const parted = up.track.find((m) => m.t >= PARTED_S)!;
	const before = up.track[up.track.indexOf(parted) - 3]!;
	const fin = fall({
		ballistic: ballisticFromSpeedKgM2(FIN.fallSpeedMS, groundDensityKgM3),
		start: {
			eastM: parted.eastM,
			northM: parted.northM,
			upM: parted.heightM,
			vEastMS: (parted.eastM - before.eastM) / (parted.t - before.t),
			vNorthMS: (parted.northM - before.northM) / (parted.t - before.t),
			vUpMS: (parted.heightM - before.heightM) / (parted.t - before.t)
		},
		air,
		wind
	});
	return {
		expected,
		apogee,
		burnout,
		parted,
		mainAtS: timeDownTo(MAIN_HEIGHT_M),
		landedS: apogee.t + landing.timeS,
		body: { eastM: landing.eastM, northM: landing.northM },
		fin: { eastM: fin.eastM, northM: fin.northM, landedS: parted.t + fin.timeS },
		greatestSpeedMS: Math.max(...up.track.map((m) => m.speedMS)),
		heightAt
	};
}

export const FLIGHT = flight();

/** What the recorder's log says, as the story quotes it. */
export const LOG = {
	apogeeM: Math.round(FLIGHT.apogee.heightM),
	shortfallM: Math.round((FLIGHT.expected.heightM - FLIGHT.apogee.heightM) / 10) * 10,
	/** Mean rate between 900 m and 300 m, where the drogue alone carried it. */
	drogueMS: (() => {
		const timeAt = (h: number) => {
			let t = FLIGHT.apogee.t;
			while (FLIGHT.heightAt(t) > h) t += 0.01;
			return t;
		};
		return 600 / (timeAt(300) - timeAt(900));
	})()
};

/** A place on the ground, metres from the pad, as a satellite receiver with this circle (68 %) would have read it. */
export function fix(place: { eastM: number; northM: number }, circleM: number, stream: string): Position {
	const random = randomStream(20250517, `fix ${stream}`);
	const sigma = circleM / Math.sqrt(-2 * Math.log(0.32));
	const size = sigma * Math.sqrt(-2 * Math.log(random()));
	const turn = 2 * Math.PI * random();
	return fromLocal(PAD, {
		eastM: place.eastM + size * Math.sin(turn),
		northM: place.northM + size * Math.cos(turn)
	});
}

/** '38.52131 N, 33.20462 W' */
export const decimalDegrees = ({ latitudeDeg, longitudeDeg }: Position) =>
	`${latitudeDeg.toFixed(5)} N, ${Math.abs(longitudeDeg).toFixed(5)} W`;

/** '38° 31.278′ N 33° 12.276′ W' */
export function degreesMinutes({ latitudeDeg, longitudeDeg }: Position): string {
	const part = (x: number) => `${Math.floor(x)}° ${((x % 1) * 60).toFixed(3)}′`;
	return `${part(latitudeDeg)} N ${part(Math.abs(longitudeDeg))} W`;
}
