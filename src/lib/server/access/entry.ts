/** What the server's own entry (scripts/serve.mjs) needs; bundled apart from the pages by scripts/build.mjs. */
export { running } from '../running';
export { shutDown } from '../shutdown';
export { passes } from './gate';
export { originOf, type Door } from './hosts';
export { bodyLimits } from './limits';
export { Pairing } from './pairing';
