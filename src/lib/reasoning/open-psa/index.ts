/** The Open-PSA Model Exchange Format, in and out. */
export { readOpenPsa, type OpenPsaOptions, type OpenPsaResult } from './read';
export { writeOpenPsa, type OpenPsaFile } from './write';
