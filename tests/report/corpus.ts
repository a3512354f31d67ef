/**
 * Campaigns in which the core has much to say: the examples, the demo as it grew, simulated faults, roofs with a story, electrical
 * tests, tables and texts with mistakes. All names and numbers are invented.
 */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import {
  csvOf,
  equal,
  evaluateRoof,
  filesOf,
  instruments,
  strings,
  type Given,
  type Measured,
  type Roof,
} from '../cases/roof.js';
import { evaluateText, inMemory, MemoryFiles } from '../evaluation/memoryFiles.js';
import { faultCampaign } from '../faults/faultCampaign.js';
import { truths } from '../faults/truths.js';
import { emptyCampaign, everythingFailed, example, longNames, nothingJudged } from './campaigns.js';
import { wholeNameplate } from '../nameplate.js';

const folderOf = (name: string): string => fileURLToPath(new URL(`../../${name}`, import.meta.url));

export const examples = [
  'electrical-tests',
  'harrow-fen',
  'harrow-fen-2027',
  'harrow-fen-sample',
  'mistakes',
  'through-the-day',
] as const;

/** The demo read up to each step of the search. */
async function demoAsItGrew(): Promise<Evaluation[]> {
  const folder = folderOf('examples/harrow-fen');
  const file = path.join(folder, 'campaign.sweepbook');
  const text = readFileSync(file, 'utf8');
  const steps = [
    'sweep 1.03/1-9',
    'sweep 1.03/10-18',
    'sweeps from',
    'replace 1.03/11',
    'sweep 1.03/11 at 2026-05-14 13:31',
    'sweep 1.03 at 2026-05-14 13:42',
    '# Inverter 2',
  ];
  const stages: Evaluation[] = [];
  for (const step of steps) {
    const workbook = new Workbook(new NodeFiles(folder));
    workbook.setText(file, text.slice(0, text.indexOf(step)));
    stages.push(await workbook.evaluate(file));
  }
  return stages;
}

/** Each truth alone, and beside healthy strings. */
async function simulatedFaults(): Promise<Evaluation[]> {
  const found: Evaluation[] = [];
  for (const truth of truths)
    for (const [seed, peers] of [
      [1, 0],
      [2, 4],
      [3, 0],
    ] as const) {
      const { text, tables } = faultCampaign(truth, seed, { peers });
      found.push(await evaluateText(text, tables));
    }
  return found;
}

function mistakesInText(): Promise<Evaluation>[] {
  const folder = folderOf('tests/campaign/mistakes');
  return readdirSync(folder).map((name) => evaluateText(readFileSync(path.join(folder, name), 'utf8')));
}

const lost: Given = { lostSubstrings: 1 };
const weak: Given = { level: 0.88 };
const six = (damaged: readonly number[], given: Given = lost): Given[] =>
  equal(6).map((good, index) => (damaged.includes(index + 1) ? given : good));

const at = (address: string, time: string, modules: readonly Given[], more = ''): Measured => ({
  address,
  time: `2026-05-14 ${time}`,
  modules,
  ...(more === '' ? {} : { more }),
});

