import type { Refusal } from './types';

/** Every refusal in one place, so that they speak alike: what happened, what holds, what to do. */
export const diskFull = (): Refusal => ({
	kind: 'full',
	message: 'The disk is full. Nothing was saved and nothing was lost: free some space and try again.'
});

export const readOnly = (reason: string): Refusal => ({
	kind: 'read-only',
	message: `Saving has stopped: ${reason}. What was saved before is safe. Restart Witness Mark to go on.`
});

export const notFound = (id: string): Refusal => ({
	kind: 'not-found',
	message: `There is no folder '${id}'.`
});

export const noRevision = (rev: number): Refusal => ({
	kind: 'not-found',
	message: `There is no revision ${rev} in this folder.`
});

export const noFile = (): Refusal => ({ kind: 'not-found', message: 'This file is not in the folder.' });

export const exists = (id: string): Refusal => ({
	kind: 'exists',
	message: `There is already a folder '${id}'.`
});

export const invalid = (problems: string[]): Refusal => ({
	kind: 'invalid',
	message: problems.join(' '),
	problems
});

export const nothingToRestore = (): Refusal =>
	invalid(['This folder is whole: there is nothing to restore.']);

export const badFile = (message: string): Refusal => ({ kind: 'bad-file', message });

export const notItsName = (sha256: string): Refusal =>
	badFile(`The file ${sha256.slice(0, 12)}… is not what its name says.`);

export const tooLarge = (what: string, limit: number, size: number): Refusal => ({
	kind: 'too-large',
	message: `${what}: ${megabytes(size)}, and the limit is ${megabytes(limit)}. Nothing was saved.`,
	limit,
	size
});

const megabytes = (bytes: number) => `${(bytes / 1024 ** 2).toFixed(1)} MB`;
