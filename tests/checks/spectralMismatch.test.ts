import { expect, it } from 'vitest';
import { problemsOf } from './smallCampaign.js';

/** Which technologies count as alike is common practice, no source; what a mismatch is: IEC 60904-7. */
const sweeps = ['13:30', '13:40']
  .map((time) => `sweep A at 2003-10-17 ${time}\n  irradiance 900 W/m2\n  data "${time}.csv"\n`)
  .join('');
const found = (reference: string, module: string) =>
  problemsOf('instrument/spectral-mismatch', {
    reference: `  technology ${reference}`,
    module: `  technology ${module}`,
    sweeps,
  });

it.each([
  ['mono-Si', 'CdTe'],
  ['a-Si', 'mono-Si'],
  ['CIGS', 'multi-Si'],
  ['mono-Si', 'perovskite'],
])('a reference of %s under modules of %s is a warning, once for the pair', async (reference, module) => {
  const problems = await found(reference, module);
  expect(problems).toHaveLength(1);
  expect(problems[0]).toMatchObject({ severity: 'warning', file: 'c.sweepbook' });
  expect(problems[0]!.message).toContain('mismatch factor of IEC 60904-7');
  expect(problems[0]!.related).toHaveLength(1);
});

it.each([
  ['mono-Si', 'multi-Si'],
  ['multi-Si', 'HJT'],
  ['CIS', 'CIGS'],
])('a reference of %s under modules of %s is information', async (reference, module) => {
  expect((await found(reference, module)).map(({ severity }) => severity)).toEqual(['information']);
});

it('says nothing of equal technologies, or where one is not declared', async () => {
  expect(await found('CdTe', 'CdTe')).toEqual([]);
  expect(await problemsOf('instrument/spectral-mismatch', { sweeps })).toEqual([]);
});