/** Strings of six modules whose faults are searched for, found, contradicted and accepted. */
const stories: readonly Roof[] = [
  {
    // Two are found, one is replaced, the other is not.
    sweeps: [
      at('S1', '10:00', six([3, 5])),
      at('S1/1-3', '10:10', six([3]).slice(0, 3)),
      at('S1/3', '10:20', [lost]),
      at('S1', '11:00', six([5])),
    ],
    blocks: 'replace S1/3 at 2026-05-14 10:30\nnote S1 at 2026-05-14 10:40 "Seen from the ladder."\n',
  },
  {
    // By elimination, in sections of two and one.
    sweeps: [
      at('S1', '10:00', six([6])),
      at('S1/1-3', '10:10', equal(3)),
      at('S1/4', '10:12', equal(1)),
      at('S1/5', '10:14', equal(1)),
      at('S2', '10:20', six([1, 2, 3, 4, 5, 6], { level: 0.88 })),
    ],
  },
  {
    // Sections and modules that contradict each other.
    sweeps: [
      at('S1', '10:00', six([2])),
      ...[1, 2, 3, 4, 5, 6].map((position) => at(`S1/${position}`, `10:1${position}`, equal(1))),
      at('S2', '10:30', six([2])),
      at('S2/2', '10:31', [lost]),
      at('S2/2', '10:32', equal(1)),
      at('S3', '10:40', six([2])),
      at('S3/2', '10:41', [{ lostSubstrings: 2 }]),
      at('S3/1-3', '10:42', equal(3)),
      at('S4', '10:50', six([2])),
      at('S4', '10:55', six([2])),
      ...[1, 2, 3, 4, 5, 6].map((position) => at(`S4/${position}`, `11:0${position}`, equal(1))),
    ],
  },
  {
    // Alike weak modules, an accepted one, one that was not judged, one that failed by less than the uncertainty.
    criteria: '  Pmax -5 % ..\n  irradiance 700 W/m2 ..\n  decision guarded',
    sweeps: [
      at('S1', '10:00', equal(6, weak)),
      ...[1, 3, 6].map((position) => at(`S1/${position}`, `10:1${position}`, [weak])),
      at('S2', '10:20', six([4])),
      at('S2/4', '10:21', [lost]),
      at('S3', '10:30', equal(6, { level: 0.944 })),
      at('S4', '10:40', six([4])),
      { ...at('S4/4', '10:41', equal(1)), light: { irradiance: 350, cellTemperature: 40 } },
      at('S5', '10:50', six([1])),
      at('S5/1', '10:51', [{ level: 0.944 }]),
      at('S6', '11:10', six([1])),
      at('S6', '11:20', equal(6), '  void "Clamp was loose."'),
      at('S7/2', '11:30', [{ lostSubstrings: 2 }]),
      at('S8', '11:40', six([2])),
    ],
    blocks:
      'accept S2/4 "Known since the last visit." by "R. Fen"\naccept S6 "As agreed."\nreplace S8/2 at 2026-05-14 12:00\n',
  },
  {
    // A string whose number of modules is not known, and one with fewer than it says.
    strings: 'string S1\n  modules 6 x M\nstring S2\n  plane south\nstring S3\n  modules 12 x M',
    sweeps: [
      at('S1', '10:00', equal(4)),
      at('S1/1-3', '10:05', equal(1)),
      at('S2', '10:10', six([2])),
      at('S3', '10:20', equal(10)),
      at('S9', '10:30', equal(6)),
      at('S1/9', '10:40', equal(1)),
    ],
  },
];

/** Strings compared among themselves and with an earlier visit. */
const likeStrings: readonly Roof[] = [
  { sweeps: strings([0.992, 0.99, 0.991, 0.993, 0.9915, 0.9905, 0.965]) },
  { sweeps: strings([0.99, 0.991, 0.965]), criteria: '  Pmax -5 % ..\n  spread -2 % ..' },
  { sweeps: strings([0.94, 0.94, 0.94, 0.94, 0.94]) },
  { sweeps: strings([1.06, 1.06, 1.06, 1.06, 1.06]) },
  {
    sweeps: strings([1, 1, 1, 1, 1]).map((sweep) => ({
      ...sweep,
      modules: equal(6, { addedResistance: 0.2 }),
    })),
  },
  { sweeps: strings([1, 1, 1, 1]).map((sweep) => ({ ...sweep, modules: equal(5) })) },
  {
    // All too warm for the temperature that is given.
    sweeps: strings([1, 1, 1, 1, 1]),
    instruments: instruments.replaceAll('2026-01-12', '2024-01-12'),
  },
];

async function earlierVisits(): Promise<Evaluation[]> {
  const levels = [0.992, 0.99, 0.991, 0.993, 0.9915, 0.9905];
  const then: Roof = { name: 'then', sweeps: strings(levels) };
  const now = (factors: readonly number[], more: Partial<Roof> = {}, day = '2028-05-14'): Roof => ({
    name: 'now',
    campaign: '  compare "../then/campaign.sweepbook"',
    sweeps: strings(
      levels.map((level, index) => level * factors[index % factors.length]!),
      day,
    ),
    ...more,
  });
  const visits: readonly (readonly [Roof, Roof])[] = [
    [now([0.99]), then],
    [now([0.95]), then],
    [now([1.03]), then],
    [now([1, 1, 1, 1, 1, 0.9], { blocks: 'replace S6/2 at 2027-01-01 10:00\n' }), then],
    [now([1], {}, '2026-07-20'), then],
    [now([1], {}, '2025-07-20'), then],
    [now([1], { strings: 'string S1 .. S6\n  modules 7 x M' }), then],
    [
      now([1], { strings: 'string S1\n  modules 6 x M\n  formerly S2\nstring S2 .. S6\n  modules 6 x M' }),
      then,
    ],
    [now([1], { strings: 'string S1\n  modules 6 x M\n  formerly X9' }), then],
    [now([1], { campaign: '  compare "../gone/campaign.sweepbook"' }), then],
    [now([1], { campaign: '  compare "campaign.sweepbook"' }), then],
    [now([1]), { ...then, campaign: '  compare "../now/campaign.sweepbook"' }],
    [now([1]), { ...then, blocks: 'strin X\n' }],
  ];
  return Promise.all(
    visits.map(([today, before]) =>
      new Workbook(new MemoryFiles({ ...filesOf(before, 'then/'), ...filesOf(today, 'now/') })).evaluate(
        inMemory('now/campaign.sweepbook'),
      ),
    ),
  );
}

