import * as v from 'valibot';
import type { Change, VehicleFile } from '../case';
import { done, type Outcome, type Problem, refused } from '../outcome';
import { id, LIMITS, line, requiredLine } from '../schema/common';
import { ownTree } from '../schema/ready-tree';
import { build, clearance, vehicle, vehiclePart } from '../schema/vehicle';
import { builtKey, isAnswered, isWaived, keyOf, standingClearance, whatHolds } from '../views/clearance';
import { partLine, partsOf } from '../views/vehicle-parts';
import { operation } from './operation';

type Collection = Exclude<keyof VehicleFile, 'format'>;
type RecordIn<C extends Collection> = VehicleFile[C][string];

const put = <C extends Collection>(
	file: VehicleFile,
	collection: C,
	recordId: string,
	after: RecordIn<C> | null
): Change => ({ collection, id: recordId, before: file[collection][recordId] ?? null, after });

const GONE = 'This is no longer there; somebody removed it meanwhile.';

const saveVehicle = operation({
	name: 'vehicle.save',
	label: 'Changed the name or description of the vehicle',
	args: v.object({ record: vehicle }),
	apply: (file: VehicleFile, { record }) => done([put(file, 'vehicle', 'main', record)])
});

/** [V3] A build becomes ready by being cleared to fly, and in no other way. */
const saveBuild = operation({
	name: 'build.save',
	label: 'Recorded a build',
	args: v.object({ id: v.optional(id), record: build }),
	apply: (file: VehicleFile, { id: given, record }, { newId }) => {
		if (given && !file.builds[given]) return refused(GONE);
		const before = given ? file.builds[given] : undefined;
		if (record.state === 'ready' && before?.state !== 'ready')
			return refused('A build becomes ready by clearing it to fly.', 'state');
		if (before?.state === 'ready' && record.state !== 'ready')
			return refused('It is cleared to fly. Withdraw the clearance first.', 'state');
		const twin = Object.entries(file.builds).find(([other, b]) => other !== given && b.name === record.name);
		if (twin) return refused(`There is a build named “${record.name}” already.`, 'name');
		return done([put(file, 'builds', given ?? newId(), record)]);
	}
});

const savePart = operation({
	name: 'vehiclePart.save',
	label: 'Recorded a part of a build',
	args: v.object({ id: v.optional(id), record: vehiclePart }),
	apply: (file: VehicleFile, { id: given, record }, { newId }) => {
		if (given && !file.parts[given]) return refused(GONE);
		if (!file.builds[record.build]) return refused('Choose the build that this part belongs to.', 'build');
		return done([put(file, 'parts', given ?? newId(), record)]);
	}
});

const removePart = operation({
	name: 'vehiclePart.remove',
	label: 'Removed a part from a build',
	args: v.object({ id }),
	apply: (file: VehicleFile, { id: partId }) =>
		file.parts[partId] ? done([put(file, 'parts', partId, null)]) : refused(GONE)
});

/** A new build starts from the list of another one; parts made anew have flown never, parts moved over keep count. */
const copyParts = operation({
	name: 'build.copyParts',
	label: 'Copied the parts list of another build',
	args: v.object({ from: id, to: id, counts: v.picklist(['new', 'carried']) }),
	apply: (file: VehicleFile, { from, to, counts }, { newId }) => {
		if (!file.builds[from] || !file.builds[to]) return refused(GONE, 'from');
		if (from === to) return refused('Choose another build to copy from.', 'from');
		const parts = partsOf(file, from);
		if (parts.length === 0) return refused('That build has no parts list yet.', 'from');
		const there = new Set(partsOf(file, to).map(([, part]) => part.name));
		const missing = parts.filter(([, part]) => !there.has(part.name));
		if (missing.length === 0) return refused('All parts of that build are in this list already.', 'from');
		return done(
			missing.map(([, part]) =>
				put(file, 'parts', newId(), { ...part, build: to, uses: counts === 'new' ? 0 : part.uses })
			)
		);
	}
});

