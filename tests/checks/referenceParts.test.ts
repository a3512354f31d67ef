import { describe, expect, it } from 'vitest';
import { evaluateText } from '../evaluation/memoryFiles.js';
import {
  csvOf,
  curveAt,
  instruments,
  moduleBlock,
  sweepBlock,
  wideCriteria,
} from '../analysis/cecCampaign.js';

const id = 'instrument/parts-undeclared';
const at = { irradiance: 900, cellTemperature: 40 };

async function found(reference: string, sweeps = sweepBlock('S', at, ['with T, R'])) {
  const text = [
    moduleBlock('row 4'),
    'string S\n  modules 1 x M',
    instruments.replace(/ {2}irradiance[^]*spectral.*\n/, reference),
    wideCriteria,
    sweeps,
  ].join('\n\n');
  const { problems } = await evaluateText(text, { 's.csv': csvOf(curveAt('row 4', at)) });
  return { all: problems, own: problems.filter((problem) => problem.id === id) };
}

describe('a reference device that declares no alignment and no spectral part', () => {
  it('is told once, as information at its irradiance, what is taken and what to write', async () => {
    const twice = [sweepBlock('S', at, ['with T, R']), sweepBlock('S/1', at, ['with T, R'])].join('\n\n');
    const { own } = await found('  irradiance ± 2 %\n', twice);
    expect(own).toHaveLength(1);
    expect(own[0]!.severity).toBe('information');
    expect(own[0]!.message).toContain('neither `alignment` nor `spectral`');
    expect(own[0]!.message).toContain('write `alignment ± 1 deg` and `spectral ± 1 %`');
  });

  it('is told of the one that is missing', async () => {
    const { own } = await found('  irradiance ± 2 %\n  spectral ± 1 %\n');
    expect(own[0]!.message).toContain('declares no `alignment`');
    expect(own[0]!.message).not.toContain('spectral ±');
  });

  it('is told nothing where both are declared, even as 0, where one could not be read, and where nothing rests on it', async () => {
    for (const reference of [
      '  irradiance ± 2 %\n  alignment ± 0 deg\n  spectral ± 0 %\n',
      '  irradiance ± 2 %\n  alignment ± 1 W\n  spectral ± 1 %\n',
      '',
    ])
      expect((await found(reference)).own).toEqual([]);
    expect((await found('  irradiance ± 2 %\n', sweepBlock('S', at))).own).toEqual([]);
  });
});
