import { requireNotNegative, requirePositive } from './checks';
import { enthalpyAt, TABLE_START_K, TABLE_STEP_K, temperatureAt, type ThermalTable } from './thermal-table';

export interface WallLayer {
	table: ThermalTable;
	thicknessM: number;
	/** Uncertainty of the properties, as factors on the table; 1 if not given. */
	conductivityFactor?: number;
	heatFactor?: number;
	latentFactor?: number;
	/** Recession that is not melting (burning graphite, charring), while the gas flows, m/s. */
	erosionMS?: number;
	/** Of equal cells; more where temperature varies more. */
	cells: number;
}

export interface WallPhase {
	durationS: number;
	/** Coefficient at the hot face, W/(m²·K), at the face's temperature, and the temperature of the gas (recovery), K. */
	coefficient: (surfaceK: number) => number;
	gasK: number;
	erodes?: boolean;
	/** Coefficient at the back face at its temperature, and the air's temperature. */
	backCoefficient: (surfaceK: number) => number;
	airK: number;
	firstStepS: number;
	longestStepS: number;
	/** Each step over the one before, at most; 1.1 if not given. */
	growth?: number;
}

/** How the wall is now. Temperatures in K; the last layer, which carries the load, by its mean. */
export interface WallState {
	timeS: number;
	hotK: number;
	backK: number;
	loadK: number;
	leftM: number;
	melting: boolean;
	/** The whole wall is gone at this face. */
	through: boolean;
	steps: number;
}

/** Per area of the hot face at the start: taken from the gas, given off at the back, carried off by what melted or eroded. */
export interface WallHeat {
	inJM2: number;
	outJM2: number;
	removedJM2: number;
	storedJM2: number;
}

// The inner loops read these; local names are read faster where modules are not bundled.
const [START, STEP, PER_STEP] = [TABLE_START_K, TABLE_STEP_K, 1 / TABLE_STEP_K];

/** A cell thinner than this share of its first thickness joins its neighbour, or goes where that is another material. */
const JOIN = 0.6;
const GONE = 0.05;

/**
 * Transient conduction through a layered wall, flat or around an axis, whose hot face may melt or erode. Backward Euler in
 * time, finite volumes in space. The unknown is the enthalpy: each step solves for temperature with the slope of the
 * enthalpy at its start, then reads the temperature back from the enthalpy that the fluxes made. Energy is so conserved
 * to rounding, and a peak of the heat capacity can't be jumped over. The melting face stands at the melting point and
 * moves through its cell; what melts runs off at once. Hand-derived (after Pham's and Landau's methods); checked against
 * exact solutions. SI.
 * @param innerRadiusM  of the hot face around an axis; absent for a flat wall
 */