const plant = `site fen
  position 52.4012 N, 0.2618 E
  timezone Europe/London
plane south
  tilt 12 deg
  azimuth 174 deg
module M "Invented"
${wholeNameplate}module bare
string 1 .. 9
  modules 18 x M
string pair
  modules 18 x M
  parallel 3
string unknown
string other
  modules 18 x bare
tracer T1
  calibrated 2026-01-12
  interval 1 months
  voltage ± 0.3 %
  current ± 0.3 %
reference RC1
  technology CdTe
  calibrated 2026-12-01
  irradiance ± 1.0 %
  temperature ± 0.8 K
`;

const electricalTests = `${plant}criteria c
  continuity .. 1 ohm
  insulation 2 Mohm ..
  irradiance 700 W/m2 .. 1200 W/m2
${[
  'continuity 1|result open',
  'continuity 2|result open\n  resistance 0.2 ohm',
  'continuity 3|resistance 1.8 ohm',
  'continuity 4|resistance 0.2 ohm',
  'continuity 5|result continuous',
  'continuity 6|',
  'polarity 1|result reversed',
  'polarity 2|result correct',
  'polarity 3|',
  'insulation 1|resistance 0.3 Mohm\n  voltage 1000 V',
  'insulation 2|resistance 42 Mohm',
  'insulation 3|resistance 42 Mohm\n  voltage 500 V',
  'insulation 4|resistance 42 Mohm\n  voltage 1000 V\n  pole positive',
  'insulation 5|resistance 42 Mohm\n  voltage 1000 V\n  pole shorted',
  'insulation 6|',
  'insulation pair|resistance 0.8 Mohm\n  voltage 1000 V',
  'insulation unknown|resistance 42 Mohm',
  'insulation other|resistance 0.1 Mohm',
  'meter 1|Voc -620 V',
  'meter 2|Voc 620 V\n  Isc 11.3 A\n  irradiance 800 W/m2\n  temperature 44 degC cell',
  'meter 3|Voc 560 V\n  irradiance 800 W/m2\n  temperature 44 degC cell',
  'meter 4|Voc 630 V\n  Isc 3 A\n  irradiance 300 W/m2\n  temperature 44 degC cell',
  'meter 5|Isc 11.3 A\n  irradiance 800 W/m2\n  temperature 44 degC cell',
  'meter 6|',
  'meter 7|Voc 630 V',
  'meter unknown|Isc 9 A',
  'meter other|Isc 9 A\n  irradiance 1300 W/m2\n  temperature 44 degC cell',
]
  .map((each) => each.split('|'))
  .map(([what, lines]) => `${what!} at 2026-05-14 10:05\n  ${lines!}\n`)
  .join('')}`;

const points = csvOf(equal(18));
const rows = points.split('\n').slice(1, -1);
const sweep = (data: string, lines: string, address = '1', time = '11:00'): string =>
  `sweep ${address} at 2026-05-14 ${time}\n  irradiance 850 W/m2\n  temperature 45 degC cell\n  data "${data}"\n${lines}`;

/** A campaign of one sweep on one table. */
const withTable = (table: string, lines = '', more = ''): Promise<Evaluation> =>
  evaluateText(`${plant}criteria c\n  Pmax -5 % ..\n${more}${sweep('t.csv', lines)}`, { 't.csv': table });

const columns = (change: (voltage: string, current: string, index: number) => string): string =>
  rows.map((row, index) => change(...(row.split(',') as [string, string]), index)).join('\n');

