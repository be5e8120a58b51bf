import { redirect } from '@sveltejs/kit';
import type { PageServerLoad } from './$types';

/** An investigation opens where the work begins. */
export const load: PageServerLoad = ({ params }) => redirect(307, `/investigations/${params.id}/record`);
