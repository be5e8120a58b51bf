/** Durable commits into cases of several sizes, through the store that the server uses; and the list of many cases. */
import { closeSync, fdatasyncSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { doOperation } from '$lib/server/cases';
import type { CaseStore } from '$lib/server/storage/types';
import { keepCase, openBenchStore, who } from './kept-case';
import { caseOfEvidence } from './large-case';
import type { Workload } from './workload';

const middle = (times: number[]) => times.sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? NaN;

/** What the disk alone takes to append and sync a line of that size, ms: the median of many. */
function rawAppend(folder: string, bytes: number): number {
	const line = Buffer.alloc(bytes, 'x');
	const file = openSync(join(folder, 'raw'), 'a');
	const times = Array.from({ length: 200 }, () => {
		const start = performance.now();
		writeSync(file, line);
		fdatasyncSync(file);
		return performance.now() - start;
	});
	closeSync(file);
	return middle(times);
}

/** One commit: an item corrected by the tool's own operation, acknowledged once it is on the disk. */
function commits(size: number): Workload {
	let folder = '';
	let store: CaseStore;
	let rev = 0;
	let count = 0;
	let cpu = process.cpuUsage();
	/** The items as a page would hold them. */
	let page: Record<string, Record<string, unknown>> = {};
	const corrected = new Set<string>();
	return {
		name: 'commit',
		size,
		runs: 300,
		async prepare() {
			folder = mkdtempSync(join(tmpdir(), 'witness-mark-bench-'));
			store = await openBenchStore(folder);
			const made = caseOfEvidence(size);
			page = { ...made.evidence };
			rev = await keepCase(store, 'large', made);
			// So that the snapshot of the making is not counted.
			await store.close();
			store = await openBenchStore(folder);
			await store.open('investigations/large');
			cpu = process.cpuUsage();
		},
		async run() {
			const id = `item${(count++ * 37) % size}`;
			const record = { ...page[id], title: `Item as seen at look ${count}` };
			const args = { id, record, reason: 'looked again' };
			const did = await doOperation(
				'investigations',
				'large',
				'evidence.correct',
				args,
				{ who, baseRev: rev },
				store
			);
			if (!did.ok) throw new Error(JSON.stringify(did.problems));
			rev = did.rev;
			page[id] = record;
			corrected.add(id);
			return {};
		},
		async finish() {
			const { user, system } = process.cpuUsage(cpu);
			await store.close();
			store = await openBenchStore(folder);
			const verified = await store.verify('investigations/large');
			const opened = await store.open('investigations/large');
			if (!verified.ok || !opened.ok) throw new Error('the case can’t be opened again');
			const kept = opened.value.state['evidence'] ?? {};
			const lost = [...corrected].filter((id) => kept[id]?.['title'] !== page[id]?.['title']).length;
			const whole = Object.keys(kept).length === size && opened.value.rev === rev;
			await store.close();
			const check = {
				commits: count,
				lost,
				whole: whole && verified.value.problems.length === 0,
				cpuMs: Number(((user + system) / 1000 / count).toPrecision(3)),
				diskAloneMs: Number(rawAppend(folder, 2500).toPrecision(3))
			};
			rmSync(folder, { recursive: true, force: true });
			return check;
		}
	};
}

/** The list on the first page, by a store that has just been opened. */
function listed(size: number): Workload {
	let folder = '';
	return {
		name: 'commit-list',
		size,
		async prepare() {
			folder = mkdtempSync(join(tmpdir(), 'witness-mark-bench-'));
			const store = await openBenchStore(folder);
			for (let i = 0; i < size; i++)
				await keepCase(store, `case-${i}`, caseOfEvidence(3, `Avocet, flight ${i}`));
			await store.close();
		},
		async run() {
			const store = await openBenchStore(folder);
			const list = await store.list('investigations');
			await store.close();
			const titles = new Set(list.map(({ summary }) => summary['title']));
			return { listed: list.length, titles: titles.size, unreadable: list.filter((x) => x.problem).length };
		},
		finish() {
			rmSync(folder, { recursive: true, force: true });
		}
	};
}

const workloads: Workload[] = [...[100, 1000, 10_000].map(commits), listed(1000)];
export default workloads;
