import type { VehicleFile } from '../case';
import type { AnyOperation } from './operation';

export const vehicleOps: readonly AnyOperation<VehicleFile>[] = [];