export function makeWall(layers: readonly WallLayer[], startK: number, innerRadiusM?: number) {
	requirePositive({ startK });
	if (!layers.length) throw new RangeError('a wall needs a layer');
	const n = layers.reduce((sum, l) => sum + l.cells, 0);
	const layerOf = new Uint8Array(n);
	const width = new Float64Array(n);
	/** Radius of the inner interface of each cell over that of the hot face; 1 throughout where flat. */
	const radius = new Float64Array(n + 1).fill(1);
	const T = new Float64Array(n).fill(startK);
	const h = new Float64Array(n);
	const k = new Float64Array(n);
	const c = new Float64Array(n);
	const solved = new Float64Array(n);
	/** Temperature of the point of the table below each cell's. */
	const low = new Float64Array(n);
	const upper = new Float64Array(n);
	const rho = new Float64Array(n);
	/** Of a whole cell, per area of the first hot face. */
	const mass = new Float64Array(n);
	/** From the centre of a cell to its side, m²·K/W. */
	const resistance = new Float64Array(n);
	/** Where each layer's cells begin, and where the last one's end. */
	const starts: number[] = [];
	let cell = 0;
	layers.forEach((l, index) => {
		starts.push(cell);
		requirePositive({ thickness: l.thicknessM, cells: l.cells });
		for (let i = 0; i < l.cells; i++, cell++) {
			layerOf[cell] = index;
			rho[cell] = l.table.densityKgM3;
			width[cell] = l.thicknessM / l.cells;
			if (innerRadiusM !== undefined) radius[cell + 1] = radius[cell]! + width[cell]! / innerRadiusM;
			h[cell] = enthalpyOf(l, startK);
		}
	});
	starts.push(n);
	const curved = innerRadiusM === undefined ? 0 : 1 / innerRadiusM;
	const load = layers.length - 1;
	let first = 0;
	/** Thickness left of the first cell, and its volume per area of the first hot face. */
	let front = width[0]!;
	const volumeOf = (i: number, d: number) => d * (radius[i + 1]! - (curved * d) / 2);
	/** The inverse: thickness of what is left of a cell. */
	const depthOf = (i: number, volume: number) =>
		curved ? (radius[i + 1]! - Math.sqrt(radius[i + 1]! ** 2 - 2 * curved * volume)) / curved : volume;
	for (let i = 0; i < n; i++) mass[i] = rho[i]! * volumeOf(i, width[i]!);
	const heat = { inJM2: 0, outJM2: 0, removedJM2: 0 };
	const state: WallState = {
		timeS: 0,
		hotK: startK,
		backK: startK,
		loadK: startK,
		leftM: width.reduce((a, b) => a + b, 0),
		melting: false,
		through: false,
		steps: 0
	};

	/** Properties of every cell at its temperature. */
	function properties() {
		for (let index = layerOf[first]!; index < layers.length; index++) {
			const { table, conductivityFactor = 1, heatFactor = 1 } = layers[index]!;
			const { conductivity, enthalpy } = table;
			const last = enthalpy.length - 2;
			const slope = heatFactor / STEP;
			const end = starts[index + 1]!;
			for (let i = Math.max(first, starts[index]!); i < end; i++) {
				const at = (T[i]! - START) * PER_STEP;
				const j = at < 0 ? 0 : at > last ? last : at | 0;
				const k0 = conductivity[j]!;
				const share = at - j;
				low[i] = START + STEP * j;
				k[i] = conductivityFactor * (k0 + (share > 1 ? 1 : share) * (conductivity[j + 1]! - k0));
				resistance[i] = width[i]! / (2 * k[i]!);
				c[i] = slope * (enthalpy[j + 1]! - enthalpy[j]!);
			}
		}
		resistance[first] = front / (2 * k[first]!);
	}

	/**
	 * Solves one step of dt for the temperatures, with the face melting or not, into `solved`. Returns the speed at which
	 * the face melts, or what its temperature would be.
	 */
	function solve(
		dt: number,
		hot: number,
		gasK: number,
		back: number,
		airK: number,
		melts: boolean,
		eroded: number
	) {
		const l = layers[layerOf[first]!]!;
		const faceArea = radius[first + 1]! - curved * front;
		const toFace = 1 / resistance[first]!;
		const { meltK } = l.table;
		const latent = l.table.latentJKg * (l.latentFactor ?? 1);
		const flux = hot * (gasK - meltK);
		const rate = 1 / dt;
		const last = n - 1;
		// The face: what the first cell gets from the gas, through the half of itself before its centre.
		let below: number;
		let source: number;
		if (melts) {
			const excess = (enthalpyOf(l, meltK) - h[first]!) / latent;
			below = faceArea * toFace * (1 + excess);
			source = faceArea * (toFace * meltK - excess * (flux - toFace * meltK));
		} else {
			below = faceArea / (1 / hot + resistance[first]!);
			// What erodes leaves at the face's temperature, its enthalpy above the cell's mean lost to the cell.
			source = below * gasK - faceArea * rho[first]! * eroded * (enthalpyOf(l, state.hotK) - h[first]!);
		}
		let store = rho[first]! * c[first]! * volumeOf(first, front) * rate;
		let upperBefore = 0;
		let solvedBefore = 0;
		let half = resistance[first]!;
		for (let i = first; i < last; i++) {
			const halfNext = resistance[i + 1]!;
			const above = radius[i + 1]! / (half + halfNext);
			const inverse = 1 / (store + below * (1 - upperBefore) + above);
			solvedBefore = (store * T[i]! + source + below * solvedBefore) * inverse;
			upperBefore = above * inverse;
			solved[i] = solvedBefore;
			upper[i] = upperBefore;
			source = 0;
			below = above;
			half = halfNext;
			store = mass[i + 1]! * c[i + 1]! * rate;
		}
		const out = radius[n]! / (1 / back + half);
		let after =
			(store * T[last]! + source + out * airK + below * solvedBefore) /
			(store + below * (1 - upperBefore) + out);
		solved[last] = after;
		for (let i = last - 1; i >= first; i--) {
			after = solved[i]! + upper[i]! * after;
			solved[i] = after;
		}
		return melts
			? (flux - toFace * (meltK - after)) / (rho[first]! * latent)
			: (hot * gasK + toFace * after) / (hot + toFace);
	}

	/** Advances by dt or, where the face would melt too far, by less; returns the time done. */
	function step(wanted: number, phase: WallPhase): number {
		const l = layers[layerOf[first]!]!;
		const { table } = l;
		const eroded = phase.erodes ? (l.erosionMS ?? 0) : 0;
		const hot = phase.coefficient(state.hotK);
		const back = phase.backCoefficient(state.backK);
		properties();
		let dt = eroded > 0 ? Math.min(wanted, (0.3 * front) / eroded) : wanted;
		let melts = state.melting;
		let speed: number;
		let hotK: number;
		for (let tries = 0; ; tries++) {
			const answer = solve(dt, hot, phase.gasK, back, phase.airK, melts, eroded);
			if (melts) {
				if (answer < 0 && tries < 3) {
					melts = false;
					continue;
				}
				speed = Math.max(0, answer);
				hotK = table.meltK;
				if (speed * dt > 0.5 * front && tries < 40) {
					dt *= (0.3 * front) / (speed * dt);
					continue;
				}
			} else {
				[speed, hotK] = [0, answer];
				if (answer > table.meltK && tries < 3) {
					melts = true;
					continue;
				}
			}
			break;
		}
		take(dt, hot, phase, melts, speed + (melts ? 0 : eroded), hotK, back);
		return dt;
	}

	function take(
		dt: number,
		hot: number,
		phase: WallPhase,
		melts: boolean,
		speed: number,
		hotK: number,
		back: number
	) {
		const l = layers[layerOf[first]!]!;
		const faceArea = radius[first + 1]! - curved * front;
		const latent = melts ? l.table.latentJKg * (l.latentFactor ?? 1) : 0;
		const leaves = speed > 0 ? enthalpyOf(l, melts ? hotK : state.hotK) + latent : 0;
		const volume = volumeOf(first, front);
		const gone = dt * faceArea * speed;
		const share = volume / (volume - gone);
		heat.inJM2 += dt * faceArea * hot * (phase.gasK - hotK);
		heat.removedJM2 += rho[first]! * gone * leaves;
		const last = n - 1;
		const inner = last === first ? front : width[last]!;
		const toBack = (2 * k[last]!) / inner;
		heat.outJM2 += (dt * radius[n]! * (solved[last]! - phase.airK)) / (1 / back + 1 / toBack);
		h[first]! += c[first]! * (solved[first]! - T[first]!) * (share - 1);
		for (let index = layerOf[first]!; index < layers.length; index++) {
			const { table, heatFactor = 1 } = layers[index]!;
			const end = starts[index + 1]!;
			for (let i = Math.max(first, starts[index]!); i < end; i++) {
				const before = T[i]!;
				const after = solved[i]!;
				h[i]! += c[i]! * (after - before);
				// Between two points of the table the enthalpy is linear, and the solved temperature the right one.
				const over = after - low[i]!;
				T[i] =
					over >= 0 && over < STEP && i > first ? after : temperatureAt(table, h[i]! / heatFactor, before);
			}
		}
		if (gone > 0) {
			front = depthOf(first, volume - gone);
			join(speed);
			runOff();
		}
		state.timeS += dt;
		state.steps++;
		state.melting = melts && !state.through;
		state.hotK = hotK;
		state.backK = (back * phase.airK + toBack * T[last]!) / (back + toBack);
		state.loadK = meanOfLoad();
	}

	/** Joins a thin first cell to the next, or drops the last of its material; the wall may be through. */
	function join(speed: number) {
		const here = layers[layerOf[first]!]!;
		const nextSame = first + 1 < n && layerOf[first + 1] === layerOf[first];
		if (nextSame && front < JOIN * width[first]!) {
			const [a, b] = [volumeOf(first, front), volumeOf(first + 1, width[first + 1]!)];
			h[first + 1] = (a * h[first]! + b * h[first + 1]!) / (a + b);
			T[first + 1] = temperatureOf(first + 1);
			front += width[first + 1]!;
			first++;
		} else if (!nextSame && front < GONE * width[first]!) {
			const last = volumeOf(first, front);
			if (first === n - 1) {
				state.through = true;
				state.timeS += front / speed;
				heat.removedJM2 += last * here.table.densityKgM3 * h[first]!;
				front = 0;
			} else {
				// The little that is left takes the heat it lacks for leaving from the layer behind.
				const { table } = here;
				const leaves =
					table.meltK < Infinity
						? enthalpyOf(here, table.meltK) + table.latentJKg * (here.latentFactor ?? 1)
						: h[first]!;
				const b = volumeOf(first + 1, width[first + 1]!) * rho[first + 1]!;
				h[first + 1]! -= (last * table.densityKgM3 * (leaves - h[first]!)) / b;
				heat.removedJM2 += last * table.densityKgM3 * leaves;
				T[first + 1] = temperatureOf(first + 1);
				first++;
				front = width[first]!;
				state.melting = false;
			}
		}
	}

	/** A layer that got hotter than its melting point behind another runs off once it lies bare. */
	function runOff() {
		while (!state.through) {
			const l = layers[layerOf[first]!]!;
			const { meltK } = l.table;
			if (!(T[first]! > meltK)) return;
			const [latent, solid] = [l.table.latentJKg * (l.latentFactor ?? 1), enthalpyOf(l, meltK)];
			const volume = volumeOf(first, front);
			const gone = (volume * (h[first]! - solid)) / latent;
			if (gone < volume) {
				heat.removedJM2 += rho[first]! * gone * (solid + latent);
				[h[first], T[first]] = [solid, meltK];
				front = depthOf(first, volume - gone);
				return;
			}
			heat.removedJM2 += rho[first]! * volume * h[first]!;
			if (first === n - 1) {
				state.through = true;
				front = 0;
			} else front = width[++first]!;
		}
	}

	function temperatureOf(i: number): number {
		const { table, heatFactor = 1 } = layers[layerOf[i]!]!;
		return temperatureAt(table, h[i]! / heatFactor, T[i]!);
	}

	function meanOfLoad(): number {
		let [sum, total] = [0, 0];
		for (let i = Math.max(first, starts[load]!); i < n; i++) {
			const d = i === first ? front : width[i]!;
			sum += d * T[i]!;
			total += d;
		}
		return total > 0 ? sum / total : state.hotK;
	}

	return {
		state,
		/** Runs a phase, or to where the wall is through; `watch` is called after every step. */
		run(phase: WallPhase, watch?: (s: WallState) => void): void {
			requirePositive({
				first: phase.firstStepS,
				longest: phase.longestStepS,
				gas: phase.gasK,
				air: phase.airK
			});
			requireNotNegative({ duration: phase.durationS });
			const end = state.timeS + phase.durationS;
			let dt = phase.firstStepS;
			while (!state.through && state.timeS < end - 1e-12 * Math.max(1, end)) {
				step(Math.min(dt, end - state.timeS), phase);
				state.leftM = state.through ? 0 : front + sumFrom(first + 1);
				watch?.(state);
				dt = Math.min(dt * (phase.growth ?? 1.1), phase.longestStepS);
			}
			state.melting = false;
		},
		/** Temperature and depth of every cell's centre from the present hot face, for tests and pictures. */
		profile(): { depthM: number; temperatureK: number }[] {
			let depth = 0;
			const out: { depthM: number; temperatureK: number }[] = [];
			for (let i = first; i < n; i++) {
				const d = i === first ? front : width[i]!;
				out.push({ depthM: depth + d / 2, temperatureK: T[i]! });
				depth += d;
			}
			return out;
		},
		heat(): WallHeat {
			let stored = 0;
			for (let i = first; i < n; i++)
				stored += rho[i]! * h[i]! * volumeOf(i, i === first ? front : width[i]!);
			return { ...heat, storedJM2: stored };
		}
	};

	function sumFrom(i: number): number {
		let sum = 0;
		for (; i < n; i++) sum += width[i]!;
		return sum;
	}
}

/** J/kg of a layer's material, with its factor. */
const enthalpyOf = ({ table, heatFactor = 1 }: WallLayer, temperatureK: number) =>
	heatFactor * enthalpyAt(table, temperatureK);
