import { listVehicles } from '$lib/server/catalogue';
import type { PageServerLoad } from './$types';

/** The builds that a change can be for. */
export const load: PageServerLoad = async () => ({ vehicles: await listVehicles() });
