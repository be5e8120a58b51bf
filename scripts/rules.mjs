/**
 * The rules of lint: eslint over the whole checkout, no warning allowed.
 *
 * The script of a page is type-checked as a file that is on no disk. Each one that is opened makes a new program, in
 * which all types are worked out anew. So all of them are opened first, without a rule, and checked in one program:
 * half the time.
 */
import { ESLint } from 'eslint';
import { root } from './setup.mjs';

await new ESLint({ cwd: root, ruleFilter: () => false }).lintFiles(['src/**/*.svelte']);
const eslint = new ESLint({ cwd: root });
const results = await eslint.lintFiles(['.']);
const { format } = await eslint.loadFormatter('stylish');
process.stdout.write(await format(results));
if (results.some(({ errorCount, warningCount }) => errorCount + warningCount > 0)) process.exitCode = 1;
