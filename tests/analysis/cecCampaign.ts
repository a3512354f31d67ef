/**
 * Campaigns whose truth is known: curves of modules of the CEC table (see tests/physics/data/README.md), carried to other
 * conditions by the equations of De Soto, Klein, Beckman, Solar Energy 80 (2006) 78-88 as tests/physics/deSotoModule.ts
 * writes them out, apart from the project's own model. The nameplate is the table's.
 */
import { inSeriesParallel, sampleCurve, type SingleDiode } from '../../src/physics/singleDiode.js';
import type { Conditions, IvCurve } from '../../src/physics/ivCurve.js';
import { readTable } from '../physics/checkData.js';
import { atConditions } from '../physics/deSotoModule.js';
import { perfectNameplate } from '../physics/perfectNameplate.js';

const table = readTable('cec-modules-2017-06-05.csv');

export const technologies: Readonly<Record<string, string>> = {
  'row 1': 'mono-Si',
  'row 2': 'mono-Si',
  'row 3': 'multi-Si',
  'row 4': 'multi-Si',
  'row 5': 'CdTe',
  'row 6': 'CdTe',
  'row 7': 'CIGS',
  'row 8': 'CIS',
  'row 9': 'HJT',
};

export const crystalline: readonly string[] = ['row 1', 'row 2', 'row 3', 'row 4', 'row 9'];
export const thinFilm: readonly string[] = ['row 5', 'row 6', 'row 7', 'row 8'];

/** Isc, Voc, Imp, Vmp as the table lists them; the table's own parameters reproduce them within 0.03 %. */
export function listed(name: string) {
  const row = table.find((each) => each['Name'] === name)!;
  const [isc, voc, imp, vmp] = ['I_sc_ref', 'V_oc_ref', 'I_mp_ref', 'V_mp_ref'].map((key) =>
    Number(row[key]),
  );
  return { isc: isc!, voc: voc!, imp: imp!, vmp: vmp!, cells: Number(row['N_s']) };
}

export interface ModuleOptions {
  readonly without?: readonly string[];
  readonly lines?: readonly string[];
  readonly type?: string;
}

/** The module block: the table's nameplate, with the temperature coefficients of the curves themselves. */
export function moduleBlock(
  name: string,
  { without = [], lines = [], type = 'M' }: ModuleOptions = {},
): string {
  const { isc, voc, imp, vmp, cells } = listed(name);
  const { alpha, beta, gamma } = perfectNameplate(name).known;
  const properties: Record<string, string> = {
    technology: technologies[name]!,
    cells: `${cells}`,
    Pmax: `${(imp * vmp).toFixed(4)} W`,
    Isc: `${isc} A`,
    Voc: `${voc} V`,
    Imp: `${imp} A`,
    Vmp: `${vmp} V`,
    alpha: `${(alpha * 1000).toFixed(6)} mA/K`,
    beta: `${(beta * 1000).toFixed(6)} mV/K`,
    gamma: `${gamma.toFixed(6)} W/K`,
  };
  const written = Object.entries(properties).filter(([key]) => !without.includes(key));
  return [
    `module ${type}`,
    ...written.map(([key, value]) => `  ${key} ${value}`),
    ...lines.map((l) => `  ${l}`),
  ].join('\n');
}

export interface Device {
  readonly series?: number;
  readonly parallel?: number;
  readonly points?: number;
  /** Acts on the exact curve of one module before modules are connected. */
  readonly change?: (model: SingleDiode) => SingleDiode;
}

export function curveAt(name: string, conditions: Conditions, device: Device = {}): IvCurve {
  const { series = 1, parallel = 1, points = 150, change = (model) => model } = device;
  const model = change(atConditions(perfectNameplate(name).module, conditions));
  return sampleCurve(inSeriesParallel(model, series, parallel), points);
}

/** Nine digits: the table adds nothing of its own to the error. */
export function csvOf({ voltage, current }: IvCurve): string {
  const rows = Array.from(voltage, (v, k) => `${v.toPrecision(9)},${current[k]!.toPrecision(9)}`);
  return ['Voltage (V),Current (A)', ...rows, ''].join('\n');
}

export const instruments = `tracer T
  voltage ± 0.5 %
  current ± 0.5 %

reference R
  irradiance ± 2 %
  alignment ± 0 deg
  spectral ± 0 %
  temperature ± 1 K
`;

export const wideCriteria = `criteria c
  Pmax -5 % .. 5 %
`;

export function sweepBlock(
  address: string,
  { irradiance, cellTemperature }: Conditions,
  more: string[] = [],
) {
  return [
    `sweep ${address} at 2026-05-14 11:42`,
    `  irradiance ${irradiance} W/m2`,
    `  temperature ${cellTemperature} degC cell`,
    '  data "s.csv"',
    ...more.map((line) => `  ${line}`),
  ].join('\n');
}
