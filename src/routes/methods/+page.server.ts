import { methods } from '$lib/server/methods';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = () => ({ methods: methods() });