/** What was listed in an investigation only comes into the list of the build too; what stands there by name stays. */
const takeParts = operation({
	name: 'build.takeParts',
	label: 'Took parts from an investigation into the list of a build',
	args: v.object({
		build: id,
		parts: v.pipe(v.array(v.omit(vehiclePart, ['build'])), v.maxLength(LIMITS.list))
	}),
	apply: (file: VehicleFile, { build: buildId, parts }, { newId }) => {
		if (!file.builds[buildId]) return refused(GONE, 'build');
		const there = new Set(partsOf(file, buildId).map(([, part]) => part.name.toLowerCase()));
		const missing = parts.filter(({ name }) => {
			const key = name.toLowerCase();
			return !there.has(key) && there.add(key);
		});
		if (missing.length === 0) return refused('All these parts are in the list already.', 'parts');
		return done(missing.map((part) => put(file, 'parts', newId(), { ...part, build: buildId })));
	}
});

/** A tree or branch kept for the next time; renamed by writing it again under its identity. */
const keepTree = operation({
	name: 'ownTree.save',
	label: 'Kept a tree for the next time',
	args: v.object({ id: v.optional(id), record: v.omit(ownTree, ['at']) }),
	apply: (file: VehicleFile, { id: given, record }, { newId, now }) => {
		if (given && !file.trees[given]) return refused(GONE);
		const twin = Object.entries(file.trees).find(([other, t]) => other !== given && t.title === record.title);
		if (twin) return refused(`There is a kept tree named “${record.title}” already.`, 'title');
		return done([put(file, 'trees', given ?? newId(), { ...record, at: now })]);
	}
});

const removeTree = operation({
	name: 'ownTree.remove',
	label: 'Removed a kept tree',
	args: v.object({ id }),
	apply: (file: VehicleFile, { id: tree }) =>
		file.trees[tree] ? done([put(file, 'trees', tree, null)]) : refused(GONE)
});

/** After a flight each counted part has one use more, and the next flight asks for a new clearance. */
const countFlight = operation({
	name: 'build.flew',
	label: 'Counted a flight of a build',
	args: v.object({ build: id, flight: requiredLine('Name the flight.') }),
	apply: (file: VehicleFile, { build: buildId, flight }, { who, now }) => {
		const flown = file.builds[buildId];
		if (!flown) return refused(GONE);
		const used = partsOf(file, buildId).flatMap(([partId, part]) =>
			part.uses === null ? [] : [put(file, 'parts', partId, { ...part, uses: part.uses + 1 })]
		);
		const standing = standingClearance(file, buildId);
		const spent = standing
			? [put(file, 'clearances', standing[0], { ...standing[1], flown: { by: who, at: now, flight } })]
			: [];
		const state =
			flown.state === 'ready' ? [put(file, 'builds', buildId, { ...flown, state: 'building' })] : [];
		const changes = [...used, ...spent, ...state];
		return changes.length > 0
			? done(changes)
			: refused('There is nothing to count: no part of this build has a use count yet.', 'flight');
	}
});

/**
 * [V4] A build is cleared only if nothing holds it, or if the risk of each change that does is accepted by name.
 * [V5] An investigation that can't be read can't be waived. The revisions that were read are kept.
 * [V7] What is verified was found built into it, or its absence is accepted by name; so with the parts list as it was.
 * [V6] What is unsettled in an investigation of the vehicle does not hold it, but is answered in words, one by one.
 */
