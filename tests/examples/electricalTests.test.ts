import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import { Workbook } from '../../src/evaluation/workbook.js';

const folder = fileURLToPath(new URL('../../examples/electrical-tests', import.meta.url));

it('the example of electrical tests comes out as its readings say', async () => {
  const evaluation = await new Workbook(new NodeFiles(folder)).evaluate(
    path.join(folder, 'campaign.sweepbook'),
  );
  expect(
    evaluation.electricalTests.map(
      ({ kind, address, verdict, latest }) => `${kind} ${address} ${verdict}${latest ? '' : ', mended'}`,
    ),
  ).toEqual([
    'continuity 3.01 pass',
    'continuity 3.02 fail',
    'polarity 3.01 pass',
    'polarity 3.02 pass',
    'polarity 3.03 fail, mended',
    'polarity 3.03 pass',
    'insulation 3.01 pass',
    'insulation 3.02 fail',
    'insulation 3.03 not judged',
    'meter 3.01 pass',
    'meter 3.02 fail',
    'meter 3.03 pass',
    'meter 3.04 pass',
    'meter 3.05 fail',
  ]);
  expect(evaluation.problems.map(({ id }) => id)).toEqual(['electrical/insulation-low']);
});
