import { describe, expect, it } from 'vitest';
import { accuracyReport, methodsFor, regions, technologies, worstErrors } from './study.js';

it('README.md is what the study finds', async () => {
  await expect(accuracyReport()).toMatchFileSnapshot('./README.md');
});

describe.each(technologies)('$name', (technology) => {
  const methods = Object.fromEntries(methodsFor(technology).map((method) => [method.name, method]));
  const worst = (method: string, region: number) => worstErrors(methods[method]!, regions[region]!.within);

  it('exact coefficients, 800 W/m2 and more, within 30 K: Pmax within 0.5 %', () => {
    expect(Math.abs(worst('Procedure 1, exact coefficients', 0).pmax)).toBeLessThan(0.005);
    expect(Math.abs(worst('Procedure 2, exact coefficients', 0).pmax)).toBeLessThan(0.005);
  });

  it('exact coefficients, 800 W/m2 and more, within 30 K: Voc by procedure 2 and Isc as a point within 0.3 %', () => {
    expect(Math.abs(worst('Procedure 2, exact coefficients', 0).voc)).toBeLessThan(0.003);
    expect(Math.abs(worst('Procedure 1, exact but Rs of the diode model', 0).voc)).toBeLessThan(0.003);
    expect(Math.abs(worst('Procedure 1, exact coefficients', 0).iscOfPoint)).toBeLessThan(0.003);
    expect(Math.abs(worst('Procedure 2, exact coefficients', 0).iscOfPoint)).toBeLessThan(0.003);
  });

  it('nameplate values only, 800 W/m2 and more, within 30 K: Pmax within 1 %', () => {
    expect(Math.abs(worst('Procedure 1, nameplate only', 0).pmax)).toBeLessThan(0.01);
    expect(Math.abs(worst('Procedure 2, nameplate only', 0).pmax)).toBeLessThan(0.01);
  });

  it('exact coefficients, 450 to 600 W/m2: Pmax within 1 %', () => {
    expect(Math.abs(worst('Procedure 1, exact coefficients', 3).pmax)).toBeLessThan(0.01);
    expect(Math.abs(worst('Procedure 2, exact coefficients', 3).pmax)).toBeLessThan(0.01);
  });

  it('scaling by irradiance and gamma is worse than procedure 1 in every region', () => {
    regions.forEach((_, region) => {
      const scaled = Math.abs(worst('Scaling by G and gamma', region).pmax);
      expect(Math.abs(worst('Procedure 1, exact coefficients', region).pmax)).toBeLessThan(scaled);
    });
  });
});
