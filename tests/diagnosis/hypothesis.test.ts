/** Causes joined and left out again. The figures are invented. */
import { expect, it } from 'vitest';
import { commonUnknowns, type CommonUnknown } from '../../src/diagnosis/expectation.js';
import { without, type Hypothesis, type Tried } from '../../src/diagnosis/hypothesis.js';
import { priorOdds, weightOf, type Odds } from '../../src/diagnosis/odds.js';

const zeros = Object.fromEntries(commonUnknowns.map((name) => [name, 0])) as Record<CommonUnknown, number>;

function tried(odds: Odds): Tried {
  const [code, ...also] = Object.keys(odds) as (keyof Odds)[];
  const hypothesis: Hypothesis = { code: code!, also, odds };
  return { hypothesis, values: zeros, errors: zeros, own: [], misfit: 0, strain: 0, rest: 0 };
}

const substring = { 'substring-out': priorOdds['substring-out'] };
const resistance = { 'series-resistance': priorOdds['series-resistance'] };

it('faults of one module keep company, others do not', () => {
  const apart = priorOdds['substring-out'] + priorOdds['series-resistance'];
  expect(weightOf({ ...substring, ...resistance })).toBeCloseTo(apart + Math.log(10), 12);
  expect(weightOf({ ...substring, soiling: -3 })).toBeCloseTo(priorOdds['substring-out'] - 3, 12);
});

it.each<[string, Odds, keyof Odds, Odds]>([
  ['the company of faults of one module', { ...substring, ...resistance }, 'series-resistance', substring],
  ['a drift that the readings show', { drift: priorOdds.drift + 3.5, ...resistance }, 'drift', resistance],
  [
    'a sensor that is doubted first',
    { 'temperature-wrong': priorOdds['temperature-wrong'] + 2, ...substring, ...resistance },
    'temperature-wrong',
    { ...substring, ...resistance },
  ],
])('what is left out takes with it what spoke for it: %s', (_, odds, code, left) => {
  const hypothesis = without(tried(odds), code)!;
  expect([hypothesis.code, ...(hypothesis.also ?? [])]).toEqual(Object.keys(left));
  expect(weightOf(hypothesis.odds)).toBeCloseTo(weightOf(left), 12);
});

it('the only cause cannot be left out', () => {
  expect(without(tried(resistance), 'series-resistance')).toBeUndefined();
});
