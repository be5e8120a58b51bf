import { createReadStream } from 'node:fs';
import { access, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { takeArchive } from './archive/take-along';
import { openStore } from './open-store';
import { dataFolder, running } from './running';

/** Folder name of the investigation that comes with the tool. */
export const EXAMPLE_ID = 'lantern-2-flight-3';
const FOLDERS = [`investigations/${EXAMPLE_ID}`, 'vehicles/lantern-2'];
/** Stands in the data folder once the example was given: whoever put it away does not get it back. */
const GIVEN = 'example-given.txt';

/**
 * Brings the example in at the first start of a data folder. It never stands in the way of a start: what goes wrong is
 * reported, and tried again the next time.
 */
export async function giveExample(): Promise<void> {
	if (process.env['WITNESS_MARK_EXAMPLE'] === 'no') return;
	const mark = join(dataFolder(), GIVEN);
	try {
		if ((await isThere(mark)) || (await isTaken())) return;
		const zip = running.example ?? resolve('examples', `${EXAMPLE_ID}.zip`);
		if (!(await isThere(zip))) return;
		const taken = await takeArchive(createReadStream(zip));
		if (!taken.ok) throw new Error(taken.error.message);
		await writeFile(
			mark,
			'The example was brought in once. Delete this file and put the example away to get it anew.\n'
		);
	} catch (error) {
		console.error('The example could not be brought in; everything else works.', error);
	}
}

const isThere = (path: string) =>
	access(path).then(
		() => true,
		() => false
	);

/** Somebody's own investigation or vehicle of that name, here or put away, is never mixed with the example. */
async function isTaken(): Promise<boolean> {
	const store = await openStore();
	const lists = await Promise.all(
		['investigations', 'vehicles'].flatMap((kind) => [store.list(kind), store.list(kind, { archived: true })])
	);
	return lists.flat().some(({ id }) => FOLDERS.includes(id));
}
