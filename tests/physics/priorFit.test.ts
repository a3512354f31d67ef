/** Against the integral itself: the evidence is the mean likelihood over the priors, here summed over a grid of two unknowns. */
import { expect, it } from 'vitest';
import { fitWithPriors } from '../../src/physics/priorFit.js';
import { gaussian, seeded } from './noise.js';

const count = 12;
const deviation = 0.3;
const priors = [
  { mean: 1, deviation: 0.5 },
  { mean: -2, deviation: 2 },
] as const;
const normal = gaussian(seeded(5));
const observed = Float64Array.from(
  { length: count },
  (_, k) => 1.3 - 1.1 * (k / count) + deviation * normal(),
);

/** Likelihood, without its constant, times the priors, over a grid wide enough. */
function summed() {
  const steps = 600;
  const sums = { all: 0, a: 0, b: 0, aa: 0, bb: 0 };
  const gridOf = ({ mean, deviation: wide }: (typeof priors)[0 | 1]) => ({
    from: mean - 6 * wide,
    step: (12 * wide) / steps,
  });
  const [first, second] = [gridOf(priors[0]), gridOf(priors[1])];
  for (let i = 0; i < steps; i++) {
    for (let j = 0; j < steps; j++) {
      const a = first.from + i * first.step;
      const b = second.from + j * second.step;
      let square =
        ((a - priors[0].mean) / priors[0].deviation) ** 2 + ((b - priors[1].mean) / priors[1].deviation) ** 2;
      for (let k = 0; k < count; k++) square += ((observed[k]! - a - b * (k / count)) / deviation) ** 2;
      const density =
        (Math.exp(-square / 2) * first.step * second.step) /
        (2 * Math.PI * priors[0].deviation * priors[1].deviation);
      sums.all += density;
      sums.a += density * a;
      sums.b += density * b;
      sums.aa += density * a * a;
      sums.bb += density * b * b;
    }
  }
  const [a, b] = [sums.a / sums.all, sums.b / sums.all];
  return {
    evidence: Math.log(sums.all),
    values: [a, b],
    errors: [Math.sqrt(sums.aa / sums.all - a ** 2), Math.sqrt(sums.bb / sums.all - b ** 2)],
  };
}

it('has the evidence, the values and the errors that the sum has', () => {
  const fit = fitWithPriors({
    unknowns: priors.map((prior) => ({ ...prior, start: prior.mean, step: 1e-3 })),
    observed,
    deviation: new Float64Array(count).fill(deviation),
    model: ([a, b], result) => {
      for (let k = 0; k < count; k++) result[k] = a! + b! * (k / count);
    },
  });
  const { evidence, values, errors } = summed();
  expect(fit.occam - (fit.misfit + fit.strain) / 2).toBeCloseTo(evidence, 3);
  for (const j of [0, 1]) {
    expect(fit.values[j]).toBeCloseTo(values[j]!, 3);
    expect(fit.errors[j]).toBeCloseTo(errors[j]!, 3);
  }
});

it('stays within bounds', () => {
  const fit = fitWithPriors({
    unknowns: [{ mean: 0, deviation: 10, start: 0, step: 1e-3, most: 0.5 }],
    observed: Float64Array.of(2, 2),
    deviation: Float64Array.of(1, 1),
    model: ([a], result) => result.fill(a!),
  });
  expect(fit.values[0]).toBe(0.5);
});
