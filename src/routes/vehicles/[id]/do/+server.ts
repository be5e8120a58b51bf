import { takeOperation } from '$lib/server/requests';
import type { RequestHandler } from './$types';

export const POST: RequestHandler = (event) => takeOperation('vehicles', event);
