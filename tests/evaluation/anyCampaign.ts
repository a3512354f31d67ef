/** Invented campaigns of a few strings, with sound, faulty, repeated, void and unreadable sweeps in every form of the notation. */
import fc from 'fast-check';
import type { IvCurve } from '../../src/physics/ivCurve.js';
import { csvOf, curveAt, instruments, moduleBlock } from '../analysis/cecCampaign.js';
import { disturbed } from '../physics/noise.js';

const name = 'row 4';
const modules = 6;
const strings = ['A', 'B', 'C', 'D', 'E'] as const;

const anySweep = fc.record({
  string: fc.constantFrom(...strings),
  part: fc.constantFrom('', '', '', '/2', '/1-4', '/9'),
  irradiance: fc.integer({ min: 350, max: 1100 }),
  cellTemperature: fc.integer({ min: 10, max: 65 }),
  temperature: fc.constantFrom('cell', 'cell', 'module', 'from Voc', 'none'),
  form: fc.constantFrom(
    'own table',
    'own table',
    'own table',
    'same table',
    'points',
    'row',
    'broken',
    'absent',
  ),
  fault: fc.constantFrom('none', 'none', 'none', 'soiled', 'substring out', 'short of Voc', 'shaded'),
  seed: fc.integer({ min: 1, max: 1000 }),
  isVoid: fc.integer({ min: 0, max: 9 }).map((chance) => chance === 0),
});
type AnySweep = typeof anySweep extends fc.Arbitrary<infer T> ? T : never;

/** Text and tables by name. */
export const anyCampaign: fc.Arbitrary<Record<string, string>> = fc
  .record({
    sweeps: fc.array(anySweep, { minLength: 2, maxLength: 14 }),
    procedure: fc.constantFrom('auto', 'IEC60891-1', 'IEC60891-2', 'IEC60891-3', 'VT'),
    replaced: fc.boolean(),
    layout: fc.boolean(),
  })
  .map(filesOf);

function filesOf(given: {
  sweeps: readonly AnySweep[];
  procedure: string;
  replaced: boolean;
  layout: boolean;
}): Record<string, string> {
  const files: Record<string, string> = {};
  const rows: string[] = [];
  const blocks = given.sweeps.flatMap((sweep, index): string[] => {
    const curve = curveOf(sweep);
    const time = `2026-05-14 1${index % 8}:${String(10 + index)}`;
    const address = sweep.string + sweep.part;
    if (sweep.form === 'row') {
      const conditions = `${sweep.irradiance},${sweep.cellTemperature}`;
      curve.voltage.forEach((voltage, k) =>
        rows.push(`${address},${time},${conditions},${voltage.toFixed(3)},${curve.current[k]!.toFixed(4)}`),
      );
      return [];
    }
    const table = sweep.form === 'same table' ? 'same.csv' : `${index}.csv`;
    if (sweep.form === 'broken') files[table] = 'no points here\n';
    else if (sweep.form === 'same table') files[table] ??= csvOf(curve);
    else if (sweep.form === 'own table') files[table] = csvOf(curve);
    return [
      [
        `sweep ${address} at ${time}`,
        `  irradiance ${sweep.irradiance} W/m2`,
        ...temperatureOf(sweep),
        ...(sweep.form === 'points' ? pointsOf(curve) : [`  data "${table}"`]),
        ...(given.layout && sweep.form === 'own table' ? ['  layout L'] : []),
        '  with T, R',
        ...(sweep.isVoid ? ['  void "a cloud"'] : []),
      ].join('\n'),
    ];
  });
  if (rows.length > 0) {
    files['many.csv'] = `Module,Time,G (W/m2),Tc (degC),U (V),I (A)\n${rows.join('\n')}\n`;
    blocks.push(
      'sweeps from "many.csv"\n  address "Module"\n  time "Time"\n  irradiance "G (W/m2)"\n  temperature "Tc (degC)"\n' +
        '  voltage "U (V)"\n  current "I (A)"',
    );
  }
  files['campaign.sweepbook'] = [
    'site s\n  position 52.4 N, 0.26 E\n  timezone Europe/London',
    'plane p\n  tilt 12 deg\n  azimuth 174 deg',
    moduleBlock(name),
    moduleBlock('row 3', { type: 'N' }),
    ...strings.map((string) => `string ${string}\n  modules ${modules} x M`),
    instruments,
    'layout L\n  voltage "Voltage (V)"\n  current "Current (A)"',
    `criteria c\n  procedure ${given.procedure}\n  Pmax -5 % ..\n  irradiance 400 W/m2 ..`,
    ...(given.replaced ? ['replace A/2 at 2026-05-14 13:00\n  reason "cracked"'] : []),
    ...blocks,
    '',
  ].join('\n\n');
  return files;
}

function curveOf({ part, irradiance, cellTemperature, fault, seed }: AnySweep): IvCurve {
  const series = part === '/2' ? 1 : part === '/1-4' ? 4 : modules;
  const at = { irradiance: fault === 'soiled' ? 0.85 * irradiance : irradiance, cellTemperature };
  const curve = curveAt(name, at, { series, points: 48 });
  const noisy = disturbed(curve, 0.0015 * curve.current[0]!, 0, seed);
  const last = curve.voltage.at(-1)!;
  switch (fault) {
    case 'substring out':
      return { ...noisy, voltage: noisy.voltage.map((voltage) => voltage * (1 - 1 / (3 * series))) };
    case 'short of Voc':
      return { voltage: noisy.voltage.slice(0, 40), current: noisy.current.slice(0, 40) };
    case 'shaded':
      return {
        ...noisy,
        current: noisy.current.map((current, k) =>
          curve.voltage[k]! > 0.6 * last ? Math.min(current, 0.6 * curve.current[0]!) : current,
        ),
      };
    default:
      return noisy;
  }
}

function temperatureOf({ temperature, cellTemperature }: AnySweep): string[] {
  if (temperature === 'none') return [];
  if (temperature === 'from Voc') return ['  temperature from Voc'];
  return [`  temperature ${cellTemperature} degC ${temperature}`];
}

const pointsOf = ({ voltage, current }: IvCurve): string[] => [
  '  points V, A',
  ...Array.from(voltage, (value, k) => `    ${value.toFixed(3)} ${current[k]!.toFixed(4)}`),
];
