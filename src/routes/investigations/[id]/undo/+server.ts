import { takeUndo } from '$lib/server/requests';
import type { RequestHandler } from './$types';

export const POST: RequestHandler = (event) => takeUndo('investigations', event);
