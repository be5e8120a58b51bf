import { giveSteps, takeUndo } from '$lib/server/requests';
import type { RequestHandler } from './$types';

export const GET: RequestHandler = (event) => giveSteps('investigations', event);
export const POST: RequestHandler = (event) => takeUndo('investigations', event);
