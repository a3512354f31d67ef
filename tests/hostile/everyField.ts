/**
 * A campaign with something written in each place that takes a text of the user's own choice: titles, notes, reasons, serial
 * numbers, headers of tables and names of files. All names and numbers are invented.
 */
import papaparse from 'papaparse/papaparse.js';
import { blockKeywords, noteProperty } from '../../src/campaign/keywords.js';
import type { HeaderForm } from '../../src/campaign/keywords.js';
import type { FormKind } from '../../src/campaign/valueForms.js';
import { curveAt, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';

const withText: readonly FormKind[] = [
  'text',
  'label',
  'path',
  'column',
  'columnOrQuantity',
  'columnOrTemperature',
  'textChange',
];
const headersWithText: readonly HeaderForm[] = ['name', 'run', 'fromFile', 'note', 'accept', 'path'];

/** `block.property` for each place of the notation that takes a text, by the keyword table; `block` alone is the header. */
export const fieldsOfNotation: readonly string[] = blockKeywords.flatMap((block) => [
  ...(headersWithText.includes(block.header) ? [block.name] : []),
  ...(block.takesNotes ? [`${block.name}.${noteProperty.name}`] : []),
  ...block.properties
    .filter(({ form }) => withText.includes(form.kind))
    .map(({ name }) => `${block.name}.${name}`),
]);

export interface HostileCampaign {
  readonly files: Readonly<Record<string, string>>;
  /** The campaign file. */
  readonly root: string;
  /** Which places of the notation were written to. */
  readonly fields: ReadonlySet<string>;
}

/** No name of a file holds a slash, and none is longer than 255 bytes. */
const asFileName = (text: string): string => text.replaceAll(/[/\\]/g, '|').slice(0, 60);

export function everyField(text: string): HostileCampaign {
  const fields = new Set<string>();
  const quoted = (content: string): string => `"${content.replaceAll('"', '""')}"`;
  const put = (field: string, content = text): string => {
    fields.add(field);
    return quoted(content);
  };
  const note = (block: string): string => `  note ${put(`${block}.note`)}\n`;
  const name = asFileName(text);
  const library = `${name}-library.sweepbook`;
  const [first, second, many] = [`${name}.csv`, `${name}-after.csv`, `${name}-many.csv`];
  const header = (of: string): string => `${text} ${of}`;
  const readings = '  irradiance 850 W/m2\n  temperature 48 degC cell\n';
  const root = `${name}.sweepbook`;
  // A text holds few control characters, or it is taken for something else.
  const campaign = `${'# Everything here is invented.\n'.repeat(400)}include ${put('include', library)}
campaign c ${put('campaign')}
  client ${put('campaign.client')}
  operator ${put('campaign.operator')}
  compare ${put('campaign.compare', `${name}-gone.sweepbook`)}
${note('campaign')}
site s ${put('site')}
  position 52.4 N, 0.26 E
  timezone Europe/London
${note('site')}
plane p ${put('plane')}
  tilt 12 deg
  azimuth 174 deg
${note('plane')}
string S1 .. S4 ${put('string')}
  modules 2 x M
  plane p
  feeds ${put('string.feeds')}
${note('string')}
tracer T ${put('tracer')}
  serial ${put('tracer.serial')}
  calibrated 2024-01-12
${note('tracer')}
reference R ${put('reference')}
  serial ${put('reference.serial')}
  irradiance ± 2 %
${note('reference')}
layout L ${put('layout')}
  voltage ${put('layout.voltage', header('V'))} V
  current ${put('layout.current', header('I'))} A
  irradiance ${put('layout.irradiance', header('G'))} W/m2
  temperature ${put('layout.temperature', header('t'))} degC
${note('layout')}
${wideCriteria.replace('criteria c', `criteria c ${put('criteria')}`)}${note('criteria')}
sweep S1 at 2026-05-14 11:42
  temperature 48 degC cell
  data ${put('sweep.data', first)}
  layout L
  with T, R
  remark ${put('sweep.remark')}
${note('sweep')}
sweep S1/1 at 2026-05-14 11:50
${readings}  data ${put('sweep.data', first)}
  layout L
sweep S2 at 2026-05-14 11:55
${readings}  data ${put('sweep.data', second)}
  void ${put('sweep.void')}
sweep S2 at 2026-05-14 11:57
${readings}  data ${put('sweep.data', first)}
  layout L
sweep S2 at 2026-05-14 12:10
${readings}  data ${put('sweep.data', `${name}-none.csv`)}
sweeps from ${put('sweeps', many)}
  voltage ${put('sweeps.voltage', header('V'))} V
  current ${put('sweeps.current', header('I'))} A
  address ${put('sweeps.address', header('address'))}
  time ${put('sweeps.time', header('time'))}
  irradiance ${put('sweeps.irradiance', header('G'))} W/m2
  temperature ${put('sweeps.temperature', header('t'))} degC cell
${note('sweeps')}
replace S1/1 at 2026-05-14 13:10
  serial ${put('replace.serial')} -> ${put('replace.serial')}
  reason ${put('replace.reason')}
${note('replace')}
insulation S1 at 2026-05-14 10:00
  resistance 0.1 Mohm
  voltage 1000 V
${note('insulation')}
continuity S1 at 2026-05-14 10:05
  resistance 0.2 ohm
${note('continuity')}
polarity S1 at 2026-05-14 10:06
  result reversed
${note('polarity')}
meter S1 at 2026-05-14 10:10
  Voc 10 V
${note('meter')}
note S1 at 2026-05-14 14:00 ${put('note', `${text} and photo.jpg`)}
accept S2 at 2026-05-14 15:00 ${put('accept')} by ${put('accept')}
${note('accept')}`;
  const weak = curveAt('row 4', { irradiance: 700, cellTemperature: 48 }, { series: 2, points: 40 });
  const rows = Array.from(weak.voltage, (v, k) => [
    v.toPrecision(7),
    weak.current[k]!.toPrecision(7),
    '850',
    '48',
  ]);
  const table = (heads: readonly string[], data: readonly (readonly string[])[]): string =>
    papaparse.unparse({ fields: [...heads], data: data.map((row) => [...row]) }, { newline: '\n' });
  const columns = ['V', 'I', 'G', 't'].map(header);
  return {
    root,
    fields,
    files: {
      [root]: campaign,
      [library]: `${moduleBlock('row 4').replace('module M', `module M ${put('module')}`)}\n${note('module')}`,
      [first]: table(columns, rows),
      [second]: table(
        ['Voltage (V)', 'Current (A)', text],
        rows.map((row) => [...row.slice(0, 2), text]),
      ),
      [many]: table(
        [...columns, header('address'), header('time')],
        ['S3', 'S4'].flatMap((address, at) => rows.map((row) => [...row, address, `2026-05-14 12:0${at}`])),
      ),
    },
  };
}
