import { expect, it } from 'vitest';
import { moduleScience } from '../../src/analysis/moduleScience.js';
import { sweepAtConditions } from '../../src/analysis/sweepAtConditions.js';
import { atConditions } from '../../src/physics/nameplateModel.js';
import type { Conditions, IvCurve } from '../../src/physics/ivCurve.js';
import { composeString, moduleWithSubstrings } from '../../src/physics/seriesComposition.js';
import type { EvaluatedSweep } from '../../src/evaluation/evaluation.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { nameplate } from '../nameplate.js';

const hot: Conditions = { irradiance: 900, cellTemperature: 48 };
const cold: Conditions = { irradiance: 900, cellTemperature: 25 };

/** All names and numbers are invented; the nameplate does not say how many substrings a module has. */
const campaign = (curve: IvCurve) => `module M
${nameplate}string 1.01
  modules 18 x M
criteria acceptance
  Pmax -5 % ..
sweep 1.01/3
  irradiance ${hot.irradiance} W/m2
  temperature ${hot.cellTemperature} degC cell
  points V, A
${Array.from(curve.voltage, (v, k) => `    ${v.toFixed(4)} ${curve.current[k]!.toFixed(5)}`).join('\n')}
`;

/** A module that has lost two of three substrings. */
function oneThird(sweep: EvaluatedSweep, at: Conditions): IvCurve {
  const model = atConditions(moduleScience(sweep.target.module!).diode!, at);
  return composeString([moduleWithSubstrings(model, 3, { lostSubstrings: 2 })], { points: 120 });
}

it('takes the usual three substrings where the nameplate does not say', async () => {
  const blank = { voltage: Float64Array.of(0, 1), current: Float64Array.of(1, 0) };
  const [first] = (await evaluateText(campaign(blank))).sweeps;
  const [sweep] = (await evaluateText(campaign(oneThird(first!, hot)))).sweeps;
  const moved = sweepAtConditions(sweep!, cold, 2)!;
  const truth = oneThird(sweep!, cold);
  const voc = (curve: IvCurve) => curve.voltage.at(-1)!;
  expect(voc(moved.curve) / voc(truth)).toBeCloseTo(1, 2);
});
