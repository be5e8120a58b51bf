/** Makes the example from nothing: the whole story, told in named operations on a real store, and its zip. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { exportArchive } from '$lib/server/archive/export';
import { show } from './anomaly';
import { beacon } from './beacon';
import { Bench, INVESTIGATION_ID, VEHICLE_ID } from './bench';
import { changes } from './changes';
import { drogue } from './drogue';
import { evidence } from './evidence';
import { examined, timeline, whatCameBack } from './examined';
import { fin } from './fin';
import { ignition } from './ignition';
import { record, vehicle } from './record';

const CHAPTERS = [
	vehicle,
	record,
	evidence,
	examined,
	timeline,
	whatCameBack,
	fin,
	drogue,
	ignition,
	beacon,
	changes
];

/** @param file  where the zip goes @param say  told how the anomalies weigh */
export async function makeExample(file: string, say: (text: string) => void): Promise<void> {
	const folder = await mkdtemp(join(tmpdir(), 'witness-mark-example-'));
	const bench = await Bench.open(folder);
	try {
		for (const chapter of CHAPTERS) await chapter(bench);
		for (const anomaly of Object.keys((await bench.file()).anomalies)) say(await show(bench, anomaly));
		const { attachments } = await bench.file();
		const names = new Map(Object.values(attachments).map(({ sha256, name }) => [sha256, name]));
		const archive = await exportArchive(
			bench.store,
			[`investigations/${INVESTIGATION_ID}`, `vehicles/${VEHICLE_ID}`],
			{ now: bench.now, nameOf: (sha256) => names.get(sha256) }
		);
		if (!archive.ok) throw new Error(archive.error.message);
		const chunks: Uint8Array[] = [];
		for await (const chunk of archive.value) chunks.push(chunk);
		await writeFile(file, Buffer.concat(chunks));
	} finally {
		await bench.close();
		await rm(folder, { recursive: true });
	}
}
