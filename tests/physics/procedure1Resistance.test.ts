/** Modules of the CEC table (see data/README.md); curves from tests/physics/deSotoModule.ts, apart from the project's own model. */
import { describe, expect, it } from 'vitest';
import { deviceCoefficients, estimateKappa, estimateRs } from '../../src/physics/deviceCoefficients.js';
import { standardTestConditions, type Conditions } from '../../src/physics/ivCurve.js';
import { procedure1Limits, resistanceOfProcedure1 } from '../../src/physics/procedure1Resistance.js';
import { translateByProcedure1 } from '../../src/physics/translation.js';
import { atConditions, characteristicPoints, pointsOfSmoothCurve, wideCurve } from './deSotoModule.js';
import { perfectNameplate } from './perfectNameplate.js';

const near: Conditions[] = [800, 900, 1100].flatMap((irradiance) =>
  [10, 25, 40, 55].map((cellTemperature) => ({ irradiance, cellTemperature })),
);
const far: Conditions[] = [450, 600].flatMap((irradiance) =>
  [10, 25, 65].map((cellTemperature) => ({ irradiance, cellTemperature })),
);

/** Largest errors of Pmax and Voc as shares of their limits, from whole translated curves. */
function measuredShares(plate: ReturnType<typeof perfectNameplate>, rs: number) {
  const device = deviceCoefficients(
    { ...plate.coefficients[1], rs, kappa: estimateKappa({ ...plate.known, rs }) },
    1,
    1,
  );
  const errorsFrom = (from: Conditions) => {
    const model = atConditions(plate.module, from);
    const { isc } = characteristicPoints(model);
    const moved = pointsOfSmoothCurve(
      translateByProcedure1(wideCurve(model, 600), isc, from, standardTestConditions, device),
    );
    return { pmax: Math.abs(moved.pmax / plate.stc.pmax - 1), voc: Math.abs(moved.voc / plate.stc.voc - 1) };
  };
  const [ofNear, ofFar] = [near.map(errorsFrom), far.map(errorsFrom)];
  return {
    pmax: Math.max(
      ...ofNear.map(({ pmax }) => pmax / procedure1Limits.pmax),
      ...ofFar.map(({ pmax }) => pmax / procedure1Limits.pmaxFar),
    ),
    voc: Math.max(...ofNear.map(({ voc }) => voc / procedure1Limits.voc)),
  };
}

const rows = Array.from({ length: 9 }, (_, k) => `row ${k + 1}`);

describe.each(rows)('%s', (name) => {
  const plate = perfectNameplate(name);
  const { rs, share } = resistanceOfProcedure1(plate.reference)!;

  const largest = (at: number): number => Math.max(...Object.values(measuredShares(plate, at)));

  it('whole translated curves miss by the share that is said, or keep Pmax first where no Rs keeps all', () => {
    if (share <= 1) expect(largest(rs)).toBeCloseTo(share, 1);
    else expect(measuredShares(plate, rs).pmax).toBeLessThan(1.05);
  });

  it('no other Rs is better', () => {
    const {
      photocurrent,
      seriesResistance,
      shuntResistance: rsh,
      thermalVoltage: a,
    } = plate.module.reference;
    const atMaximum = estimateRs({ ...plate.known, photocurrent, rs: seriesResistance, rsh, a });
    for (const other of [seriesResistance, atMaximum, 0.95 * rs, 1.05 * rs])
      expect(largest(other)).toBeGreaterThan(share - 0.02);
  });
});

it('one Rs serves crystalline silicon with a good shunt, and no thin film', () => {
  const served = rows.filter((name) => resistanceOfProcedure1(perfectNameplate(name).reference)!.share <= 1);
  expect(served).toEqual(['row 1', 'row 3', 'row 4', 'row 9']);
});

it('without a shunt the resistance of the diode serves, and without Rs it is none', () => {
  const { model, ...rest } = perfectNameplate('row 4').reference;
  const noShunt = resistanceOfProcedure1({ ...rest, model: { ...model, shuntResistance: Infinity } })!;
  expect(noShunt.rs / model.seriesResistance).toBeCloseTo(1, 2);
  expect(noShunt.share).toBeLessThan(0.5);
  const bare = resistanceOfProcedure1({
    ...rest,
    model: { ...model, shuntResistance: Infinity, seriesResistance: 0 },
  });
  expect(bare!.rs).toBeCloseTo(0, 2);
});
