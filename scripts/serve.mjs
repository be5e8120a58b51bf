/**
 * The server of the built tool: an own entry around the adapter's handler, because who gets in must be decided
 * before pages and assets. Settings, all optional, are environment variables:
 *   WITNESS_MARK_PORT     the port (4870; 0 takes a free one)
 *   WITNESS_MARK_DATA     the folder of all investigations (data/ in the checkout)
 *   WITNESS_MARK_ADDRESS  a second address of this machine, for phones on its network; they pair with a code
 *   WITNESS_MARK_EXAMPLE  "no" starts a new data folder without the example
 * The last line on stdout is the address to open.
 */
import { accessSync, constants, existsSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { isIP } from 'node:net';
import { networkInterfaces } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { root } from './setup.mjs';

const loopback = '127.0.0.1';
const drainMs = 5_000;

/** Ends the start with a sentence for people. @param {string} message @returns {never} */
function giveUp(message) {
	process.stderr.write(`${message}\n`);
	process.exit(1);
}

/** @param {unknown} error @returns {string | undefined} */
const codeOf = (error) => /** @type {NodeJS.ErrnoException} */ (error)?.code;

function readPort() {
	const text = process.env['WITNESS_MARK_PORT'] || '4870';
	const port = Number(text);
	if (/^\d{1,5}$/.test(text) && port <= 65535) return port;
	giveUp(`WITNESS_MARK_PORT is "${text}"; it must be a whole number from 0 to 65535.`);
}

/** The address besides loopback, if one was named. It must be one that this machine has. */
function readAddress() {
	const address = process.env['WITNESS_MARK_ADDRESS'];
	if (!address || address === loopback) return undefined;
	const own = Object.values(networkInterfaces()).flatMap((entries) => entries ?? []);
	const offer = own
		.filter((entry) => !entry.internal && !entry.address.startsWith('fe80:'))
		.map((e) => e.address);
	const choose = offer.length
		? `Name one address of this machine: ${offer.join(' or ')}.`
		: 'This machine has no network address now: join a network first.';
	// "All addresses" would open ways in that nobody named, and no name could be checked.
	if (!isIP(address) || address === '0.0.0.0' || address === '::' || address.startsWith('fe80:')) {
		giveUp(`WITNESS_MARK_ADDRESS is "${address}". ${choose}`);
	}
	return { address, choose };
}

/**
 * Makes a folder and those above it. Node's own way of doing so never ends where a folder refuses by saying that it
 * is not there itself, as those in /proc do. @param {string} folder
 */
function makeFolder(folder) {
	if (existsSync(folder)) return;
	makeFolder(dirname(folder));
	try {
		mkdirSync(folder);
	} catch (error) {
		if (codeOf(error) !== 'EEXIST') throw error; // another start was faster
	}
}

function prepareDataFolder() {
	const folder = resolve(process.env['WITNESS_MARK_DATA'] || join(root, 'data'));
	const probe = join(folder, `.write-test-${process.pid}`);
	try {
		makeFolder(folder);
		accessSync(folder, constants.R_OK | constants.W_OK);
		writeFileSync(probe, 'x');
		rmSync(probe);
	} catch (error) {
		giveUp(
			`The data folder ${folder} can't be written (${codeOf(error)}). ` +
				'Make it writable, or name another folder in WITNESS_MARK_DATA.'
		);
	}
	return folder;
}

/** @param {import('node:http').Server} server @param {number} port @param {{ address: string, choose?: string }} at */
async function listen(server, port, { address, choose }) {
	try {
		await new Promise((done, fail) => {
			server.once('error', fail);
			server.listen({ port, host: address, exclusive: true }, () => done(undefined));
		});
	} catch (error) {
		if (codeOf(error) === 'EADDRINUSE') {
			giveUp(
				`Port ${port} on ${address} is taken: Witness Mark may already be running, see http://${address}:${port}. ` +
					'Otherwise choose another port with WITNESS_MARK_PORT.'
			);
		}
		if (codeOf(error) === 'EACCES')
			giveUp(`Port ${port} may not be used here. Choose another with WITNESS_MARK_PORT.`);
		if (codeOf(error) === 'EADDRNOTAVAIL') giveUp(`This machine has no address ${address}. ${choose}`);
		throw error;
	}
	return /** @type {import('node:net').AddressInfo} */ (server.address()).port;
}

/** @type {typeof import('../src/lib/server/access/entry')} */
const access = await import(pathToFileURL(join(root, 'build/access/entry.js')).href);

const wantedPort = readPort();
const second = readAddress();
access.running.dataFolder = prepareDataFolder();
access.running.example = join(root, 'examples/lantern-2-flight-3.zip');

// The handler reads these when it is loaded. The entry checks the Host header, so the pages may build their origin
// from it; the protocol is set on each request below.
for (const name of ['ORIGIN', 'ADDRESS_HEADER', 'HOST_HEADER', 'PORT_HEADER']) delete process.env[name];
process.env['PROTOCOL_HEADER'] = 'x-witness-mark-protocol';
process.env['BODY_SIZE_LIMIT'] = String(Math.max(...Object.values(access.bodyLimits)));

/** @typedef {(req: import('node:http').IncomingMessage, res: import('node:http').ServerResponse, next: () => void) => void} Handler */
/** @type {(handler: Handler) => void} */
let becomeReady = () => {};
/** Requests that come while the store still opens wait for it. @type {Promise<Handler>} */
const ready = new Promise((done) => (becomeReady = done));

/** @type {import('node:http').Server[]} */
const servers = [];
/** @type {InstanceType<typeof access.Pairing> | undefined} */
let pairing;

/** @param {{ address: string, choose?: string }} at @param {number} port @param {boolean} open */
async function openDoor(at, port, open) {
	const door = { address: at.address, port, open };
	const server = createServer((req, res) => {
		const answer = async () => {
			if (!(await access.passes(req, res, door, pairing))) return;
			req.headers['x-witness-mark-protocol'] = 'http';
			(await ready)(req, res, () => res.writeHead(404).end());
		};
		answer().catch((error) => {
			console.error(`${req.method} ${req.url} failed before it reached a page:`, error);
			if (!res.headersSent) res.writeHead(500, { 'content-type': 'text/plain' });
			res.end('Something went wrong inside Witness Mark.\n');
		});
	});
	server.headersTimeout = 15_000;
	server.requestTimeout = 300_000; // a 200 MB recording from a phone at the far end of the field
	server.maxConnections = 200;
	door.port = await listen(server, port, at);
	servers.push(server);
	return door;
}

const door = await openDoor({ address: loopback }, wantedPort, false);
if (second) {
	pairing = new access.Pairing(door.port);
	const address = access.originOf(await openDoor(second, door.port, true));
	access.running.reachable = { address, code: pairing.code };
}

let stopping = false;
/** Stops accepting, lets running requests end, runs what was registered for the end. @param {number} code */
async function stop(code) {
	if (stopping) process.exit(1); // asked twice: at once
	stopping = true;
	const closed = Promise.all(servers.map((server) => new Promise((done) => server.close(done))));
	const hurry = setTimeout(() => servers.forEach((server) => server.closeAllConnections()), drainMs);
	servers.forEach((server) => server.closeIdleConnections());
	await closed;
	clearTimeout(hurry);
	const failures = await access.shutDown();
	for (const failure of failures) console.error('While stopping:', failure);
	process.exit(failures.length ? 1 : code);
}
process.on('SIGTERM', () => void stop(0));
process.on('SIGINT', () => void stop(0));

try {
	const { handler } = await import(pathToFileURL(join(root, 'build/server/handler.js')).href);
	becomeReady(handler);
} catch (error) {
	// A refusal, such as a data folder in use, is one sentence; anything else shows where it came from.
	const refused = error instanceof Error && error.name === 'StartRefused';
	console.error(refused ? error.message : error);
	await stop(1);
}

if (access.running.reachable) {
	const { address, code } = access.running.reachable;
	console.log(
		`Other devices on this network can open ${address} and pair with the code ${code}.\n` +
			'Only do this on a network you trust: what they send and see travels unencrypted.'
	);
}
console.log(`Data folder: ${access.running.dataFolder}`);
console.log(access.originOf(door));
