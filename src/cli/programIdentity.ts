import { programVersion } from './programVersion.js';

/** Written by the build: the hash of the program's text. */
declare const SWEEPBOOK_BUILD: string | undefined;

/** What an answer has to have been computed by to be taken as one's own: two builds of one version may differ. */
export const programIdentity = `${programVersion} ${typeof SWEEPBOOK_BUILD === 'undefined' ? 'unbuilt' : SWEEPBOOK_BUILD}`;
