import type { Change, Investigation, VehicleFile } from '../case';
import { type Outcome, refused } from '../outcome';
import { calculationOps } from './calculation';
import { changeOps } from './change';
import { conclusionOps } from './conclusion';
import { evidenceOps } from './evidence';
import { failureModeOps } from './failure-mode';
import { type AnyOperation, type Context, type Operation, run } from './operation';
import { predictionOps } from './prediction';
import { recordOps } from './record';
import { treeOps } from './tree';
import { truthOps } from './truth';
import { vehicleOps } from './vehicle';
import { weighingOps } from './weighing';

const byName = <File>(operations: readonly AnyOperation<File>[]) =>
	new Map(operations.map((op) => [op.name, op]));

export const investigationOperations = byName<Investigation>([
	...recordOps,
	...evidenceOps,
	...predictionOps,
	...failureModeOps,
	...treeOps,
	...weighingOps,
	...conclusionOps,
	...truthOps,
	...calculationOps,
	...changeOps
] as AnyOperation<Investigation>[]);

export const vehicleOperations = byName<VehicleFile>(vehicleOps as unknown as AnyOperation<VehicleFile>[]);

/** Runs an operation by its name on an investigation. */
export const operate = (
	file: Investigation,
	name: string,
	args: unknown,
	context: Context
): Outcome<Change[]> => runNamed(investigationOperations, file, name, args, context);

/** Runs an operation by its name on a vehicle's file. */
export const operateVehicle = (
	file: VehicleFile,
	name: string,
	args: unknown,
	context: Context
): Outcome<Change[]> => runNamed(vehicleOperations, file, name, args, context);

function runNamed<File>(
	operations: ReadonlyMap<string, AnyOperation<File>>,
	file: File,
	name: string,
	args: unknown,
	context: Context
): Outcome<Change[]> {
	const op = operations.get(name) as Operation<File, unknown> | undefined;
	if (!op) return refused(`There is no operation called "${name}".`);
	return run(op, file, args, context);
}

/** What the history shows for an operation's name, also one that no longer exists. */
export function operationLabel(name: string): string {
	return investigationOperations.get(name)?.label ?? vehicleOperations.get(name)?.label ?? name;
}