const clear = operation({
	name: 'clearance.clear',
	label: 'Cleared a build to fly',
	args: v.pick(clearance, ['build', 'by', 'waivers', 'reasons', 'built', 'note']),
	apply: (file: VehicleFile, { build: buildId, by, waivers, reasons, built, note }, context) => {
		if (!context.vehicle) throw new Error('clearing a build needs the investigations of its vehicle');
		const cleared = file.builds[buildId];
		if (!cleared) return refused(GONE);
		if (cleared.state === 'retired') return refused('This build is retired.', 'build');
		const { id: vehicleId, investigations } = context.vehicle;
		const { holds, toBeIn, unsettled, unreadable, revisions } = whatHolds(vehicleId, buildId, investigations);
		const problems: Problem[] = [
			...unreadable.map(({ title, problem }) => ({
				field: '',
				message: `“${title}” can’t be read, so nobody knows what it asks for. ${problem}`
			})),
			...holds
				.filter((hold) => !isWaived(waivers, hold))
				.map(({ change, investigationTitle, stands }) => ({
					field: '',
					message: `C${change.number} “${change.title}” of “${investigationTitle}” is ${stands.replace(/\.$/, '')}.`
				})),
			...toBeIn
				.filter((hold) => hold.change.required && !isWaived(waivers, hold) && !isWaived(built, hold))
				.map(({ investigation, changeId, change }) => ({
					field: builtKey({ investigation, change: changeId }),
					message: `Look whether C${change.number} “${change.title}” is built into ${cleared.name}, and tick it; or accept by name that it flies without.`
				})),
			...built
				.filter((one) => !toBeIn.some((hold) => isWaived([one], hold)))
				.map((one) => ({
					field: builtKey(one),
					message: 'This change is not verified any more; leave it out.'
				})),
			...needless(waivers, [...holds, ...toBeIn]),
			...unsettled
				.filter((thing) => !isAnswered(reasons, thing))
				.map((thing) => ({
					field: keyOf(thing),
					message: `${thing.words}. Say why the build may fly all the same.`
				})),
			...reasons
				.filter((reason) => !isAnswered(unsettled, reason))
				.map((reason) => ({
					field: keyOf(reason),
					message: 'This is settled meanwhile; leave the reason out.'
				}))
		];
		if (problems.length > 0) return { ok: false, problems };
		const record = {
			build: buildId,
			by,
			at: context.now,
			revisions,
			waivers,
			reasons,
			built,
			parts: Object.fromEntries(partsOf(file, buildId).map(([partId, part]) => [partId, partLine(part)])),
			note,
			withdrawn: null,
			flown: null
		};
		return done([
			put(file, 'clearances', context.newId(), record),
			put(file, 'builds', buildId, { ...cleared, state: 'ready' })
		]);
	}
});

/** A waiver for what does not hold the build, or a second one for the same change, hides what was accepted. */
function needless(
	waivers: v.InferOutput<typeof clearance>['waivers'],
	holds: ReturnType<typeof whatHolds>['holds']
): Problem[] {
	return waivers.flatMap((waiver, i) => {
		const twin = waivers.findIndex(
			(w) => w.investigation === waiver.investigation && w.change === waiver.change
		);
		const message =
			twin < i
				? 'The risk of this change is accepted twice.'
				: holds.some((hold) => isWaived([waiver], hold))
					? null
					: 'This change does not hold the build (any more); leave its waiver out.';
		return message === null ? [] : [{ field: `waivers.${i}`, message }];
	});
}

const withdraw = operation({
	name: 'clearance.withdraw',
	label: 'Withdrew a clearance',
	args: v.object({ build: id, reason: requiredLine('Say why.'), by: v.optional(line) }),
	apply: (file: VehicleFile, { build: buildId, reason, by }, { who, now }): Outcome<Change[]> => {
		const standing = standingClearance(file, buildId);
		const withdrawn = file.builds[buildId];
		if (!standing || !withdrawn) return refused('No clearance stands for this build.');
		const [clearanceId, record] = standing;
		return done([
			put(file, 'clearances', clearanceId, { ...record, withdrawn: { by: by || who, at: now, reason } }),
			put(file, 'builds', buildId, { ...withdrawn, state: 'building' })
		]);
	}
});

export const vehicleOps = [
	keepTree,
	removeTree,
	saveVehicle,
	saveBuild,
	savePart,
	removePart,
	copyParts,
	takeParts,
	countFlight,
	clear,
	withdraw
];
