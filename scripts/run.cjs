/**
 * What every npm script starts with: node scripts/run.cjs <command> [arguments].
 * Written for the oldest Node there is, so that it can say what is missing instead of failing to parse.
 */
'use strict';

var have = process.versions.node.split('.').map(Number);
if (have[0] < 20 || (have[0] === 20 && have[1] < 19)) {
	process.stderr.write(
		'Witness Mark needs Node 20.19 or newer; this is Node ' +
			process.versions.node +
			'.\nInstall a newer Node, then run the same command again.\n'
	);
	process.exit(1);
}
require('./run-modern.cjs');
