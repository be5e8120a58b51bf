import { describe, expect, it } from 'vitest';
import { finFlutter } from '$lib/calculations/fin-flutter/fin-flutter';
import { runCalculation, type Request } from '$lib/calculations/run';

const fin = {
	rootChord: '200 mm',
	tipChord: '100 mm',
	span: '100 mm',
	thickness: '3 mm',
	shearModulus: '4.1 GPa',
	ascent: [{ height: '300 m', speed: '180 m/s' }]
};
const words = (changed: Request['inputs']) => {
	const r = runCalculation(finFlutter, { inputs: { ...fin, ...changed }, samples: 100 });
	return r.ok ? r.value.warnings.join(' ') : r.error.message;
};

describe('what is no thin plate, or no flight', () => {
	it('a fin thicker than a fifth of its chord is warned of, one thicker than its chord refused', () => {
		expect(words({ thickness: '150 mm' })).toMatch(/75 % as thick as its root chord.*means nothing/);
		expect(words({ thickness: '45 mm' })).toMatch(/thin plates/);
		expect(words({ thickness: '3 mm' })).not.toMatch(/thin plates/);
		expect(words({ rootChord: '100 mm', thickness: '150 mm' })).toMatch(
			/thicker than its root chord is long/
		);
	});
	it('an ascent without any speed is refused; a start at rest is not', () => {
		expect(words({ ascent: [{ height: '0 m', speed: '0 m/s' }] })).toMatch(/no point .* has a speed: give/);
		expect(words({ ascent: [{ height: '0 m', speed: '0 m/s' }, ...fin.ascent] })).toMatch(/joint/);
	});
});
