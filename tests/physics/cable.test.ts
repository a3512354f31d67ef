import { describe, expect, it } from 'vitest';
import {
  cableResistance,
  conductorTemperatureFactor,
  removeSeriesResistance,
} from '../../src/physics/cable.js';
import { pointsOfSmoothCurve, wideCurve } from './deSotoModule.js';
import { readTable } from './checkData.js';

describe('cable resistance', () => {
  it.each(readTable('iec60228-cu-class5.csv'))(
    '$mm2 mm2 copper lies under the maximum of IEC 60228, and near it',
    (row) => {
      const { least, most, resistance, standardUncertainty } = cableResistance(
        { length: 1000, crossSection: Number(row['mm2']), conductor: 'copper' },
        20,
      );
      const plain = Number(row['plain_ohm_per_km_20C']);
      const tinned = Number(row['tinned_ohm_per_km_20C']);
      expect(least).toBeLessThan(plain);
      expect(resistance).toBeLessThan(tinned);
      expect(most).toBeGreaterThan(tinned);
      expect(tinned - resistance).toBeLessThan(2 * standardUncertainty);
    },
  );

  it('4 mm2, 50 m each way, 20 degC: at most 0.52 ohm (0.509 ohm is the tinned maximum)', () => {
    const cable = { length: 100, crossSection: 4, conductor: 'copper' } as const;
    expect(cableResistance(cable, 20).least).toBeCloseTo(0.431025, 6);
    expect(cableResistance(cable, 20).most).toBeGreaterThan(0.509);
    expect(cableResistance(cable, 20).most).toBeLessThan(0.52);
  });

  it('grows by 290/250 from 20 to 60 degC (reciprocal of the factor 0.862 in IEC 60228)', () => {
    expect(conductorTemperatureFactor(60)).toBeCloseTo(290 / 250, 12);
    expect(1 / conductorTemperatureFactor(60)).toBeCloseTo(0.862, 3);
    const cable = { length: 60, crossSection: 6, conductor: 'aluminium' } as const;
    expect(cableResistance(cable, 60).resistance / cableResistance(cable, 20).resistance).toBeCloseTo(
      1.16,
      12,
    );
  });
});

describe('correction to the module terminals', () => {
  const model = {
    photocurrent: 9,
    saturationCurrent: 1e-10,
    seriesResistance: 0.3,
    shuntResistance: 300,
    thermalVoltage: 1.5,
  };

  it('takes a resistance in series out again, exactly', () => {
    const behindCable = { ...model, seriesResistance: model.seriesResistance + 0.47 };
    const corrected = pointsOfSmoothCurve(removeSeriesResistance(wideCurve(behindCable, 4000), 0.47));
    const truth = pointsOfSmoothCurve(wideCurve(model, 4000));
    expect(corrected.pmax / truth.pmax).toBeCloseTo(1, 7);
    expect(corrected.voc / truth.voc).toBeCloseTo(1, 7);
  });

  it('sorts what it moves', () => {
    const curve = { voltage: Float64Array.of(0, 1, 1.1), current: Float64Array.of(5, 5, 4) };
    const corrected = removeSeriesResistance(curve, 1);
    expect([...corrected.voltage]).toEqual([5, 5.1, 6]);
    expect([...corrected.current]).toEqual([5, 4, 5]);
  });
});
