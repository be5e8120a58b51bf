import type { Investigation } from '$lib/investigation/case';
import type { Change } from '$lib/investigation/schema/change';
import { eventsOf, inTreeOrder } from '$lib/investigation/views/tree';
import { typedText } from '../ui/quantity-text';

/** A vehicle to choose from, with its builds. */
export interface KnownVehicle {
	id: string;
	name: string;
	builds: readonly { id: string; name: string }[];
}

/** A change as it stands in the form: everything as typed. */
export interface ChangeDraft {
	anomaly: string;
	answers: string;
	title: string;
	part: string;
	oldValue: string;
	newValue: string;
	responsible: string;
	due: string;
	/** 'vehicle', 'vehicle/build', or '' for the vehicle of this investigation. */
	for: string;
	required: boolean;
	rung: Change['rung'];
	how: string;
	what: string;
	is: NonNullable<Change['criterion']>['is'];
	value: string;
	upper: string;
	newRisk: string;
}

/** @param own  vehicle of the investigation, which a change that names none is for */
export function draftOf(change: Change, own: string | null): ChangeDraft {
	const { criterion } = change;
	return {
		...change,
		answers: change.answers ?? '',
		due: change.due.replace('T', ' '),
		for: [change.vehicle ?? own, change.build].filter(Boolean).join('/'),
		what: criterion?.what ?? '',
		is: criterion?.is ?? 'atLeast',
		value: typedText(criterion?.value ?? null),
		upper: typedText(criterion?.upper ?? null)
	};
}

/** A new change, for the anomaly and cause from which it is raised. */
export function newDraft(file: Investigation, anomaly: string, cause: string): ChangeDraft {
	const about = file.about['main'];
	return {
		anomaly,
		answers: cause || heldCause(file, anomaly),
		title: '',
		part: '',
		oldValue: '',
		newValue: '',
		responsible: '',
		due: '',
		for: about?.vehicle ?? '',
		required: true,
		rung: 'engineer',
		how: '',
		what: '',
		is: 'atLeast',
		value: '',
		upper: '',
		newRisk: ''
	};
}

/** What is sent; without a number to meet there is no criterion. */
export function recordOf(draft: ChangeDraft, vehicles: readonly KnownVehicle[]) {
	const { for: chosen, what, is, value, upper, answers, ...rest } = draft;
	const [vehicle = '', build = ''] = chosen.split('/');
	const known = vehicles.find(({ id }) => id === vehicle);
	return {
		...rest,
		answers: answers || null,
		vehicle: vehicle || null,
		build: build || null,
		buildName: known?.builds.find(({ id }) => id === build)?.name ?? '',
		criterion:
			what.trim() === '' && value.trim() === ''
				? null
				: { what, is, value, upper: is === 'between' && upper.trim() !== '' ? upper : null }
	};
}

/** Where a change may belong: each vehicle as a whole, then each of its builds. */
export const buildOptions = (vehicles: readonly KnownVehicle[], own: string | null) => [
	...(vehicles.some(({ id }) => id === own)
		? []
		: [{ value: '', label: 'the vehicle of this investigation, every build' }]),
	...vehicles.flatMap((vehicle) => [
		{ value: vehicle.id, label: `${vehicle.name}, every build` },
		...vehicle.builds.map((build) => ({
			value: `${vehicle.id}/${build.id}`,
			label: `${vehicle.name}, ${build.name}`
		}))
	])
];

/** The cause that is held most, if one is. */
const heldCause = (file: Investigation, anomaly: string): string =>
	HELD.flatMap((state) =>
		eventsOf(file, anomaly).filter(([, event]) => event.disposition.state === state && event.gate === null)
	)[0]?.[0] ?? '';

const HELD = ['established', 'contributed', 'likely'];

/** Causes that a change can answer: what is held first, then the rest of the tree. */
export function causeOptions(file: Investigation, anomaly: string) {
	const held = ([, { disposition }]: [string, { disposition: { state: string } }]) =>
		HELD.includes(disposition.state) ? HELD.indexOf(disposition.state) : HELD.length;
	return [
		{ value: '', label: 'the anomaly as a whole' },
		...inTreeOrder(file, anomaly)
			.filter(([id, event]) => id !== file.anomalies[anomaly]?.top && !event.residual)
			.sort((a, b) => held(a) - held(b))
			.map(([id, { title, disposition }]) => ({
				value: id,
				label: HELD.includes(disposition.state) ? `${title} (${disposition.state})` : title
			}))
	];
}