/** Tables with which something is wrong. */
const tables = (): Promise<Evaluation>[] => [
  ...[
    '',
    'nothing here\n',
    'V (V),I (A)\n',
    'U;J\n1;2\n',
    'time,V (V)\n1,2\n3,4\n5,6\n7,8\n9,10\n11,12\n',
    'PK\u0003\u0004',
    '%PDF-1.7',
    'a\u0000b',
    'V (V),I (A)\n1,2\n',
    'V (V),I (A)\n1,2\n2,2\n3,x\n',
    `V (V),V (V),I (A)\n${columns((v, i) => `${v},${v},${i}`)}`,
    `V (V),U (V),I (A)\n${columns((v, i) => `${v},${v},${i}`)}`,
    `V (V),I (A)\n${columns((v, i) => `${v},-${i}`)}`,
    `V (V),I (A)\n${columns((v, i) => `-${v},${i}`)}`,
    `V (V),I (A)\n${columns((v, i) => `${i},${v}`)}`,
    `V (V),I (A)\n${columns((v) => `${v},0`)}`,
    `V (V),I (A)\n${columns((_v, i) => `500,${i}`)}`,
    `V (mV),I (A)\n${columns((v, i) => `${v},${i}`)}`,
    `V (V),I (A)\n${columns((v, i) => `${v}000,${i}`)}`,
    `V (V),I (A)\n${columns((v, i) => `${v},${i}000`)}`,
    `V (V),I (A)\n${columns((v, i, index) => (index > 60 ? '' : `${v},${i}`))}`,
    `V (V),I (A)\n${columns((v, i, index) => (index < 180 ? '' : `${v},${i}`))}`,
    `V (V),I (A)\n${columns((v, i, index) => (index % 9 ? `${v},${i}` : `${v},?`))}`,
    `V (V),I (A)\n${columns((v, i, index) => (index % 9 ? `${v},${i}` : `${v},${i},1,2`))}`,
    `V (V),I (A)\n${columns((v, i) => `${v},${i}`)}\n600.1`,
    `V (V),I (A)\n${columns((v, i) => `${v},${i}`)}\n${rows
      .toReversed()
      .map((row) => row.replace(/,(.*)/, (_, i: string) => `,${String(Number(i) * 0.9)}`))
      .join('\n')}`,
    columns((v, i) => `${i},${v}`),
    columns((v, i) => `${v},${i},1`),
  ].map((table) => withTable(table)),
  ...[
    '  voltage column 9\n  current "I (A)"',
    '  voltage "U (V)"\n  current "I (A)"',
    '  voltage "Volts" V\n  current "I (A)" kW',
    '  voltage "V (V)" mV\n  current "I (A)"',
    '  skip 3 lines\n  voltage "V (V)"\n  current "I (A)"',
    '  sign negative\n  voltage "V (V)"\n  current "I (A)"',
    '  voltage "I (A)"\n  current "V (V)"',
  ].map((lines) => withTable(points, '  layout L\n', `layout L\n${lines}\n`)),
  withTable(rows.join('\n'), '  layout L\n', 'layout L\n  voltage "V"\n  current "I"\n  header no\n'),
  ...[
    `address,time,V (V),I (A)\n${columns((v, i) => `1/1,2026-05-14 11:00,${v},${i}`)}`,
    `address,time,V (V),I (A)\n${columns((v, i, index) => `${index % 7 ? '1' : ''},2026-05-14 11:00,${v},${i}`)}`,
    `address,time,V (V),I (A)\n${columns((v, i) => `X9,yesterday,${v},${i}`)}`,
    `address,time,V (V),I (A)\n${columns((v, i) => `1/77,2026-03-29 01:30,${v},${i}`)}`,
    `address,time,V (V),I (A)\n${columns((v, i, index) => `1,2026-05-14 11:${10 + (index % 50)}:${10 + (index % 49)},${v},${i}`)}`,
    `address,V (V),I (A)\n${columns((v, i) => `1/0,${v},${i}`)}`,
    `V (V),I (A)\n${columns((v, i) => `${v},${i}`)}`,
  ].map((table) =>
    evaluateText(`${plant}criteria c\n  Pmax -5 % ..\nsweeps from "t.csv"\n  with T1, RC1\n`, {
      't.csv': table,
    }),
  ),
];

