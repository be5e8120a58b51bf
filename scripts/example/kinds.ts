import type { Bench } from './bench';

/** Items of evidence as a form sends them, with what is most often true filled in. */
const common = {
	description: '',
	by: 'Marit',
	at: null as unknown,
	position: null as unknown,
	state: 'asFound',
	basis: 'observed',
	trust: 'high',
	trustReason: '',
	attachments: [] as string[],
	parts: [] as string[]
};
export type More = Partial<typeof common> & { title: string } & Record<string, unknown>;
export const piece = (more: More) => ({
	...common,
	kind: 'piece',
	mass: '',
	ballisticCoefficient: '',
	pieceType: '',
	damage: '',
	...more
});
export const picture = (more: More) => ({
	...common,
	kind: 'photo',
	subject: '',
	view: '',
	scale: '',
	shows: null,
	moved: 'notKnown',
	...more
});
export const reading = (more: More) => ({
	...common,
	kind: 'reading',
	state: 'notKnown',
	device: '',
	readingKind: 'log',
	wiredToCharges: 'notApplicable',
	tones: '',
	display: '',
	values: [],
	...more
});
export const measurement = (more: More) => ({
	...common,
	kind: 'measurement',
	state: 'disturbed',
	what: '',
	value: '',
	instrument: '',
	...more
});
export const statement = (more: More) => ({
	...common,
	kind: 'statement',
	state: 'notKnown',
	basis: 'reported',
	beforeDiscussion: 'yes',
	trust: 'moderate',
	...more
});
/** A test that is still to be done, and what it would show, locked: `under` pairs a case with what it would show then. */
export async function plan(bench: Bench, id: string, under: readonly [string, string][], more: More) {
	await bench.do('evidence.add', { id, record: test(more) });
	await bench.do('prediction.lock', {
		id: `${id}-locked`,
		record: { test: id, under: under.map(([cause, expected]) => ({ event: null, cause, expected })) }
	});
}
export const showed = (bench: Bench, id: string, value: string, result: string) =>
	bench.do('test.result', { id, result, value });

const test = (more: More) => ({
	...common,
	kind: 'test',
	state: 'notKnown',
	testKind: 'other',
	predicted: '',
	result: '',
	value: null,
	reversible: 'yes',
	purpose: '',
	makesImpossible: '',
	...more
});
export const absence = (more: More) => ({
	...common,
	kind: 'absence',
	lookedFor: '',
	howThoroughly: 'glance',
	detection: null,
	...more
});

export const phone = (time: string) => ({ kind: 'clock', clock: 'c-joss', reading: `2025-05-17 ${time}` });
export const circle = (radius: string) => ({ radius, level: 0.68 });
