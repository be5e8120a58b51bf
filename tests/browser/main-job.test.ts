import { afterAll, beforeAll, describe, it } from 'vitest';
import type { Page } from 'playwright-core';
import * as anomaly from './main-job/anomaly';
import * as changes from './main-job/changes';
import * as conclusion from './main-job/conclusion';
import * as evidence from './main-job/evidence';
import * as physics from './main-job/physics';
import * as record from './main-job/record';
import * as report from './main-job/report';
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

describe('anomaly', () => {
	step('a departure is stated without a cause', anomaly.state);
	step('a tree of three events under two AND gates, one of them shared', anomaly.tree);
	step('starting weights', anomaly.start);
	step('two signs, one present and one absent: every weight follows', anomaly.findings);
	step('fall separation of the two pieces, and its weight on the tree', physics.fallSeparation);
	step('a conclusion waits for what stands in its way', conclusion.blocked);
	step('every branch disposed of with reason and evidence', conclusion.dispositions);
	step('the conclusion, with its basis and its strongest counter-argument', conclusion.concluded);
});

describe('changes', () => {
	step('the next build of the vehicle is listed', changes.nextBuild);
	step('a required change is raised from the conclusion, with its number', changes.raise);
	step('the build is not cleared to fly while the change is open', changes.heldBack);
	step('the change is verified by a test that meets its number', changes.verify);
	step('the build is cleared to fly', changes.clear);
	step('the change is flown, and closed by what the flight showed', changes.close);
});

describe('report', () => {
	step('everything stands in it, names and positions only if ticked', report.read);
	step('as one HTML file it asks for nothing and its pictures tell nothing', report.html);
	step('as a zip it comes into an empty folder elsewhere as it was', report.zip);
});
