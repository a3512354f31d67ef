/**
 * The limits of README.md on the path that a user takes who names no procedure: from the text of a campaign and a table of points
 * to the parameters at STC. Truth: curves of the CEC table, see tests/analysis/cecCampaign.ts.
 */
import { describe, expect, it } from 'vitest';
import type { Conditions } from '../../src/physics/ivCurve.js';
import { csvOf, curveAt, listed, moduleBlock, sweepBlock, wideCriteria } from '../analysis/cecCampaign.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { perfectNameplate } from '../physics/perfectNameplate.js';
import { aims, irradiances, temperatures } from './study.js';

const near: Conditions[] = irradiances
  .filter((irradiance) => irradiance >= 800)
  .flatMap((irradiance) =>
    temperatures.filter((t) => t <= 55).map((cellTemperature) => ({ irradiance, cellTemperature })),
  );
const far: Conditions[] = [450, 500, 600].flatMap((irradiance) =>
  temperatures.map((cellTemperature) => ({ irradiance, cellTemperature })),
);

const cases = [
  { module: 'row 4', technology: 'multi-Si', procedure: 1 },
  { module: 'row 6', technology: 'CdTe', procedure: 2 },
] as const;

/** What one would have determined on the module itself, for the procedure that is to be chosen. */
function exactLines(module: string, procedure: 1 | 2): string[] {
  const { rs, kappa, b1, b2 } = perfectNameplate(module).coefficients[procedure];
  const lines = [`Rs ${rs} ohm`, `kappa ${1000 * kappa} mohm/K`];
  return procedure === 1 ? lines : [...lines, `B1 ${b1}`, `B2 ${b2}`];
}

async function errorsAtStandard(module: string, lines: readonly string[], from: Conditions) {
  const text = [
    moduleBlock(module, { lines }),
    'string S\n  modules 1 x M',
    wideCriteria,
    sweepBlock('S', from),
  ].join('\n\n');
  const { sweeps } = await evaluateText(text, { 's.csv': csvOf(curveAt(module, from)) });
  const { parameters, procedure } = sweeps[0]!.analysis.translated!;
  const { isc, voc, imp, vmp } = listed(module);
  return {
    procedure,
    isc: Math.abs(parameters.isc! / isc - 1),
    voc: Math.abs(parameters.voc! / voc - 1),
    pmax: Math.abs(parameters.pmax! / (imp * vmp) - 1),
  };
}

describe.each(cases)('$technology', ({ module, procedure }) => {
  it('exact coefficients, from 800 W/m2 within 30 K: Pmax within 0.5 %, Isc and Voc within 0.3 %', async () => {
    for (const from of near) {
      const errors = await errorsAtStandard(module, exactLines(module, procedure), from);
      expect(errors.procedure).toBe(`IEC60891-${procedure}`);
      expect(errors.pmax, JSON.stringify(from)).toBeLessThan(aims.exact.near.pmax);
      expect(errors.voc, JSON.stringify(from)).toBeLessThan(aims.exact.near.voc);
      expect(errors.isc, JSON.stringify(from)).toBeLessThan(aims.exact.near.iscOfPoint);
    }
  });

  it('exact coefficients, 450 to 600 W/m2: Pmax within 1 %', async () => {
    for (const from of far) {
      const errors = await errorsAtStandard(module, exactLines(module, procedure), from);
      expect(errors.pmax, JSON.stringify(from)).toBeLessThan(aims.exact.far.pmax);
    }
  });

  it('nameplate alone, from 800 W/m2 within 30 K: Pmax within 1 %', async () => {
    for (const from of near) {
      const errors = await errorsAtStandard(module, [], from);
      expect(errors.procedure).toBe(`IEC60891-${procedure}`);
      expect(errors.pmax, JSON.stringify(from)).toBeLessThan(aims.nameplate.near.pmax);
    }
  });
});
