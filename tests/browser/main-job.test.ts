import { afterAll, beforeAll, describe, it } from 'vitest';
import type { Page } from 'playwright-core';
import * as evidence from './main-job/evidence';
import * as record from './main-job/record';
import { openPage, type WatchedPage } from './support/page';
import { startServer, type RunningServer } from './support/server';

/*
 * One person does the whole job in one browser, from an empty folder to a closed change. The steps build on each
 * other, so after one that fails the others are skipped. A refusal answers 400, and the browser says so.
 */
let server: RunningServer;
let watched: WatchedPage;
let broken = false;

beforeAll(async () => {
	server = await startServer();
	watched = await openPage({ baseUrl: server.url, allow: [/status of 400/] });
});
afterAll(async () => {
	if (!broken) await watched?.close();
	await server?.stop();
});

function step(name: string, act: (page: Page, server: RunningServer) => Promise<void>) {
	it(name, async ({ skip }) => {
		if (broken) skip('an earlier step failed');
		try {
			await act(watched.page, server);
		} catch (error) {
			broken = true;
			await watched.fail();
			throw error;
		}
	});
}

describe('record', () => {
	step('an investigation is begun from nothing, and who works here is asked once', record.begin);
	step('a charge is not known to be safe until somebody says so by name and time', record.makeSafe);
	step('parts as flown, what came back of each', record.parts);
	step('site: pad in degrees and minutes, elevation, declination, access, who was told', record.site);
	step('moment and direction of the launch', record.flight);
	step('weather with a real sounding', record.weather);
	step('what was expected', record.expected);
	step('a clock and a moment on true time', record.timeline);
});

describe('evidence and ground', () => {
	step('two real photos at once; a GPS tag is agreed to', evidence.photos);
	step('two pieces: by coordinates, and by distance and bearing from the first', evidence.pieces);
	step('the recorder at first power-up, and what was looked for in vain', evidence.readingAndAbsence);
	step('an item is corrected, its earlier version beside it', evidence.correction);
	step('the plan, and distance and bearing between two pieces', evidence.ground);
});
