/** Small campaigns in memory whose curves are computed from known modules. All names and numbers are invented. */
import { MemoryFiles, inMemory } from '../evaluation/memoryFiles.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { atConditions, fiveParametersFromNameplate } from '../../src/physics/nameplateModel.js';
import {
  composeString,
  moduleWithSubstrings,
  type ModuleDamage,
} from '../../src/physics/seriesComposition.js';
import { wholeNameplate } from '../nameplate.js';

export const nameplate = {
  isc: 13.9,
  voc: 37.2,
  imp: 13.09,
  vmp: 31.2,
  alpha: 0.006255,
  beta: -0.10044,
  cells: 54,
} as const;
const reference = fiveParametersFromNameplate(nameplate).reference!;

export interface Light {
  readonly irradiance: number;
  readonly cellTemperature: number;
}

/** A module: what it delivers of its photocurrent, and what is wrong with it. */
export interface Given extends ModuleDamage {
  readonly level?: number;
}

export const usualLight: Light = { irradiance: 850, cellTemperature: 45 };

/** Modules in series at some light, as the physics composes them. */
export function curveOf(modules: readonly Given[], light = usualLight, cableResistance = 0) {
  const composed = modules.map(({ level = 1, ...damage }) => {
    const model = atConditions(reference, light);
    return moduleWithSubstrings({ ...model, photocurrent: model.photocurrent * level }, 3, damage);
  });
  return composeString(composed, { points: 200, cableResistance });
}

export const largestPower = ({ voltage, current }: ReturnType<typeof curveOf>): number =>
  voltage.reduce((most, v, k) => Math.max(most, v * current[k]!), 0);

export function csvOf(modules: readonly Given[], light = usualLight): string {
  const { voltage, current } = curveOf(modules, light);
  const rows = Array.from(voltage, (v, k) => `${v.toFixed(4)},${current[k]!.toFixed(5)}`);
  return `V (V),I (A)\n${rows.join('\n')}\n`;
}

export const equal = (count: number, given: Given = {}): Given[] => Array<Given>(count).fill(given);

export interface Measured {
  readonly address: string;
  readonly time: string;
  readonly modules: readonly Given[];
  readonly light?: Light;
  /** Further lines of the block. */
  readonly more?: string;
}

export interface Roof {
  readonly name?: string;
  /** Further lines of the `campaign` block. */
  readonly campaign?: string;
  readonly strings?: string;
  readonly criteria?: string;
  readonly instruments?: string;
  readonly blocks?: string;
  readonly sweeps: readonly Measured[];
}

export const instruments = `tracer T1
  serial "T-1"
  calibrated 2026-01-12
  interval 24 months
  voltage ± 0.3 %
  current ± 0.3 %

reference RC1
  serial "RC-1"
  technology mono-Si
  calibrated 2026-01-12
  interval 24 months
  irradiance ± 1.0 %
  alignment ± 0.5 deg
  spectral ± 0.4 %
  temperature ± 0.8 K
`;

/** The files of one campaign, by their names; `folder` ends with a slash. */
export function filesOf(roof: Roof, folder = ''): Record<string, string> {
  const files: Record<string, string> = {};
  const sweeps = roof.sweeps.map(({ address, time, modules, light = usualLight, more = '' }, index) => {
    files[`${folder}${index}.csv`] = csvOf(modules, light);
    return `sweep ${address} at ${time}
  irradiance ${light.irradiance} W/m2
  temperature ${light.cellTemperature} degC cell
  data "${index}.csv"
  with T1, RC1
${more}`;
  });
  files[`${folder}campaign.sweepbook`] = `campaign ${roof.name ?? 'roof'}
${roof.campaign ?? '  purpose periodic'}

site roof
  position 52.4012 N, 0.2618 E
  timezone Europe/London

plane south
  tilt 12 deg
  azimuth 174 deg

module M
${wholeNameplate}
${roof.strings ?? 'string S1 .. S9\n  modules 6 x M'}

${roof.instruments ?? instruments}
criteria c
${roof.criteria ?? '  Pmax -5 % ..'}

${roof.blocks ?? ''}
${sweeps.join('\n')}`;
  return files;
}

export function evaluateRoof(roof: Roof): Promise<Evaluation> {
  return new Workbook(new MemoryFiles(filesOf(roof))).evaluate(inMemory('campaign.sweepbook'));
}

/** So many strings measured one after the other on a day, at these levels of photocurrent. */
export function strings(levels: readonly number[], day = '2026-05-14', modules = 6): Measured[] {
  return levels.map((level, index) => ({
    address: `S${index + 1}`,
    time: `${day} 11:${String(10 + 5 * index)}`,
    modules: equal(modules, { level }),
  }));
}
