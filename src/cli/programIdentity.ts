import { readFile } from 'node:fs/promises';
import { analystProgram } from './analysts.js';
import { programVersion } from './programVersion.js';
import { hashOf } from './recordedFiles.js';

/** Written by the build: the hash of the program's text. */
declare const SWEEPBOOK_BUILD: string | undefined;

const build = typeof SWEEPBOOK_BUILD === 'undefined' ? 'unbuilt' : SWEEPBOOK_BUILD;

/** What an answer has to have been computed by to be taken as one's own: two builds of one version may differ, and so may what threads run. */
export async function programIdentity(): Promise<string> {
  const analyst = await readFile(analystProgram).then(hashOf, () => 'none');
  return `${programVersion} ${build} ${analyst}`;
}
