/** The files that instruments left: made from the true flight with the noise that such instruments have. */
import { normalQuantile } from '$lib/probability/special';
import { randomStream } from '$lib/probability/generator';
import { FLIGHT, MEASURED_WIND } from './world';

const noise = (stream: string) => {
	const random = randomStream(20250517, stream);
	return (sd: number) => sd * normalQuantile(random());
};

/** Height and supply of the flight recorder, twenty times a second from one second before lift-off. */
export function recorderLog(): string {
	const height = noise('recorder height');
	const supply = noise('recorder supply');
	const rows = ['time_s,height_above_pad_m,supply_V'];
	for (let i = -20; i <= Math.ceil((FLIGHT.landedS + 6) * 20); i++) {
		const t = i / 20;
		const firing = [FLIGHT.apogee.t + 0.3, FLIGHT.mainAtS].some((at) => t >= at && t < at + 0.1);
		const h = (t <= 0 ? 0 : FLIGHT.heightAt(t)) + height(0.7) + (firing ? -9 : 0);
		const volts = 8.21 - 0.0006 * t + supply(0.004) - (firing ? 0.9 : 0);
		rows.push(`${t.toFixed(2)},${h.toFixed(1)},${volts.toFixed(2)}`);
	}
	return rows.join('\n') + '\n';
}

export const BEACON_LAST_S = 41;

/** What the ground receiver heard of the beacon: one line a second, signal strength in dBm. */
export function receiverLog(): string {
	const signal = noise('receiver');
	const rows = ['# beacon packets, times on the receiver’s own clock', 'clock,packet,signal_dBm'];
	for (let t = -60; t <= BEACON_LAST_S; t++) {
		// The receiver ran 2 s ahead; lift-off was at 14:32:08.
		const clock = new Date(Date.UTC(2025, 4, 17, 14, 32, 10 + t)).toISOString().slice(11, 19);
		const rangeM = Math.hypot(260, t <= 0 ? 0 : FLIGHT.heightAt(t));
		const dbm = -52 - 20 * Math.log10(rangeM / 260) + signal(1.5);
		rows.push(`${clock},${1000 + t},${dbm.toFixed(0)}`);
	}
	return rows.join('\n') + '\n';
}

/** The balloon's wind as a table that the tool reads. */
export const balloonWind = () =>
	[
		'height_above_pad_m direction_deg speed_m/s temperature_C',
		...MEASURED_WIND.map((row) => row.join(' '))
	].join('\n') + '\n';
