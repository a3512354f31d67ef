import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { longestName, longestRun } from '../../src/campaign/names.js';
import { mostStrings } from '../../src/campaign/nameRecords.js';
import { cacheLimitBytes, keptAnswerLimit } from '../../src/cli/answerCache.js';
import { mostThreads } from '../../src/cli/campaignThreads.js';
import { resultsFileLimit } from '../../src/cli/committedResults.js';
import { mostProblems } from '../../src/evaluation/evaluateSweep.js';
import { campaignFileLimit, tableFileLimit } from '../../src/evaluation/fileStore.js';
import { deepestInclude } from '../../src/evaluation/loadFiles.js';
import { mostRows } from '../../src/evaluation/rowsLimit.js';
import { mostBytes, mostBytesTogether } from '../../src/report/pictures.js';
import { lineLengthLimit, sizeLimitBytes } from '../../src/sweeps/decodeText.js';
import { sweepsLimit } from '../../src/sweeps/readManySweeps.js';

const megabytes = (bytes: number): string => `${bytes / 1024 / 1024} MB`;
const count = (value: number): string => value.toLocaleString('en');

const limits: Readonly<Record<string, string>> = {
  'a campaign file': megabytes(campaignFileLimit),
  'a table': megabytes(tableFileLimit),
  'a line of a table, characters': count(lineLengthLimit),
  'sweeps in one table': count(sweepsLimit),
  'rows of all tables of a campaign, each table as often as it is named': count(mostRows),
  'includes inside each other': count(deepestInclude),
  'strings of a campaign': count(mostStrings),
  'strings of one run': count(longestRun),
  'a name, characters': count(longestName),
  'problems of one table of sweeps': count(mostProblems),
  'a file of committed results': megabytes(resultsFileLimit),
  'kept answers of `check`; one of them': `${megabytes(cacheLimitBytes)}; ${megabytes(keptAnswerLimit)}`,
  'campaigns that `check` computes at once': `${mostThreads}, and no more than there are cores`,
  'a photograph in a report; all of them': `${megabytes(mostBytes)}; ${megabytes(mostBytesTogether)}`,
};

it('the limits are those that DEVELOPERS.md lists', () => {
  const text = readFileSync(new URL('../../DEVELOPERS.md', import.meta.url), 'utf8');
  const rows = [...text.matchAll(/^\| (.*?) \| (.*?) \| `src\/[^`]+` \|$/gm)].map(([, what, limit]) => [
    what,
    limit,
  ]);
  expect(Object.fromEntries(rows)).toMatchObject(limits);
  expect(sizeLimitBytes).toBe(tableFileLimit);
});
