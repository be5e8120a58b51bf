import { redirect } from '@sveltejs/kit';
import type { PageLoad } from './$types';

/** The tree is an anomaly's first view. */
export const load: PageLoad = ({ params }) =>
	redirect(307, `/investigations/${params.id}/anomalies/${params.anomaly}/tree`);
