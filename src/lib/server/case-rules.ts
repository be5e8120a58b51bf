import { INVESTIGATION, type Investigation, VEHICLE, type VehicleFile } from '$lib/investigation/case';
import { checkChanges, checkWhole, type FileKind, filesNamed } from '$lib/investigation/check';
import { upgrade } from '$lib/investigation/migrations';
import { learned } from '$lib/investigation/views/learned';
import { standing } from '$lib/investigation/views/standing';
import type { Change as StoredChange, Records, Rules } from './storage/types';

/** What the case model tells storage: which changes are sound, which files they bring, how a file is listed. */
export const rules: Rules = {
	check: (id, changes, after) => checkChanges(kindOf(id), changes, after),
	filesNamed: (changes) => filesNamed(changes),
	opened(id, state) {
		const step = upgrade(state);
		if ('tooNew' in step) return { tooNew: step.tooNew };
		if (step.changes.length > 0) return { upgrade: step.changes as StoredChange[] };
		return { problems: checkWhole(kindOf(id), state) };
	},
	summary: (id, state) =>
		kindOf(id) === 'investigations' ? summarize(investigationOf(state)) : { name: nameOf(state) }
};

const kindOf = (id: string) => id.split('/')[0] as FileKind;
const nameOf = (state: Records) => vehicleOf(state).vehicle['main']?.name ?? '';

function summarize(file: Investigation) {
	const about = file.about['main'];
	const stands = standing(file);
	return {
		title: about?.title ?? '',
		vehicle: about?.vehicleName ?? '',
		vehicleId: about?.vehicle ?? null,
		flownAt: about?.flownAt ?? '',
		evidence: stands.evidence.words,
		anomalies: stands.anomalies.words,
		changes: stands.changes.words,
		learned: { ...learned(file) },
		notSafe: Object.values(file.hazards).filter((hazard) => hazard.state !== 'safe').length
	};
}

/** Collections that nobody has written to are missing on disk; the case model wants them empty. */
export function filled(kind: FileKind, state: Records) {
	const names = Object.keys(kind === 'investigations' ? INVESTIGATION : VEHICLE);
	return Object.fromEntries(names.map((name) => [name, state[name] ?? {}]));
}
export const investigationOf = (state: Records) =>
	filled('investigations', state) as unknown as Investigation;
export const vehicleOf = (state: Records) => filled('vehicles', state) as unknown as VehicleFile;
