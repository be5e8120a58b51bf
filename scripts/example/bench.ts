/**
 * The bench on which the example is made: named operations one after another on a real store, with a clock, identities
 * and hands that the script sets, so that two runs make the same investigation.
 */
import { Readable } from 'node:stream';
import { calculationById } from '$lib/calculations/registry';
import { runCalculation } from '$lib/calculations/run';
import type { ListField } from '$lib/calculations/calculation';
import type { Change, Investigation, VehicleFile } from '$lib/investigation/case';
import { operate, operateVehicle } from '$lib/investigation/operations';
import { readOf } from '$lib/investigation/views/clearance';
import type { Context } from '$lib/investigation/operations/operation';
import { rowsText, valueOf } from '$lib/investigation/views/case-values';
import { listOffer } from '$lib/investigation/views/roles';
import { investigationOf, rules, vehicleOf } from '$lib/server/case-rules';
import { receiveFile } from '$lib/server/files/receive';
import { FileStore } from '$lib/server/storage/file-store';
import type { Change as StoredChange, CaseStore, Command } from '$lib/server/storage/types';
import { asWeighed, inFull, type Weights } from './weighed';

export const INVESTIGATION_ID = 'lantern-2-flight-3';
export const VEHICLE_ID = 'lantern-2';
const CASE = `investigations/${INVESTIGATION_ID}`;
const VEHICLE = `vehicles/${VEHICLE_ID}`;

/** Between two things that one person does in one sitting. */
const STEP_MS = 40_000;

export class Bench {
	readonly store: CaseStore;
	#time: { now: Date };
	#who = '';
	#ids: string[] = [];
	#made = 0;

	private constructor(store: CaseStore, time: { now: Date }) {
		this.store = store;
		this.#time = time;
	}

	static async open(folder: string): Promise<Bench> {
		const time = { now: new Date(0) };
		return new Bench(await FileStore.open(folder, { rules, now: () => time.now }), time);
	}

