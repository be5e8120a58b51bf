import { makeAir } from '$lib/physics/air';
import { makeFaller } from '$lib/physics/faller';
import { FALL_HEIGHTS_M, pieceOf, windOf } from './fall-pieces';
import type { Workload } from './workload';

/** Pieces of every kind from every height through winds of their own, to the ground; inputs are made as they fall. */
function falls(size: number): Workload {
	return {
		name: 'fall',
		size,
		run() {
			const faller = makeFaller(makeAir({ siteElevationM: 0 }), FALL_HEIGHTS_M);
			const x = new Float64Array(FALL_HEIGHTS_M.length);
			const y = new Float64Array(FALL_HEIGHTS_M.length);
			let sum = 0;
			for (let i = 0; i < size; i++) {
				windOf(i, x, y);
				const piece = pieceOf(i);
				faller.load(piece.ballisticKgM2, x, y, piece.upM);
				faller.drop(0, 0, piece.upM, piece.vEastMS, piece.vNorthMS, piece.vUpMS);
				sum += faller.landed[0]!;
			}
			return { meanXM: sum / size };
		}
	};
}

export default [falls(10_000), falls(100_000)];
