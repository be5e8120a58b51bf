/** Numbers formed from all populations of a sample, then with each left out in turn: their scatter is the error. */
import { meanLog } from './sample';

/** What all populations say, then with each of them left out; only one number where it is known exactly. */
export type InTurn = readonly number[];

/** ln of the mean of what each population says, given by its logarithm. */
export const meanInTurn = (logs: readonly number[]): InTurn => [
	meanLog(logs),
	...logs.map((_, i) => meanLog(logs.filter((_, other) => other !== i)))
];

/** What is equal differs by nothing, be it infinite. */
export const minus = (a: InTurn, b: InTurn): InTurn =>
	(a.length < b.length ? b : a).map((_, i) => {
		const [x, y] = [a[i] ?? (a[0] as number), b[i] ?? (b[0] as number)];
		return x === y ? 0 : x - y;
	});

/** Standard error (Quenouille 1956, Tukey 1958, from memory); infinite where too few populations say anything. */
export function errorOf([value, ...without]: InTurn): number {
	if (without.every((other) => other === value)) return 0;
	const n = without.length;
	const mean = without.reduce((a, b) => a + b, 0) / n;
	const error = Math.sqrt(((n - 1) / n) * without.reduce((sum, other) => sum + (other - mean) ** 2, 0));
	return Number.isFinite(error) ? error : Infinity;
}