/** Sweeps with which something is odd, judged by criteria of many kinds. */
const oddSweeps = (): Promise<Evaluation>[] => {
  const table = {
    't.csv': points,
    'irradiance.csv': `V (V),I (A),G (W/m2)\n${columns((v, i, index) => `${v},${i},${index % 20 ? 700 : 0}`)}`,
  };
  const judged = (criteria: string, sweeps: string, change = (text: string) => text): Promise<Evaluation> =>
    evaluateText(change(`${plant}criteria c\n${criteria}\n${sweeps}`), table);
  const plain = sweep('t.csv', '  with T1, RC1\n');
  const limits = '  Pmax -5 % ..\n  Voc -3 % .. 3 %';
  return [
    judged('', plain),
    judged('  points 900\n  Pmax .. -30 %', plain),
    judged(`${limits}\n  decision guarded`, sweep('t.csv', '')),
    judged(`${limits}\n  tolerance counted`, plain),
    judged(`${limits}\n  temperature 50 degC ..\n  incidence .. 5 deg\n  drift .. 1 %`, plain),
    judged(limits, plain.replace('45 degC cell', 'from Voc')),
    judged(limits, plain.replace('45 degC cell', '42 degC module offset 3 K')),
    judged(limits, plain.replace('850 W/m2', '0.85 W/m2')),
    judged(limits, plain.replace('850 W/m2', '500 W/m2')),
    judged(limits, plain.replace('850 W/m2', '1400 W/m2')),
    judged(limits, plain.replace('45 degC cell', '75 degC cell')),
    judged(limits, plain.replace('45 degC cell', '-20 degC cell')),
    judged(limits, plain.replace('  irradiance 850 W/m2\n', '')),
    judged(limits, plain.replace('t.csv', 'irradiance.csv')),
    judged(limits, plain.replace('t.csv', 'gone.csv')),
    judged(limits, plain.replace('t.csv', '../../gone.csv')),
    judged(limits, `${plain}${sweep('t.csv', '')}`),
    judged(limits, plain.replace('11:00', '03:00')),
    judged(limits, plain.replace('11:00', '06:30')),
    judged(limits, `${plain}  pin-shadow 40 deg\n`),
    judged(limits, `${plain}  temperature-check 60 degC cell\n`),
    judged(limits, `${plain}  rear 90 W/m2\n`),
    judged(limits, plain, (text) => text.replace('substrings 3', 'substrings 3\n  bifaciality 70 %')),
    judged(limits, plain, (text) => text.replace('CdTe', 'multi-Si')),
    judged(limits, plain, (text) => text.replace('CdTe', 'mono-Si\n  alignment ± 1 deg')),
    judged(limits, plain, (text) => text.replace('  beta -0.27 %/K\n', '')),
    judged(limits, plain, (text) => text.replace('  Voc 37.2 V\n', '')),
    judged(limits, plain, (text) => text.replace('mono-Si\n  cells', 'CdTe\n  cells')),
    judged(`${limits}\n  procedure IEC60891-2`, plain),
    judged(`${limits}\n  procedure IEC60891-3`, plain),
    judged(
      `${limits}\n  procedure IEC60891-3`,
      `${plain}${sweep('t.csv', '', '1', '12:00').replace('850', '950')}`,
    ),
    judged(`${limits}\n  procedure Hishikawa-2018`, plain),
    judged(limits, sweep('t.csv', '  with T1, RC1\n', 'other')),
    judged(
      limits,
      `${plain}replace 1/3 at 2026-05-14 12:00\n  serial "A" -> "A"\nreplace 1/4 at 2026-05-14 12:00\n  serial "B" -> "C"\nreplace 1/4 at 2026-05-14 13:00\n  serial "D" -> "E"\nreplace 1/5 at 2026-05-14 14:00\n  serial "E" -> "F"\nreplace 1/6 at 2026-05-14 15:00\n  serial "G" -> "F"\n`,
    ),
  ];
};

export async function corpus(): Promise<Evaluation[]> {
  return [
    ...(await Promise.all(examples.map(example))),
    ...(await demoAsItGrew()),
    ...(await simulatedFaults()),
    ...(await Promise.all([...stories, ...likeStrings].map(evaluateRoof))),
    ...(await earlierVisits()),
    ...(await Promise.all([...mistakesInText(), ...tables(), ...oddSweeps()])),
    await evaluateText(electricalTests),
    await emptyCampaign(),
    await nothingJudged(),
    await everythingFailed(),
    await longNames(),
  ];
}
