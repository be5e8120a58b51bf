import { json } from '@sveltejs/kit';
import { keptTrees } from '$lib/server/kept-trees';
import type { RequestHandler } from './$types';

/** Trees to start from beside the common ones: those that were kept, and those of this vehicle's earlier flights. */
export const GET: RequestHandler = async ({ params: { id } }) => json(await keptTrees(id));
