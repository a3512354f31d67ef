/** Generated campaigns for measuring: any number of strings, every sweep with a CSV file of its own. */
import type { FileContent, FileReader } from '../../src/evaluation/ports.js';
import type { Conditions } from '../../src/physics/ivCurve.js';
import { atConditions, fiveParametersFromNameplate } from '../../src/physics/nameplateModel.js';
import { inSeriesParallel, sampleCurve } from '../../src/physics/singleDiode.js';
import { Noise } from '../../examples/noise.js';

const head = `campaign generated "Generated for measuring"
site s
  position 52.4 N, 0.26 E
  timezone Europe/London
plane p
  tilt    12 deg
  azimuth 174 deg
module M
  technology mono-Si
  cells      54
  substrings 3
  Pmax   408.4 W
  Isc    13.90 A
  Voc    37.20 V
  Imp    13.09 A
  Vmp    31.20 V
  alpha  0.045 %/K
  beta   -0.27 %/K
  gamma  -0.35 %/K
tracer T
  voltage ± 0.4 %
  current ± 0.4 %
reference R
  irradiance  ± 1.5 %
  temperature ± 1 K
criteria c
  procedure  IEC60891-1
  Pmax       -5 % ..
  Isc        -5 % .. 5 %
  irradiance 700 W/m2 ..
  decision   guarded
`;

export interface Generated {
  readonly text: string;
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly csvBytes: number;
  /** Of each sweep, as the text gives them. */
  readonly conditions: readonly Conditions[];
}

/** The diode of the module; what an expected curve starts from. */
export const solvedNameplate = () =>
  fiveParametersFromNameplate({
    isc: 13.9,
    voc: 37.2,
    imp: 13.09,
    vmp: 31.2,
    alpha: 0.00045 * 13.9,
    beta: -0.0027 * 37.2,
    cells: 54,
    technology: 'mono-Si',
  }).reference!;

export const modulesOfString = 18;

/** @param sweeps of each string, one a day */
export function generateCampaign(strings: number, points = 128, sweeps = 1): Generated {
  const device = solvedNameplate();
  const conditions: Conditions[] = [];
  const files = new Map<string, Uint8Array>();
  const encoder = new TextEncoder();
  const blocks: string[] = [];
  let csvBytes = 0;
  for (let index = 0; index < strings; index++) {
    const name = `S${String(index + 1).padStart(5, '0')}`;
    const noise = new Noise(name);
    blocks.push(`string ${name}\n  modules ${modulesOfString} x M\n  plane p\n`);
    for (let day = 0; day < sweeps; day++) {
      const irradiance = Math.round(860 + 60 * noise.normal());
      const cellTemperature = 45 + 3 * noise.normal();
      conditions.push({ irradiance, cellTemperature });
      const model = atConditions(device, { irradiance, cellTemperature });
      const curve = sampleCurve(inSeriesParallel(model, modulesOfString, 1), points);
      const rows = Array.from(curve.voltage, (voltage, at) => {
        const current = curve.current[at]! + 0.008 * noise.normal();
        return `${voltage.toFixed(2)},${current.toFixed(3)}`;
      });
      const bytes = encoder.encode(`Voltage (V),Current (A)\n${rows.join('\n')}\n`);
      csvBytes += bytes.length;
      const file = day === 0 ? `${name}.csv` : `${name}-${day + 1}.csv`;
      files.set(file, bytes);
      const minute = String(index % 60).padStart(2, '0');
      const hour = String(9 + (Math.floor(index / 60) % 8)).padStart(2, '0');
      blocks.push(
        `sweep ${name} at 2026-05-${14 + day} ${hour}:${minute}\n  irradiance ${irradiance} W/m2\n` +
          `  temperature ${cellTemperature.toFixed(1)} degC cell\n  data "${file}"\n  with T, R\n`,
      );
    }
  }
  return { text: head + blocks.join(''), files, csvBytes, conditions };
}

/** Files in memory; the campaign itself is `campaign.sweepbook`. */
export function memoryReader(generated: Pick<Generated, 'text' | 'files'>): FileReader {
  const campaign = new TextEncoder().encode(generated.text);
  return {
    read: (file): Promise<FileContent> => {
      const bytes = file === 'campaign.sweepbook' ? campaign : generated.files.get(file);
      return Promise.resolve(bytes ? { ok: true, bytes } : { ok: false, reason: 'missing' });
    },
    resolve: (_from, relative) => relative,
    displayName: (file) => file,
  };
}