	/** From here on it is this person, at this moment (UTC). */
	at(moment: string, who: string): void {
		const now = new Date(moment);
		if (!(now.getTime() >= this.#time.now.getTime()))
			throw new Error(`${moment} lies before what is done already`);
		this.#time.now = now;
		this.#who = who;
	}

	get now() {
		return this.#time.now;
	}

	/** Identities for the next records that the tool itself would name. */
	ids(...ids: string[]): void {
		this.#ids.push(...ids);
	}

	context(): Context {
		return {
			now: this.#time.now.toISOString(),
			who: this.#who,
			newId: () => this.#ids.shift() ?? `r${String(++this.#made).padStart(3, '0')}`
		};
	}

	async create(
		id: string,
		operation: string,
		args: Command['args'],
		changes: readonly Change[]
	): Promise<void> {
		const made = await this.store.create(id, { who: this.#who, operation, args }, changes as StoredChange[]);
		if (!made.ok) throw new Error(`${operation}: ${made.error.message}`);
		this.#pass();
	}

	async file(): Promise<Investigation> {
		return investigationOf((await this.#open(CASE)).state);
	}

	async vehicle(): Promise<VehicleFile> {
		return vehicleOf((await this.#open(VEHICLE)).state);
	}

	/** Does an operation on the investigation; the identities of the records that it changed. */
	do(name: string, args: unknown): Promise<string[]> {
		return this.#do(CASE, name, args, (state, context) =>
			operate(investigationOf(state), name, args, context)
		);
	}

	/** Does an operation on the vehicle. */
	async doVehicle(name: string, args: unknown): Promise<string[]> {
		const reads = await this.#reads();
		return this.#do(VEHICLE, name, args, (state, context) =>
			operateVehicle(vehicleOf(state), name, args, {
				...context,
				vehicle: { id: VEHICLE_ID, investigations: reads }
			})
		);
	}

	/** What the vehicle's operation would be refused with; nothing is done. */
	async refusedByVehicle(name: string, args: unknown): Promise<string[]> {
		const outcome = operateVehicle(await this.vehicle(), name, args, {
			...this.context(),
			vehicle: { id: VEHICLE_ID, investigations: await this.#reads() }
		});
		return outcome.ok ? [] : outcome.problems.map(({ message }) => message);
	}

	/** Keeps a file with the investigation, as the page does when one is dropped on it. */
	async attach(id: string, name: string, content: Uint8Array | string): Promise<string> {
		const bytes = typeof content === 'string' ? Buffer.from(content) : content;
		const received = await receiveFile(this.store, CASE, Readable.from([bytes]), { name });
		if (!received.ok) throw new Error(`${name}: ${received.error.message}`);
		await this.do('attachment.add', { id, record: received.value });
		return id;
	}

	/** Runs a calculation on values of the case and keeps it; `{from}` cells are taken from the case. */
	async calculate(run: Run): Promise<void> {
		const { rev, state } = await this.#open(CASE);
		const file = investigationOf(state);
		const calculation = calculationById(run.calculation);
		if (!calculation) throw new Error(`no calculation ${run.calculation}`);
		const sources: unknown[] = [];
		const resolve = (cell: Cell, input: string): string => {
			if (typeof cell === 'string') return cell;
			const [collection, id, value] = cell.from;
			const found = valueOf(file, { collection, id, value });
			if (!found) throw new Error(`${input}: the case has no ${cell.from.join(' ')}`);
			sources.push({ input, collection, id, value, rev, text: found.text });
			return cell.as ?? found.text;
		};
		const inputs = cells(run.inputs, '', resolve);
		const observed = cells(run.observed ?? {}, 'observed.', resolve);
		const windField = calculation.inputs.find((f): f is ListField => f.kind === 'list' && f.id === 'wind');
		const wind = windField && listOffer(file, windField);
		if (wind) {
			inputs['wind'] = wind.rows;
			const { collection, id, value } = wind.taken;
			sources.push({ input: 'wind', collection, id, value, rev, text: rowsText(wind.rows) });
		}
		const request = { inputs, observed, scenarios: run.scenarios ?? [], seed: 1, samples: 4000 };
		const result = runCalculation(calculation, {
			inputs,
			seed: request.seed,
			samples: request.samples,
			...(Object.keys(observed).length > 0 ? { observed } : {}),
			...(request.scenarios.length > 0 ? { scenarios: request.scenarios } : {})
		});
		if (!result.ok) throw new Error(`${run.title}: ${result.error.path} ${result.error.message}`);
		await this.do('calculation.add', {
			id: run.id,
			calculation: run.calculation,
			anomaly: run.anomaly,
			title: run.title,
			note: run.note,
			...request,
			sources,
			result: JSON.parse(JSON.stringify(result.value)) as unknown
		});
		if (run.events) await this.do('calculation.useAsEvidence', { id: run.id, use: true, events: run.events });
	}

	/** As a conclusion keeps them: to four decimals, since the last digits belong to the engine's version. */
	async numbers(anomaly: string): Promise<ReturnType<typeof inFull>> {
		const rounded = (p: number) => Number(p.toFixed(4));
		return Object.fromEntries(
			Object.entries(inFull(await this.file(), anomaly)).map(([id, { givenTop, givenAll }]) => [
				id,
				{ givenTop: rounded(givenTop), givenAll: rounded(givenAll) }
			])
		);
	}

	/** How the events of an anomaly stand now. */
	async weights(anomaly: string): Promise<Weights> {
		return asWeighed(await this.file(), anomaly);
	}

	close(): Promise<void> {
		return this.store.close();
	}

	async #open(id: string) {
		const opened = await this.store.open(id);
		if (!opened.ok) throw new Error(opened.error.message);
		return opened.value;
	}

	async #reads() {
		const opened = await this.store.open(CASE);
		return opened.ok ? [readOf(INVESTIGATION_ID, opened.value.rev, investigationOf(opened.value.state))] : [];
	}

	async #do(
		id: string,
		operation: string,
		args: unknown,
		decide: (state: Parameters<typeof investigationOf>[0], context: Context) => ReturnType<typeof operate>
	): Promise<string[]> {
		const { rev } = await this.#open(id);
		let changed: string[] = [];
		const command = { baseRev: rev, who: this.#who, operation, args } as Command;
		const done = await this.store.change<unknown>(id, command, (state) => {
			const outcome = decide(state, this.context());
			if (!outcome.ok) return { ok: false, error: outcome.problems };
			changed = outcome.value.map((change) => change.id);
			return { ok: true, value: { changes: outcome.value as StoredChange[] } };
		});
		if (!done.ok)
			throw new Error(`${operation} ${JSON.stringify(args).slice(0, 200)}: ${JSON.stringify(done.error)}`);
		if (this.#ids.length > 0) throw new Error(`${operation} left the identities ${this.#ids.join(', ')}`);
		this.#pass();
		return changed;
	}

	#pass() {
		this.#time.now = new Date(this.#time.now.getTime() + STEP_MS);
	}
}

/** A value as typed, or taken from a record; `as` where the form shows it under another name. */
type Cell = string | { from: [collection: keyof Investigation, id: string, value: string]; as?: string };
type Cells = Record<string, Cell | Record<string, Cell>[]>;

export interface Run {
	id: string;
	calculation: string;
	anomaly: string | null;
	title: string;
	note: string;
	inputs: Cells;
	observed?: Cells;
	scenarios?: Record<string, string>[];
	/** Events of the tree that the scenarios stand for, in their order. */
	events?: (string | null)[];
}

function cells(given: Cells, prefix: string, resolve: (cell: Cell, input: string) => string) {
	const of = (row: Record<string, Cell>, at: string) =>
		Object.fromEntries(Object.entries(row).map(([key, cell]) => [key, resolve(cell, `${at}${key}`)]));
	return Object.fromEntries(
		Object.entries(given).map(([key, cell]): [string, unknown] => [
			key,
			Array.isArray(cell)
				? cell.map((row, i) => of(row, `${prefix}${key}.${i + 1}.`))
				: resolve(cell, `${prefix}${key}`)
		])
	);
}
