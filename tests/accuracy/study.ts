/**
 * How well the translation procedures bring a curve to standard test conditions, against an exact physical model: De Soto
 * curves of modules of the CEC table. `README.md` beside this file is what `accuracyReport` returns; the test writes it anew
 * with `npx vitest run tests/accuracy -u` and otherwise fails when it is out of date.
 */
import { deviceCoefficients, type ModuleCoefficients } from '../../src/physics/deviceCoefficients.js';
import { standardTestConditions, type Conditions } from '../../src/physics/ivCurve.js';
import { fiveParametersFromNameplate } from '../../src/physics/nameplateModel.js';
import type { SingleDiode } from '../../src/physics/singleDiode.js';
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
import { coefficientsOf, perfectNameplate, type KnownModule } from '../physics/perfectNameplate.js';

export const irradiances = [400, 450, 500, 600, 700, 800, 900, 1000, 1100];
export const temperatures = [10, 25, 40, 55, 65];

/** The module of the table, and what it is made of. */
export const technologies = [
  { row: 'row 4', name: 'multicrystalline silicon, 60 cells' },
  { row: 'row 6', name: 'cadmium telluride, 216 cells' },
] as const;
export type TechnologyCase = (typeof technologies)[number];

/** Relative errors of the translated values. `iscOfPoint` is the measured (0, Isc) moved as a point, `isc` the curve at V = 0. */
export interface Errors {
  readonly pmax: number;
  readonly voc: number;
  readonly isc: number;
  readonly iscOfPoint: number;
}

export interface Method {
  readonly name: string;
  readonly errors: (from: Conditions) => Errors;
}

/** As a datasheet prints them: two decimals of A and V (one above 50 V), coefficients in 0.01 % (alpha 0.001 %) per kelvin. */
function printed(known: KnownModule): KnownModule {
  const to = (value: number, digits: number): number => Number(value.toFixed(digits));
  const volt = (value: number): number => to(value, value > 50 ? 1 : 2);
  const [isc, voc, imp, vmp] = [to(known.isc, 2), volt(known.voc), to(known.imp, 2), volt(known.vmp)];
  const relative = (value: number, base: number, digits: number): number =>
    (to((100 * value) / base, digits) / 100) * base;
  return {
    isc,
    voc,
    imp,
    vmp,
    alpha: relative(known.alpha, isc, 3),
    beta: relative(known.beta, voc, 2),
    gamma: relative(known.gamma, imp * vmp, 2),
  };
}

/** The ways to translate a curve of one module, from exact coefficients down to bare proportionality. */
export function methodsFor({ row }: TechnologyCase): Method[] {
  const plate = perfectNameplate(row);
  const label = printed(plate.known);
  const fromLabel = coefficientsOf(label, modelOf(label, 'multi-Si'));
  const fromOtherGap = coefficientsOf(label, modelOf(label, 'CdTe'));
  const ownRs = { ...plate.coefficients[1], rs: plate.module.reference.seriesResistance };
  const byProcedure =
    (procedure: 1 | 2, of: ModuleCoefficients) =>
    (from: Conditions): Errors => {
      const model = atConditions(plate.module, from);
      const { isc } = characteristicPoints(model);
      const coefficients = deviceCoefficients(of, 1, 1);
      const to = standardTestConditions;
      const curve = wideCurve(model);
      const moved = pointsOfSmoothCurve(
        procedure === 1
          ? translateByProcedure1(curve, isc, from, to, coefficients)
          : translateByProcedure2(curve, from, to, coefficients),
      );
      const movePoint = procedure === 1 ? translatePointByProcedure1 : translatePointByProcedure2;
      const point = movePoint({ voltage: 0, current: isc }, { isc, from, to, coefficients });
      return {
        pmax: moved.pmax / plate.stc.pmax - 1,
        voc: moved.voc / plate.stc.voc - 1,
        isc: moved.isc / plate.stc.isc - 1,
        iscOfPoint: point.current / plate.stc.isc - 1,
      };
    };
  const { known, stc } = plate;
  const scaled = (from: Conditions): Errors => {
    const { isc, voc, pmax } = plate.at(from.irradiance, from.cellTemperature);
    const dT = from.cellTemperature - 25;
    const suns = from.irradiance / 1000;
    const iscError = isc / suns / (1 + (known.alpha / stc.isc) * dT) / stc.isc - 1;
    return {
      pmax: pmax / suns / (1 + (known.gamma / stc.pmax) * dT) / stc.pmax - 1,
      voc: voc / (1 + (known.beta / stc.voc) * dT) / stc.voc - 1,
      isc: iscError,
      iscOfPoint: iscError,
    };
  };
  return [
    { name: 'Procedure 1, exact coefficients', errors: byProcedure(1, plate.coefficients[1]) },
    { name: 'Procedure 1, exact but Rs of the diode model', errors: byProcedure(1, ownRs) },
    { name: 'Procedure 2, exact coefficients', errors: byProcedure(2, plate.coefficients[2]) },
    { name: 'Procedure 1, nameplate only', errors: byProcedure(1, fromLabel[1]) },
    { name: 'Procedure 2, nameplate only', errors: byProcedure(2, fromLabel[2]) },
    ...(row === 'row 6'
      ? [{ name: 'Procedure 2, nameplate only, another band gap', errors: byProcedure(2, fromOtherGap[2]) }]
      : []),
    { name: 'Scaling by G and gamma', errors: scaled },
  ];
}

