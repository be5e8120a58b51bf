import { describe, expect, it } from 'vitest';
import { soundAndLight } from '$lib/calculations/sound-and-light/sound-and-light';
import { runCalculation, type Request } from '$lib/calculations/run';

const run = (inputs: Request['inputs']) => runCalculation(soundAndLight, { inputs, samples: 200 });

describe('what is asked and answered', () => {
	it('names the two delays apart', () => {
		const labels = [...soundAndLight.inputs, ...soundAndLight.evidence!.observed].map((f) => f.label);
		expect(new Set(labels).size).toBe(labels.length);
	});
	it('says once what is assumed of an input', () => {
		const r = run({ delay: '2 s' });
		if (!r.ok) throw new Error(r.error.message);
		const named = r.value.notes.map((note) => note.split(':')[0]);
		expect(new Set(named).size).toBe(named.length);
		expect(named).toContain('Height of the event above the listener');
	});
	it('without a delay answers with the one to expect from each place', () => {
		const r = run({ padDistance: '343.2 m', apogeeHeight: '1000 m', siteTemperature: '20 °C' });
		if (!r.ok) throw new Error(r.error.message);
		const [first, second] = Object.values(r.value.outputs);
		expect([first!.of, second!.of]).toEqual(['On the pad', 'At apogee']);
		expect(first!.nominal).toBeCloseTo(1, 3);
		expect(second!.nominal).toBeGreaterThan(3);
		expect(r.value.sensitivity.map((s) => s.output)).toEqual(['expected', 'expected']);
	});
	it('refuses what gives neither', () => {
		const r = run({ siteTemperature: '20 °C' });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(
			/give the time from seeing it to hearing it, or where/
		);
	});
});

it('assumes nothing of a height that it does not use', () => {
	const notes = (inputs: Record<string, string>) => {
		const r = runCalculation(soundAndLight, {
			inputs: { delay: '2 s', deploymentHeight: '300 m', ...inputs }
		});
		return r.ok ? r.value.notes.join(' ') : r.error.message;
	};
	expect(notes({})).toMatch(
		/Height of the planned deployment: not used without “Listener to the pad, along the ground”/
	);
	expect(notes({})).not.toMatch(/paced|air pressure/);
	expect(notes({ padDistance: '200 m' })).toMatch(
		/Height of the planned deployment: no uncertainty .* heights by air pressure/
	);
});
