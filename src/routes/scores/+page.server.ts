import { scoredInvestigations } from '$lib/server/scores';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async () => ({ investigations: await scoredInvestigations() });
