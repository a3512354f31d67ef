import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { inSeriesParallel, sampleCurve } from '../../src/physics/singleDiode.js';
import { deSotoModule } from '../physics/deSotoModule.js';
import { cramerRaoBound, errorsOf, extractionReport, quantilesOf } from './extractionStudy.js';

const sweeps = Number(process.env.EXTRACTION_SWEEPS ?? 0);
const file = new URL('./extraction.md', import.meta.url);

it.runIf(sweeps > 0)('extraction.md is written anew', { timeout: 600_000 }, async () => {
  await expect(extractionReport(sweeps)).toMatchFileSnapshot('./extraction.md');
});

it('extraction.md stands in README.md', () => {
  expect(existsSync(file)).toBe(true);
  expect(readFileSync(new URL('./README.md', import.meta.url), 'utf8')).toContain(
    readFileSync(file, 'utf8').trim(),
  );
});

// Shares as extraction.md has them, less what a smaller number of sweeps scatters.
const cases = [
  { points: 25, wild: 0, share: 0.98 },
  { points: 25, wild: 1, share: 0.97 },
  { points: 25, wild: 2, share: 0.965 },
  { points: 40, wild: 2, share: 0.985 },
  { points: 60, wild: 2, share: 0.99 },
  { points: 128, wild: 3, share: 0.99 },
] as const;

describe('0.2 % of noise', () => {
  it.each(cases)(
    '$points points, $wild wild: within 0.3 % in $share of sweeps',
    ({ points, wild, share }) => {
      const errors = errorsOf(250, points, wild);
      for (const name of ['isc', 'voc', 'pmax'] as const)
        expect(quantilesOf(errors[name]).within, name).toBeGreaterThanOrEqual(share);
    },
  );
});

it('the bound falls with the root of the number of points', () => {
  const model = inSeriesParallel(deSotoModule('row 4').reference, 20, 1);
  const bound = (points: number) => cramerRaoBound(model, sampleCurve(model, points).voltage);
  for (const name of ['isc', 'voc', 'pmax'] as const)
    expect(bound(100)[name] / bound(400)[name]).toBeCloseTo(2, 0);
  // Isc rests on the flat third of the curve: 0.2 % over the root of some ten points.
  expect(bound(25).isc).toBeGreaterThan(0.0005);
  expect(bound(25).isc).toBeLessThan(0.002);
});
