import { giveSteps, takeUndo } from '$lib/server/requests';
import type { RequestHandler } from './$types';

export const GET: RequestHandler = (event) => giveSteps('vehicles', event);
export const POST: RequestHandler = (event) => takeUndo('vehicles', event);
