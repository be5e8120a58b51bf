import { pressureAltitudeM, STANDARD_COLUMN } from '$lib/physics/atmosphere';
import type { Air } from '$lib/physics/air';
import { airOf, warmerAir } from '../through-wind';
import type { Inputs } from './inputs';

/** The day's air with the error that its temperature aloft may have, and that of a day whose temperature is unknown. */
export function airAloft(x: Inputs): Air {
	// With temperatures by height the day's is known, whether or not one was read at the pad.
	const warmer = x.aloftError + (x.airTemperatures.length > 0 ? 0 : (x.dayWarmer ?? 0));
	return warmer === 0 ? airOf(x) : warmerAir(x, warmer);
}

/** Pressure altitude of the pad, m: where a recorder sets its zero. */
const padAltitude = (air: Air) => pressureAltitudeM(air.pressurePa(0));

/** Pressure that the recorder took for that of the air. */
export const pressureRead = (x: Inputs, air: Air) =>
	x.readAs === 'pressure'
		? x.pressureAloft!
		: STANDARD_COLUMN.pressurePa(padAltitude(air) + x.indicatedHeight!);

/** Height above the pad that standard air gives to a pressure. */
export const indicated = (air: Air, pressurePa: number) => pressureAltitudeM(pressurePa) - padAltitude(air);

/** What a sound recorder with the standard air in it shows at a true height above the pad. */
export const shownAt = (x: Inputs, air: Air, height: number, portErrorPa = x.portError) =>
	indicated(air, air.pressurePa(height) + portErrorPa);

/** @throws {RangeError} where the errors leave no pressure at all */
export function trueHeightOf(x: Inputs, air: Air, pressurePa: number): number {
	const still = pressurePa - x.portError;
	if (!(still > 300)) throw new RangeError('less the error of the port, there is hardly any pressure left');
	return air.heightOfPressureM(still) + x.portLag * x.climbRate;
}
