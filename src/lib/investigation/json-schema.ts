import { type JsonSchema, toJsonSchema } from '@valibot/to-json-schema';
import * as v from 'valibot';
import { QuantitySchema } from '$lib/quantity/quantity';
import { FORMAT_VERSION, INVESTIGATION, VEHICLE } from './case';
import { circle } from './schema/places-and-times';

/**
 * JSON Schema (2020-12) of both kinds of file, made from the very schemas that check them.
 * It describes what is stored; what may be typed is wider, and docs/file-format.md tells of it.
 */
export function fileSchema(): JsonSchema {
	return {
		$schema: 'https://json-schema.org/draft/2020-12/schema',
		title: `Witness Mark, format ${FORMAT_VERSION}`,
		oneOf: [
			{ title: 'The state of an investigation', ...collections(INVESTIGATION) },
			{ title: 'The state of a vehicle', ...collections(VEHICLE) }
		],
		$defs: {
			quantity: ofSchema(QuantitySchema),
			typedPosition: {
				type: 'object',
				properties: {
					kind: { const: 'typed' },
					typed: { type: 'string', description: 'As it was written.' },
					latitudeDeg: { type: 'number', minimum: -90, maximum: 90 },
					longitudeDeg: { type: 'number', minimum: -180, maximum: 180 },
					circle: ofSchema(circle)
				},
				required: ['kind', 'typed', 'latitudeDeg', 'longitudeDeg', 'circle']
			}
		}
	};
}

function collections(schemas: Readonly<Record<string, v.GenericSchema>>): JsonSchema {
	return {
		type: 'object',
		properties: Object.fromEntries(
			Object.entries(schemas).map(([name, schema]): [string, JsonSchema] => [
				name,
				{ type: 'object', additionalProperties: ofSchema(schema) }
			])
		)
	};
}

function ofSchema(schema: v.GenericSchema): JsonSchema {
	const { $schema: _, ...rest } = toJsonSchema(schema, {
		typeMode: 'output',
		// Checks that JSON Schema has no word for are left to the tool itself.
		errorMode: 'ignore',
		overrideAction: ({ valibotAction }) =>
			valibotAction.type === 'metadata'
				? (valibotAction as unknown as { metadata: { stored?: JsonSchema } }).metadata.stored
				: undefined
	});
	return rest;
}
