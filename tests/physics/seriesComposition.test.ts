import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fallingCurve, voltageOfFalling } from '../../src/physics/fallingCurve.js';
import type { IvCurve } from '../../src/physics/ivCurve.js';
import { fiveParametersFromNameplate } from '../../src/physics/nameplateModel.js';
import { composeString, moduleWithSubstrings, sampleFalling } from '../../src/physics/seriesComposition.js';
import {
  characteristicPoints,
  currentAtVoltage,
  inSeriesParallel,
  sampleCurve,
} from '../../src/physics/singleDiode.js';
import { relative } from './checkData.js';
import { plausibleDiode } from './plausibleDiode.js';

/** The invented module of the demo. */
const module = fiveParametersFromNameplate({
  isc: 13.9,
  voc: 37.2,
  imp: 13.09,
  vmp: 31.2,
  alpha: 0.0063,
  beta: -0.1,
}).reference!.model;
const intact = moduleWithSubstrings(module, 3);
const last = (values: Float64Array): number => values[values.length - 1]!;
const largestPower = ({ voltage, current }: IvCurve): number =>
  voltage.reduce((most, v, k) => Math.max(most, v * current[k]!), 0);

describe('strings of equal modules', () => {
  it('are one device of N times the voltage, for any device', () => {
    fc.assert(
      fc.property(
        plausibleDiode(),
        fc.integer({ min: 1, max: 30 }),
        fc.integer({ min: 1, max: 4 }),
        (one, count, parts) => {
          const curve = composeString(Array(count).fill(moduleWithSubstrings(one, parts)), { points: 100 });
          const whole = inSeriesParallel(one, count, 1);
          const { isc, voc } = characteristicPoints(whole);
          expect(relative(curve.current[0]!, isc)).toBeLessThan(1e-9);
          expect(relative(last(curve.voltage), voc)).toBeLessThan(1e-9);
          curve.voltage.forEach((voltage, k) => {
            expect(Math.abs(currentAtVoltage(whole, voltage) - curve.current[k]!)).toBeLessThan(1e-7 * isc);
          });
        },
      ),
      { numRuns: 60 },
    );
  });

  it('lose I²R in their cable: the voltage at each current falls by I R', () => {
    const modules = Array(18).fill(intact);
    const cable = 0.24;
    const without = largestPower(composeString(modules, { points: 2000 }));
    const lossy = largestPower(composeString(modules, { points: 2000, cableResistance: cable }));
    // To first order the loss is Imp² R at the maximum power point of the string.
    expect(relative(without - lossy, 13.09 ** 2 * cable)).toBeLessThan(0.02);
  });
});

describe('damage', () => {
  const seventeen = Array(17).fill(intact);
  const vocOf = (curve: IvCurve): number => last(curve.voltage);
  const whole = composeString([...seventeen, intact]);

  it('a lost substring lowers Voc by its share, Isc hardly', () => {
    const curve = composeString([...seventeen, moduleWithSubstrings(module, 3, { lostSubstrings: 1 })]);
    expect(relative(vocOf(curve), vocOf(whole) * (1 - 1 / 54))).toBeLessThan(1e-9);
    expect(relative(curve.current[0]!, whole.current[0]!)).toBeLessThan(1e-3);
  });

  it('added resistance moves neither Isc nor Voc, and takes Imp² R', () => {
    const curve = composeString([...seventeen, moduleWithSubstrings(module, 3, { addedResistance: 0.5 })], {
      points: 2000,
    });
    expect(relative(vocOf(curve), vocOf(whole))).toBeLessThan(1e-12);
    expect(relative(curve.current[0]!, whole.current[0]!)).toBeLessThan(1e-3);
    expect(relative(18 * 408.408 - largestPower(curve), 0.5 * 13.09 ** 2)).toBeLessThan(0.02);
  });

  it('a module of 70 % photocurrent is bypassed above its current: the step lies there, one bypass voltage deep', () => {
    const weak = moduleWithSubstrings(module, 3, { photocurrentShare: 0.7 });
    const curve = composeString([...seventeen, weak], { points: 2000 });
    const at = curve.current.findIndex((current) => current < 12);
    const rest = composeString(seventeen, { points: 2000 });
    const restAt = rest.current.findIndex((current) => current < 12);
    // 17 modules at 12 A, less three bypass diodes of 0.5 V.
    expect(Math.abs(curve.voltage[at]! - (rest.voltage[restAt]! - 1.5))).toBeLessThan(0.5);
    const after = curve.current.findIndex((current) => current < 9);
    expect(curve.voltage[after]!).toBeGreaterThan(rest.voltage[restAt]! + 20);
  });

  it('every composed curve rises in voltage and falls in current', () => {
    const share = fc.double({ min: 0.05, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(share, { minLength: 1, maxLength: 12 }),
        fc.integer({ min: 0, max: 2 }),
        (shares, lost) => {
          const modules = shares.map((photocurrentShare, k) =>
            moduleWithSubstrings(module, 3, {
              photocurrentShare,
              weakSubstrings: (k % 3) + 1,
              lostSubstrings: k === 0 ? lost : 0,
            }),
          );
          const { voltage, current } = composeString(modules, { points: 100 });
          for (let k = 1; k < voltage.length; k++) {
            expect(voltage[k]!).toBeGreaterThanOrEqual(voltage[k - 1]!);
            expect(current[k]!).toBeLessThanOrEqual(current[k - 1]!);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('all substrings lost leaves no curve', () => {
    expect(composeString([moduleWithSubstrings(module, 3, { lostSubstrings: 3 })]).voltage).toHaveLength(0);
  });
});

it('sampled curves in series agree with the composition of their models', () => {
  const curve = fallingCurve(sampleCurve(module, 2000));
  const sum = sampleFalling((current) => 2 * voltageOfFalling(curve, current), curve.current[0]!, 400);
  const composed = composeString([intact, intact]);
  expect(relative(last(sum.voltage), last(composed.voltage))).toBeLessThan(1e-9);
  expect(relative(largestPower(sum), largestPower(composed))).toBeLessThan(2e-3);
});
