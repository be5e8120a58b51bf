import type { FileKind } from '$lib/investigation/check';

/** The two kinds of file that an address can name. */
export const match = (param: string): param is FileKind => param === 'investigations' || param === 'vehicles';
