'use strict';

/** Apart from run.cjs only because an old Node can't even parse an `import()`. */
import('./commands.mjs').then(({ run }) => run(process.argv[2], process.argv.slice(3)));