/** The table's parameters were all made with the band gap of silicon, whatever the material: so is the model asked here. */
function modelOf(label: KnownModule, technology: 'multi-Si' | 'CdTe'): SingleDiode {
  const { reference } = fiveParametersFromNameplate({ ...label, technology });
  if (!reference) throw new Error('The nameplate has no five-parameter model.');
  return reference.model;
}

export const regions = [
  {
    name: '800 to 1100 W/m2, within 30 K',
    within: (c: Conditions) => c.irradiance >= 800 && Math.abs(c.cellTemperature - 25) <= 30,
  },
  {
    name: '800 to 1100 W/m2, 65 degC',
    within: (c: Conditions) => c.irradiance >= 800 && c.cellTemperature === 65,
  },
  { name: '700 W/m2', within: (c: Conditions) => c.irradiance === 700 },
  { name: '450 to 600 W/m2', within: (c: Conditions) => c.irradiance >= 450 && c.irradiance <= 600 },
  { name: '400 W/m2', within: (c: Conditions) => c.irradiance === 400 },
] as const;

const grid: Conditions[] = irradiances.flatMap((irradiance) =>
  temperatures.map((cellTemperature) => ({ irradiance, cellTemperature })),
);

/** The largest error, by size, over the grid points of a region. */
export function worstErrors(method: Method, within: (c: Conditions) => boolean): Errors {
  const all = grid.filter(within).map(method.errors);
  const worst = (key: keyof Errors): number =>
    all.reduce((most, errors) => (Math.abs(errors[key]) > Math.abs(most) ? errors[key] : most), 0);
  return { pmax: worst('pmax'), voc: worst('voc'), isc: worst('isc'), iscOfPoint: worst('iscOfPoint') };
}

const percent = (value: number): string => {
  const text = (100 * value).toFixed(2);
  return Number(text) === 0 ? '0.00' : value > 0 ? `+${text}` : text;
};
const table = (header: readonly string[], rows: readonly (readonly string[])[]): string =>
  [header, header.map((_, k) => (k === 0 ? '---' : '---:')), ...rows]
    .map((row) => `| ${row.join(' | ')} |`)
    .join('\n');

/** The text of README.md. */
export function accuracyReport(): string {
  const sections = technologies.flatMap((each) => {
    const methods = methodsFor(each);
    const overview = methods.flatMap((method) =>
      regions.map((region) => {
        const worst = worstErrors(method, region.within);
        return [
          method.name,
          region.name,
          ...[worst.pmax, worst.voc, worst.isc, worst.iscOfPoint].map(percent),
        ];
      }),
    );
    const grids = methods.map((method) => {
      const rows = irradiances.map((irradiance) => [
        String(irradiance),
        ...temperatures.map((cellTemperature) =>
          percent(method.errors({ irradiance, cellTemperature }).pmax),
        ),
      ]);
      return `#### ${method.name}\n\n${table(['W/m2', ...temperatures.map((t) => `${t} degC`)], rows)}`;
    });
    return [
      `## ${each.name[0]!.toUpperCase()}${each.name.slice(1)}`,
      '### Largest error in each region, %',
      table(['method', 'from', 'Pmax', 'Voc', 'Isc', 'Isc as a point'], overview),
      '### Error of Pmax at STC, %, by the conditions of the measurement',
      ...grids,
    ];
  });
  return `${[introduction, ...sections].join('\n\n')}\n`;
}

const introduction = `# Accuracy of the translation

Written by \`study.ts\` (\`npx vitest run tests/accuracy -u\`); do not edit.

The truth is the model of De Soto, Klein, Beckman (Solar Energy 80 (2006) 78-88) with the parameters of two modules of the CEC
table, without noise: its curve at the conditions of the measurement is translated to 1000 W/m2 and 25 degC and compared with
its curve there. So these are the errors of the procedures alone, apart from those of instruments, and for a module that
behaves like this model.

- Exact coefficients: alpha, beta, gamma are the derivatives of the model at STC; Rs and kappa are derived from the model so
  that the translated maximum follows it with irradiance and temperature; B1, B2 from its thermal voltage.
- Nameplate only: rounded as a datasheet prints them, with Rs, kappa, B1 and B2 from the five-parameter model of the nameplate.
  The truth is made with the band gap of silicon for either module, as the table is; "another band gap" asks the nameplate
  model with that of cadmium telluride and shows what such a disagreement between model and module costs.
- Scaling: Pmax (1000/G) / (1 + gamma (T - 25)), and the like for Isc and Voc (Voc without irradiance).
- Isc is read from the translated curve at V = 0; "Isc as a point" is the measured short-circuit point moved by itself. They
  differ because the voltage shift of the procedures slides the sloping start of the curve along.

Procedure 1 moves a curve without changing its shape. A real shunt grows weaker with irradiance, so one Rs cannot serve both
Pmax and Voc: the Rs that brings Pmax right leaves Voc too low by some tenths of a percent, and the Rs of the diode model does
the opposite. Procedure 2 has B1 and B2 for Voc and keeps both; what it leaves over comes with temperature and irradiance
together, since it takes kappa' for a temperature coefficient of Rs'.`;
