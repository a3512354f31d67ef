/** The residual of the budget against the errors that the study finds, for every module, with exact coefficients. */
import { describe, expect, it } from 'vitest';
import { largestTranslationErrors, type Residual } from '../../src/analysis/translationResidual.js';
import { deviceCoefficients } from '../../src/physics/deviceCoefficients.js';
import { standardTestConditions, type Conditions } from '../../src/physics/ivCurve.js';
import {
  translateByProcedure1,
  translateByProcedure2,
  translatePointByProcedure1,
  translatePointByProcedure2,
} from '../../src/physics/translation.js';
import {
  atConditions,
  characteristicPoints,
  pointsOfSmoothCurve,
  wideCurve,
} from '../physics/deSotoModule.js';
import { perfectNameplate } from '../physics/perfectNameplate.js';
import { everyModule, irradiances, temperatures, type TechnologyCase } from './study.js';

const names = ['isc', 'voc', 'imp', 'vmp', 'pmax'] as const;

function errorsFrom(
  plate: ReturnType<typeof perfectNameplate>,
  procedure: 1 | 2,
  from: Conditions,
): Residual {
  const model = atConditions(plate.module, from);
  const { isc } = characteristicPoints(model);
  const coefficients = deviceCoefficients(plate.coefficients[procedure], 1, 1);
  const to = standardTestConditions;
  const curve = wideCurve(model, 500);
  const moved = pointsOfSmoothCurve(
    procedure === 1
      ? translateByProcedure1(curve, isc, from, to, coefficients)
      : translateByProcedure2(curve, from, to, coefficients),
  );
  const movePoint = procedure === 1 ? translatePointByProcedure1 : translatePointByProcedure2;
  const point = movePoint({ voltage: 0, current: isc }, { isc, from, to, coefficients });
  const error = (name: keyof Residual): number =>
    Math.abs((name === 'isc' ? point.current : moved[name]) / plate.stc[name] - 1);
  return { isc: error('isc'), voc: error('voc'), imp: error('imp'), vmp: error('vmp'), pmax: error('pmax') };
}

const grid: Conditions[] = [300, ...irradiances, 1200].flatMap((irradiance) =>
  [-10, -5, ...temperatures, 75].map((cellTemperature) => ({ irradiance, cellTemperature })),
);

describe.each([1, 2] as const)('procedure %i', (procedure) => {
  const classes: [string, TechnologyCase[]][] = [
    ['crystalline silicon', everyModule.filter(({ name }) => name.endsWith('Si') || name === 'HJT')],
    ['thin film', everyModule.filter(({ name }) => name.startsWith('C'))],
  ];

  it.each(classes)(
    '%s: no error exceeds what the budget takes, from 300 to 1200 W/m2 and -10 to 75 degC',
    (_, modules) => {
      for (const { row, technology } of modules) {
        const plate = perfectNameplate(row);
        for (const from of grid) {
          const found = errorsFrom(plate, procedure, from);
          const most = largestTranslationErrors(procedure, technology, from);
          for (const name of names)
            expect(found[name], `${row} ${name} from ${JSON.stringify(from)}`).toBeLessThanOrEqual(
              most[name],
            );
        }
      }
    },
  );

  it.each(classes)(
    '%s: from 800 W/m2 within 30 K the budget takes the largest error found, no guess',
    (_, modules) => {
      const near = grid.filter(
        ({ irradiance, cellTemperature: t }) => irradiance >= 800 && t >= -5 && t <= 55,
      );
      const most = largestTranslationErrors(procedure, modules[0]!.technology, near[0]!);
      const found = modules.flatMap(({ row }) =>
        near.map((from) => errorsFrom(perfectNameplate(row), procedure, from)),
      );
      for (const name of names)
        expect(most[name], name).toBeLessThan(1.03 * Math.max(...found.map((errors) => errors[name])) + 1e-4);
    },
  );
});

it('grows with the distance and never shrinks', () => {
  const pmaxFrom = (irradiance: number, cellTemperature: number): number =>
    largestTranslationErrors(1, 'mono-Si', { irradiance, cellTemperature }).pmax;
  expect(pmaxFrom(800, 55)).toBe(pmaxFrom(1000, 25));
  expect(pmaxFrom(600, 25)).toBeGreaterThan(pmaxFrom(700, 25));
  expect(pmaxFrom(400, 25)).toBeCloseTo(0.012, 9);
  expect(pmaxFrom(1000, 65)).toBeGreaterThan(pmaxFrom(1000, 60));
  expect(pmaxFrom(1300, 25)).toBeGreaterThan(pmaxFrom(1200, 25));
});
