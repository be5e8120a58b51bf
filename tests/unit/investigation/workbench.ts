import { applyChanges, emptyInvestigation, type Investigation } from '$lib/investigation/case';
import { operate } from '$lib/investigation/operations';
import { beginInvestigation } from '$lib/investigation/start';
import type { Problem } from '$lib/investigation/outcome';

/** An investigation on a bench: does operations one after another and keeps what they make. */
export class Workbench {
	file: Investigation;
	#ids = 0;

	constructor() {
		const begun = beginInvestigation(
			{
				title: 'Harrier 2, second flight',
				vehicleName: 'Harrier 2',
				vehicle: null,
				buildName: 'build 1',
				build: null,
				flownAt: '2031-05-17 14:02:00',
				zoneMinutes: 120
			},
			[]
		);
		if (!begun.ok) throw new Error(JSON.stringify(begun.problems));
		this.file = applyChanges(emptyInvestigation(), begun.value.changes);
	}

	/** Does an operation that must succeed; the identities of the records that it changed. */
	do(name: string, args: unknown): string[] {
		const outcome = operate(this.file, name, args, this.#context());
		if (!outcome.ok) throw new Error(`${name}: ${JSON.stringify(outcome.problems)}`);
		this.file = applyChanges(this.file, outcome.value);
		return outcome.value.map((change) => change.id);
	}

	/** Does an operation that must be refused; its first problem. */
	refuse(name: string, args: unknown): Problem {
		const outcome = operate(this.file, name, args, this.#context());
		if (outcome.ok) throw new Error(`${name} was not refused`);
		return outcome.problems[0]!;
	}

	/** The fields of all its problems. */
	refuseAll(name: string, args: unknown): string[] {
		const outcome = operate(this.file, name, args, this.#context());
		if (outcome.ok) throw new Error(`${name} was not refused`);
		return outcome.problems.map(({ field }) => field);
	}

	#context() {
		return { now: '2031-05-18T09:00:00.000Z', who: 'Ada', newId: () => `r${++this.#ids}` };
	}
}

const common = {
	title: 'Nose, dented on one side',
	description: '',
	by: 'Ada',
	at: null,
	position: null,
	state: 'asFound',
	basis: 'observed',
	trust: 'high',
	trustReason: '',
	attachments: [],
	parts: []
};

/** Items as a form sends them: quantities as text. */
export const piece = (more: object = {}) => ({
	...common,
	kind: 'piece',
	mass: '212 g',
	ballisticCoefficient: '',
	pieceType: '',
	damage: '',
	...more
});

export const statement = (more: object = {}) => ({
	...common,
	kind: 'statement',
	title: 'What the second spotter saw',
	from: 'second spotter',
	words: 'A puff, then two things came down.',
	beforeDiscussion: 'yes',
	...more
});

export const reading = (more: object = {}) => ({
	...common,
	kind: 'reading',
	title: 'Recorder at first power-up',
	device: 'recorder A',
	readingKind: 'firstPowerUp',
	wiredToCharges: 'no',
	tones: '4, 1, 0',
	display: '',
	values: [{ label: 'peak height', value: '1345 ft' }],
	...more
});

export const test = (more: object = {}) => ({
	...common,
	kind: 'test',
	title: 'Section through the bond',
	testKind: 'other',
	predicted: '',
	result: '',
	noPrediction: '',
	value: null,
	reversible: 'yes',
	purpose: '',
	makesImpossible: '',
	...more
});

export const absence = (more: object = {}) => ({
	...common,
	kind: 'absence',
	title: 'No soot in the bay',
	lookedFor: 'soot on the aft face',
	howThoroughly: 'takenApart',
	detection: '90 %',
	...more
});

export const file = (more: object = {}) => ({
	sha256: 'a'.repeat(64),
	name: 'nose.jpg',
	bytes: 1200,
	type: 'image/jpeg',
	kind: 'photo',
	width: 4000,
	height: 3000,
	taken: {
		localTime: '2031-05-17T14:20:00',
		zoneMinutes: null,
		latitude: 45.7626,
		longitude: 4.8357,
		accuracyM: null
	},
	remark: '',
	...more
});

export const circle = { radius: '5 m', level: 0.68 };
