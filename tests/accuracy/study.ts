/**
 * How well the translation procedures bring a curve to standard test conditions, against an exact physical model: De Soto
 * curves of modules of the CEC table. `README.md` beside this file is what `accuracyReport` returns; the test writes it anew
 * with `npx vitest run tests/accuracy -u` and otherwise fails when it is out of date.
 */
import { readFileSync } from 'node:fs';
import {
  deviceCoefficients,
  estimateKappa,
  estimateRs,
  type ModuleCoefficients,
} from '../../src/physics/deviceCoefficients.js';
import { resistanceOfProcedure1 } from '../../src/physics/procedure1Resistance.js';
import type { Semiconductor } from '../../src/physics/semiconductors.js';
import { standardTestConditions, type Conditions } from '../../src/physics/ivCurve.js';
import { fiveParametersFromNameplate, type DiodeReference } from '../../src/physics/nameplateModel.js';
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

/** The module of the table, what it is made of, and the word of the notation for it. */
export interface TechnologyCase {
  readonly row: string;
  readonly name: string;
  readonly technology: Semiconductor;
}

export const technologies: readonly TechnologyCase[] = [
  { row: 'row 4', name: 'multicrystalline silicon, 60 cells', technology: 'multi-Si' },
  { row: 'row 6', name: 'cadmium telluride, 216 cells', technology: 'CdTe' },
];

/** All modules of the table that the tests hold; what `auto` chooses is tabled for each. */
export const everyModule: readonly TechnologyCase[] = (
  ['mono-Si', 'mono-Si', 'multi-Si', 'multi-Si', 'CdTe', 'CdTe', 'CIGS', 'CIS', 'HJT'] as const
).map((technology, k) => ({ row: `row ${k + 1}`, name: technology, technology }));

/** Relative errors of the translated values. `iscOfPoint` is the measured (0, Isc) moved as a point, `isc` the curve at V = 0. */
export interface Errors {
  readonly pmax: number;
  readonly voc: number;
  readonly isc: number;
  readonly iscOfPoint: number;
}

export interface Method {
  readonly name: string;
  /** Takes part in what `auto` chooses, with these coefficients. */
  readonly knowledge?: 'exact' | 'nameplate';
  readonly procedure?: 1 | 2;
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
export function methodsFor({ row, technology }: TechnologyCase): Method[] {
  const plate = perfectNameplate(row);
  const label = printed(plate.known);
  const fromLabel = coefficientsOf(label, modelOf(label, 'multi-Si'));
  const fromOtherGap = coefficientsOf(label, modelOf(label, technology));
  const withRs = (rs: number): ModuleCoefficients => ({
    ...plate.coefficients[1],
    rs,
    kappa: estimateKappa({ ...plate.known, rs }),
  });
  const { photocurrent, seriesResistance, shuntResistance: rsh, thermalVoltage: a } = plate.module.reference;
  const ownRs = withRs(seriesResistance);
  const rsOfMaximum = withRs(estimateRs({ ...plate.known, photocurrent, rs: seriesResistance, rsh, a }));
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
  const chosen = (reference: DiodeReference): 1 | 2 =>
    resistanceOfProcedure1(reference)!.share <= 1 ? 1 : 2;
  const exact = { 1: plate.coefficients[1], 2: plate.coefficients[2] };
  const autoExact = chosen(plate.reference);
  const declared = modelOf(label, technology);
  const autoLabel = chosen(declared);
  return [
    {
      name: `Chosen by auto (procedure ${autoExact}), exact coefficients`,
      knowledge: 'exact',
      procedure: autoExact,
      errors: byProcedure(autoExact, exact[autoExact]),
    },
    {
      name: `Chosen by auto (procedure ${autoLabel}), nameplate only`,
      knowledge: 'nameplate',
      procedure: autoLabel,
      errors: byProcedure(autoLabel, coefficientsOf(label, declared)[autoLabel]),
    },
    { name: 'Procedure 1, exact coefficients', errors: byProcedure(1, exact[1]) },
    { name: 'Procedure 1, exact but Rs of the diode model', errors: byProcedure(1, ownRs) },
    { name: 'Procedure 1, exact but Rs for Pmax alone', errors: byProcedure(1, rsOfMaximum) },
    { name: 'Procedure 2, exact coefficients', errors: byProcedure(2, exact[2]) },
    { name: 'Procedure 1, nameplate only', errors: byProcedure(1, fromLabel[1]) },
    { name: 'Procedure 2, nameplate only', errors: byProcedure(2, fromLabel[2]) },
    ...(technology === 'multi-Si'
      ? []
      : [{ name: 'Procedure 2, nameplate only, another band gap', errors: byProcedure(2, fromOtherGap[2]) }]),
    { name: 'Scaling by G and gamma', errors: scaled },
  ];
}

/** The table's parameters were all made with the band gap of silicon, whatever the material: so is the model asked here. */
function modelOf(label: KnownModule, technology: Semiconductor): DiodeReference {
  const { reference } = fiveParametersFromNameplate({ ...label, technology });
  if (!reference) throw new Error('The nameplate has no five-parameter model.');
  return reference;
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

/** Aims, as fractions. Isc is that of the point, which the tool reports; with a nameplate alone only Pmax has an aim near STC. */
export const aims = {
  exact: { near: { pmax: 0.005, voc: 0.003, iscOfPoint: 0.003 }, far: { pmax: 0.01 } },
  nameplate: { near: { pmax: 0.01 }, far: {} },
} as const;

/** Names of what a method misses in a region; undefined where nothing is asked. */
export function missed(method: Method, region: (typeof regions)[number]): string[] | undefined {
  if (method.name.startsWith('Scaling')) return undefined;
  const knowledge = method.name.includes('exact') ? 'exact' : 'nameplate';
  const wanted: Partial<Record<keyof Errors, number>> =
    region === regions[0] ? aims[knowledge].near : region === regions[3] ? aims[knowledge].far : {};
  const asked = Object.entries(wanted) as [keyof Errors, number][];
  if (asked.length === 0) return undefined;
  const worst = worstErrors(method, region.within);
  const words = { pmax: 'Pmax', voc: 'Voc', isc: 'Isc', iscOfPoint: 'Isc' };
  return asked.filter(([key, most]) => Math.abs(worst[key]) > most).map(([key]) => words[key]);
}

const keeps = (method: Method, region: (typeof regions)[number]): string => {
  const names = missed(method, region);
  return names === undefined ? '' : names.length === 0 ? 'kept' : `**${names.join(', ')} missed**`;
};

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
          keeps(method, region),
        ];
      }),
    );
    const grids = methods.slice(2).map((method) => {
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
      table(['method', 'from', 'Pmax', 'Voc', 'Isc', 'Isc as a point', 'limits'], overview),
      '### Error of Pmax at STC, %, by the conditions of the measurement',
      ...grids,
    ];
  });
  const extraction = readFileSync(new URL('./extraction.md', import.meta.url), 'utf8').trim();
  return `${[introduction, ...autoSection(), ...sections, extraction].join('\n\n')}\n`;
}

