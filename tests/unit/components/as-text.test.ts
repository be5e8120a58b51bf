import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { asText } from '$lib/components/record/as-text';

describe('a file read as text', () => {
	it.each<[string, number[] | Uint8Array, string]>([
		['UTF-8', new TextEncoder().encode('10 220° 3\r\n\t300'), '10 220° 3\r\n\t300'],
		['UTF-8 with its mark', [0xef, 0xbb, 0xbf, 0x31], '1'],
		['UTF-16 with its mark', [0xff, 0xfe, 0x31, 0, 0xb0, 0], '1°'],
		['the other UTF-16', [0xfe, 0xff, 0, 0x31], '1'],
		['Windows-1252', [0x31, 0xb0], '1°'],
		['nothing', [], '']
	])('in %s is that text', (_, bytes, text) => expect(asText(Uint8Array.from(bytes))).toBe(text));

	it.each<[string, Uint8Array]>([
		['a picture', readFileSync(new URL('../../open-data/photos/with-gps.png', import.meta.url))],
		['the head of a JPEG', Uint8Array.from([0xff, 0xd8, 0xff, 0xe0, 0, 0x10, 0x4a, 0x46, 0x49, 0x46, 0])],
		['a PDF', new TextEncoder().encode('%PDF-1.7\n1 0 obj')]
	])('that is %s is none', (_, bytes) => expect(asText(bytes)).toBeNull());
});
