/** Small fleets for the export: two sites, measured in two years, with known degradation. All names and numbers are invented. */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { atConditions, fiveParametersFromNameplate } from '../../src/physics/nameplateModel.js';
import { inSeriesParallel, sampleCurve } from '../../src/physics/singleDiode.js';

interface Type {
  readonly name: string;
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
}

export const types: readonly Type[] = [
  { name: 'KF108M', isc: 13.9, voc: 37.2, imp: 13.09, vmp: 31.2 },
  { name: 'KF120P', isc: 11.35, voc: 41.1, imp: 10.75, vmp: 34.4 },
];

const alpha = 0.00045;
const beta = -0.0027;

const moduleBlock = ({ name, isc, voc, imp, vmp }: Type): string => `module ${name} "Kestrel Foundry ${name}"
  technology mono-Si
  cells 54
  substrings 3
  Pmax ${(imp * vmp).toFixed(2)} W
  Isc ${isc} A
  Voc ${voc} V
  Imp ${imp} A
  Vmp ${vmp} V
  alpha 0.045 %/K
  beta -0.27 %/K
  gamma -0.35 %/K
`;

const conditions = { irradiance: 900, cellTemperature: 45 };

function csvOf({ isc, voc, imp, vmp }: Type, series: number, level: number): string {
  const { reference } = fiveParametersFromNameplate({
    isc,
    voc,
    imp,
    vmp,
    alpha: alpha * isc,
    beta: beta * voc,
    cells: 54,
    technology: 'mono-Si',
  });
  const { voltage, current } = sampleCurve(
    inSeriesParallel(atConditions(reference!, conditions), series, 1),
    60,
  );
  // A level on the current alone: every point loses that share of its power.
  const rows = Array.from(
    voltage,
    (value, index) => `${value.toFixed(4)},${(current[index]! * level).toFixed(5)}`,
  );
  return `V (V),I (A)\n${rows.join('\n')}\n`;
}

export interface FleetString {
  readonly name: string;
  readonly type: Type;
  /** Share of the expected current, in each year. */
  readonly levels: readonly number[];
}

export interface FleetSite {
  readonly site: string;
  readonly strings: readonly FleetString[];
  readonly more?: string;
}

const series = 10;

/** Files of one campaign a site and year: `<site>-<year>/campaign.sweepbook` and its tables. */
export function fleetFiles(sites: readonly FleetSite[], years: readonly number[]): Record<string, string> {
  const files: Record<string, string> = {};
  for (const { site, strings, more = '' } of sites) {
    years.forEach((year, index) => {
      const folder = `${site}-${year}`;
      const blocks = strings.map(({ name, type, levels }, at) => {
        files[`${folder}/${name}.csv`] = csvOf(type, series, levels[index]!);
        return `string ${name}
  modules ${series} x ${type.name}
sweep ${name} at ${year}-05-14 11:${String(10 + at)}
  irradiance 900 W/m2
  temperature 45 degC cell
  data "${name}.csv"
  with T1, RC1
`;
      });
      files[`${folder}/campaign.sweepbook`] = `campaign ${folder} "Fen, ${year}"
site ${site}
  position 52.4 N, 0.26 E
  timezone Europe/London
plane p
  tilt 12 deg
  azimuth 174 deg
tracer T1
  voltage ± 0.5 %
  current ± 0.5 %
reference RC1
  irradiance ± 2 %
  temperature ± 1 K
criteria c
  Pmax -5 % ..
${types.map(moduleBlock).join('')}${blocks.join('')}${more}`;
    });
  }
  return files;
}

export function writeFiles(folder: string, files: Readonly<Record<string, string>>): void {
  for (const [name, text] of Object.entries(files)) {
    const file = path.join(folder, name);
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
}