/** What `auto` chooses for each of the nine modules, and what that leaves over. */
function autoSection(): string[] {
  const [near, , , far] = regions;
  const rows = everyModule.flatMap((each) =>
    methodsFor(each)
      .slice(0, 2)
      .map((method) => {
        const [atNear, atFar] = [worstErrors(method, near.within), worstErrors(method, far.within)];
        return [
          `${each.row}, ${each.name}`,
          method.knowledge === 'exact' ? 'exact' : 'nameplate',
          `procedure ${method.procedure}`,
          ...[atNear.pmax, atNear.voc, atNear.iscOfPoint, atFar.pmax].map(percent),
          [keeps(method, near), keeps(method, far)].find((word) => word.includes('missed')) ?? 'kept',
        ];
      }),
  );
  const header = [
    'module',
    'coefficients',
    'chosen',
    'Pmax',
    'Voc',
    'Isc',
    'Pmax, 450 to 600 W/m2',
    'limits',
  ];
  return [
    '## What `auto` chooses',
    'Largest errors, %, from 800 to 1100 W/m2 within 30 K of STC unless the head says otherwise, for all nine modules of the table.',
    table(header, rows),
  ];
}

const introduction = `# Accuracy of the translation and of the extraction

Written by \`study.ts\` (\`npx vitest run tests/accuracy -u\`); do not edit.

The truth is the model of De Soto, Klein, Beckman (Solar Energy 80 (2006) 78-88) with the parameters of two modules of the CEC
table, without noise: its curve at the conditions of the measurement is translated to 1000 W/m2 and 25 degC and compared with
its curve there. So these are the errors of the procedures alone, apart from those of instruments, and for a module that
behaves like this model.

- Exact coefficients: alpha, beta, gamma are the derivatives of the model at STC. Rs of procedure 1 is the one whose largest
  error over 800 to 1100 W/m2 and 10 to 55 degC is the least, Pmax and Voc each counted by its limit, with Pmax within 1 % from
  450 W/m2; where no Rs keeps all, Pmax comes first. Rs' of procedure 2 makes the translated maximum follow the model with
  irradiance at 37.5 degC, the middle of 10 to 65 degC. kappa follows from gamma, B1 and B2 from the thermal voltage.
- Nameplate only: rounded as a datasheet prints them, with Rs, kappa, B1 and B2 from the five-parameter model of the nameplate.
  The truth is made with the band gap of silicon for each module, as the table is. "Another band gap" asks the nameplate
  model with that of the module's own material, as the tool does, and shows what such a disagreement costs.
- Scaling: Pmax (1000/G) / (1 + gamma (T - 25)), and the like for Isc and Voc (Voc without irradiance).
- Isc is read from the translated curve at V = 0; "Isc as a point" is the measured short-circuit point moved by itself, which is
  what the tool reports. They differ because the voltage shift of the procedures slides the sloping start of the curve along.

Limits, for exact coefficients: from 800 to 1100 W/m2 within 30 K Pmax within 0.5 %, Voc and Isc within 0.3 %; from 450 to
600 W/m2 Pmax within 1 %. For a nameplate alone: Pmax within 1 % from 800 to 1100 W/m2 within 30 K. Whatever \`auto\` chooses
keeps them, but for Isc of the CIGS and the CIS module, which have so weak a shunt that Isc is less than proportional to
irradiance; no procedure of the standard knows that. Elsewhere nothing is promised: the tables say what it is, and the
uncertainty budget grows with it.

Procedure 1 moves a curve without changing its shape. A real shunt grows weaker with irradiance, so one Rs cannot serve both
Pmax and Voc: the Rs that brings Pmax right leaves Voc too low by some tenths of a percent, and the Rs of the diode model does
the opposite. For crystalline silicon with a good shunt there is one between that keeps both limits. For thin films there is none,
so there \`auto\` takes procedure 2, which has B1 and B2 for Voc; what it leaves over comes with temperature and irradiance
together, since it takes kappa' for a temperature coefficient of Rs'. An ohmic shunt, which does not weaken with irradiance, is
what procedure 1 assumes and procedure 2 exaggerates; this study has none.`;
