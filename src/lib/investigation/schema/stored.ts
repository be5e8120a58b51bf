import * as v from 'valibot';

/** JSON Schema of what a reading step makes of what was typed, for docs/file-format.schema.json. */
export interface Stored {
	readonly [key: string]: unknown;
}

/** Ends a pipe that reads typed text; the schema of the file describes what is kept instead. */
export const stored = <T>(schema: Stored) => v.metadata<T, { stored: Stored }>({ stored: schema });
