import { typedText } from '../ui/quantity-text';
import type { Weather, WindLevel } from '$lib/investigation/schema/record';

/** One row of the wind table as typed. */
export interface WindRow {
	height: string;
	fromDeg: string;
	speed: string;
	temperature: string;
}

export const blankRow = (): WindRow => ({ height: '', fromDeg: '', speed: '', temperature: '' });

export const rowOf = (level: WindLevel): WindRow => ({
	height: typedText(level.height),
	fromDeg: String(level.fromDeg),
	speed: typedText(level.speed),
	temperature: typedText(level.temperature)
});

export const isBlank = (row: WindRow) => Object.values(row).every((cell: string) => cell.trim() === '');

/** The weather as it stands in its form. */
export function weatherDraft(weather: Weather) {
	return {
		surfaceTemperature: typedText(weather.surfaceTemperature),
		surfacePressure: typedText(weather.surfacePressure),
		pressureIs: weather.pressureIs,
		heightsAre: weather.heightsAre,
		fromReference: weather.fromReference,
		speedSpread: `${Math.round(weather.speedSpread * 100)} %`,
		directionSpreadDeg: `${weather.directionSpreadDeg}°`,
		source: weather.source,
		note: weather.note,
		sounding: weather.sounding,
		wind: weather.wind.length > 0 ? weather.wind.map(rowOf) : [blankRow(), blankRow(), blankRow()]
	};
}
export type WeatherDraft = ReturnType<typeof weatherDraft>;
