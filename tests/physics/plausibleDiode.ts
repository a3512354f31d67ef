import fc from 'fast-check';
import { junctionThermalVoltage } from '../../src/physics/constants.js';
import type { SingleDiode } from '../../src/physics/singleDiode.js';

export interface PlausibleRange {
  /** W/m2. */
  readonly leastIrradiance?: number;
  readonly mostIrradiance?: number;
}

/** Modules of 36 to 220 cells, 1 to 20 A, ideality 0.9 to 1.8, usual losses, at any irradiance between 1 and 1500 W/m2. */
export function plausibleDiode(range: PlausibleRange = {}): fc.Arbitrary<SingleDiode> {
  return fc
    .record({
      cells: fc.integer({ min: 36, max: 220 }),
      isc: fc.double({ min: 1, max: 20, noNaN: true }),
      ideality: fc.double({ min: 0.9, max: 1.8, noNaN: true }),
      vocPerCell: fc.double({ min: 0.58, max: 0.75, noNaN: true }),
      // Voltage lost in Rs at Isc over Voc, and current lost in Rsh at Voc over Isc.
      seriesLoss: fc.double({ min: 0, max: 0.1, noNaN: true }),
      shuntLoss: fc.double({ min: 0, max: 0.1, noNaN: true }),
      irradiance: fc.double({
        min: range.leastIrradiance ?? 1,
        max: range.mostIrradiance ?? 1500,
        noNaN: true,
      }),
    })
    .map(({ cells, isc, ideality, vocPerCell, seriesLoss, shuntLoss, irradiance }) => {
      const thermalVoltage = ideality * cells * junctionThermalVoltage(25);
      const voc = cells * vocPerCell;
      const suns = irradiance / 1000;
      return {
        photocurrent: isc * suns,
        saturationCurrent: (isc * (1 - shuntLoss)) / Math.expm1(voc / thermalVoltage),
        seriesResistance: (seriesLoss * voc) / isc,
        shuntResistance: voc / (shuntLoss * isc) / suns,
        thermalVoltage,
      };
    });
}
