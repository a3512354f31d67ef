import { describe, expect, it } from 'vitest';
import { faultOfAnswer } from '../../src/bringIn/answers.js';
import { missingOf, withAnswers } from '../../src/bringIn/foundTable.js';
import {
  curveInCharacters,
  columnWords,
  formWords,
  missingWords,
  pointWords,
} from '../../src/bringIn/foundWords.js';
import { mergedFacts } from '../../src/bringIn/mergedFacts.js';
import { onlyInstruments, usualInstruments } from '../../src/bringIn/namedFiles.js';
import { noFacts, type TableFacts } from '../../src/bringIn/tableFacts.js';
import { blockSnippet, gapBehind, writtenBlocks } from '../../src/bringIn/writtenBlocks.js';
import { withoutStops } from '../../src/presentation/snippetText.js';
import { curve, sweepText } from '../sweeps/fixtures.js';
import { bring, campaignText, evaluate, known, onlySweep } from './campaign.js';
import * as foreign from './foreignTables.js';

const plain = sweepText(foreign.points, { header: ['U (V)', 'I (A)'] });

describe('a table with what it says of itself', () => {
  it('semicolons, decimal comma, 14 lines above the header', async () => {
    const found = onlySweep(await bring({ 'sweeps/a.csv': foreign.fourteenLines }));
    expect(known(found)).toEqual({
      address: '1.03',
      time: '2026-05-14 11:42:10',
      irradiance: '812.5 W/m2',
      temperature: '44.1 degC cell',
    });
    expect([formWords(found.recognised), columnWords(found)].join('; ')).toBe(
      'semicolon between fields, decimal comma, 14 lines above the header; voltage "Spannung [V]", current "Strom [A]"',
    );
    expect(found.layout).toBeUndefined();
    expect(writtenBlocks([found])).toBe(`sweep 1.03 at 2026-05-14 11:42:10
  irradiance  812.5 W/m2
  temperature 44.1 degC cell
  data        "sweeps/a.csv"
`);
  });

  it('tabs, milliamperes, reversed, a row of units', async () => {
    const found = onlySweep(await bring({ 'b.txt': foreign.tabsReversed }));
    expect(known(found)).toEqual({
      address: '1.04',
      time: '2026-05-14 11:55+01:00',
      irradiance: '815.3 W/m2',
      temperature: '41.2 degC module',
    });
    expect(pointWords(found)).toMatch(/^90 points, Isc 11\.20 A, Voc 640\.\d V, Pmax 5\.\d+ kW$/);
  });

  it('irradiance, temperature, time and string in columns', async () => {
    const found = onlySweep(await bring({ 'c.csv': foreign.columnsPerPoint }));
    expect(known(found)).toEqual({
      address: '1.05',
      time: '2026-05-14 12:10',
      irradiance: '(table)',
      temperature: '(table)',
    });
    expect(writtenBlocks([found])).toBe('sweep 1.05 at 2026-05-14 12:10\n  data "c.csv"\n');
  });

  it('asks which temperature it is where the table does not say', async () => {
    const found = onlySweep(await bring({ 'd.csv': foreign.barsAndMonthName }));
    expect(known(found)).toEqual({ address: '1.06', time: '2026-05-14 12:24', irradiance: '826 W/m2' });
    expect(missingWords(found)).toBe('temperature (line 4 does not say whether cell or back of module)');
    expect(known(withAnswers(found, { temperature: 'module offset 3 K' }))['temperature']).toBe(
      '45.3 degC module offset 3 K',
    );
  });

  it('days in slashes by what other files show, else asked', async () => {
    const alone = onlySweep(await bring({ 'a.csv': foreign.slashes('05/06/2026', '1.07') }));
    expect(missingWords(alone)).toBe('time (the day in line 2 could be read in two ways)');
    const { found } = await bring({
      'a.csv': foreign.slashes('05/06/2026', '1.07'),
      'b.csv': foreign.slashes('05/14/2026', '1.08'),
    });
    expect(found.map((each) => known(each)['time'])).toEqual(['2026-05-06 13:05', '2026-05-14 13:05']);
    const torn = await bring({
      'a.csv': foreign.slashes('05/06/2026', '1.07'),
      'b.csv': foreign.slashes('05/14/2026', '1.08'),
      'c.csv': foreign.slashes('14/05/2026', '1.09'),
    });
    expect(torn.found.filter((each) => missingOf(each).includes('time'))).toHaveLength(1);
  });
});

describe('the name of a file', () => {
  const named = async (path: string) => {
    const found = onlySweep(await bring({ [path]: plain }));
    const { address, time } = known(found);
    return [
      address ?? `?${found.facts.address.suggestion ?? ''}`,
      time ?? `?${found.facts.time.suggestion ?? ''}`,
    ];
  };

  it.each([
    ['1.03.csv', '1.03', '?'],
    ['sweeps/1.03-first.csv', '1.03', '?'],
    ['INV2-S07_2026-05-14_1142.csv', 'INV2-S07', '2026-05-14 11:42'],
    ['20260514-114230 INV2-S07.csv', 'INV2-S07', '2026-05-14 11:42:30'],
    ['2026-05-14_1.03.csv', '1.03', '?2026-05-14 '],
    // Near misses and digits that could be a position are offered at most.
    ['INV2-S08.csv', '?', '?'],
    ['INV2-S07-b2.csv', '?INV2-S07', '?'],
    ['inv2-s07.csv', '?', '?'],
    ['1.03-m11.csv', '?1.03/11', '?'],
    ['1.03-section-1-9.csv', '?1.03/1-9', '?'],
    ['1.03-m19.csv', '?1.03', '?'],
    ['1.03_0007.csv', '?1.03', '?'],
    ['1.031.csv', '?', '?'],
    ['1.03_1.04.csv', '?', '?'],
    ['1.03_2026-13-40_1142.csv', '?1.03', '?'],
  ])('%s', async (path, address, time) => {
    expect(await named(path)).toEqual([address, time]);
  });

  it('asks where it and the table disagree', async () => {
    const found = onlySweep(await bring({ '1.04.csv': foreign.fourteenLines }));
    expect(missingWords(found)).toBe('address (line 8 says 1.03, the file name 1.04)');
    const closer = onlySweep(await bring({ '1.03-m11.csv': foreign.fourteenLines }));
    expect(closer.facts.address.suggestion).toBe('1.03/11');
  });
});

describe('lines above a table', () => {
  const above = async (...lines: string[]) => {
    const found = onlySweep(await bring({ 'x.csv': [...lines, plain].join('\n') }));
    return { ...known(found), missing: missingWords(found) };
  };

  it('without a unit are offered, not taken', async () => {
    expect((await above('Irradiance,812')).missing).toContain('irradiance (line 1 gives no unit)');
  });

  it('that differ are asked for', async () => {
    const { missing } = await above('Irradiance,812 W/m2', 'Irradiance,820 W/m2');
    expect(missing).toContain(
      'irradiance (the lines above the table differ (line 1: 812 W/m2; line 2: 820 W/m2))',
    );
  });

  it('of other things are passed over', async () => {
    const facts = await above(
      'Calibration date,2026-01-12 10:00',
      'Rear irradiance,90 W/m2',
      'Max irradiance,1200 W/m2',
      'Irradiance sensor,RC1',
      'Ambient temperature,19 °C',
      'Name,9.99',
      'Time zone,+01:00',
    );
    expect(facts).toEqual({ missing: 'address, time, irradiance, temperature' });
  });

  it.each([
    [['Kanal,1.03/11'], '1.03/11'],
    [['Kanal: INV2-S07'], 'INV2-S07'],
    [['INV2-S07/1-9'], 'INV2-S07/1-9'],
    [['String,1.03', 'Kanal,1.03/11'], '1.03/11'],
    [['String,1.03', 'Vorher,INV2-S07'], '1.03'],
  ])('name a string whatever their label: %s', async (lines, address) => {
    expect(await above(...lines)).toMatchObject({ address });
  });

  it.each([
    [['Version,1.03']],
    [['Kanal,1.03/19']],
    [['Kanal,INV2-S07 B']],
    [['Kanal,INV2-S07', 'Davor,INV2-S07/2']],
    [['Kanal,INV2-S07', 'Modul,11']],
  ])('do not name one for certain: %s', async (lines) => {
    expect(await above(...lines)).not.toHaveProperty('address');
  });

  it('that give a position may mean a count', async () => {
    const { missing } = await above('String,1.03', 'Module,11');
    expect(missing).toContain('address (line 2 has `Module 11`: a position, or a count?)');
  });

  it.each([
    ['Date,14-May-2026', 'Time,11:42'],
    ['Start time,2026-05-14 11:42', 'End time,2026-05-14 11:43'],
    ['Timestamp: 2026/05/14 11:42:00'],
    ['Started,2026-05-14 11:42', 'Measured by,Crew B'],
    ['Datum: 14.05.2026', 'Zeit: 11.42 Uhr'],
  ])('tell the time: %s', async (...lines) => {
    expect(((await above(...lines)) as Record<string, string>)['time']).toBe('2026-05-14 11:42');
  });
});

describe('a layout', () => {
  it('is written only where the table does not read without, and shared', async () => {
    const files = {
      '1.01.csv': foreign.unknownHeaders,
      '1.02.csv': foreign.unknownHeaders,
      '1.03.csv': plain,
    };
    const { found } = await bring(files);
    const text = writtenBlocks(
      found.map((each) => withAnswers(each, { time: '2026-05-14 11:00', irradiance: '812 W/m2' })),
    );
    expect(text.match(/^layout /gm)).toHaveLength(1);
    expect(text.match(/^ {2}layout +table$/gm)).toHaveLength(2);
    expect(text).toContain('  voltage   "x2" V\n  current   "x1" A\n');
  });

  it('says which units are taken where the table says none', async () => {
    const milli = foreign.points.map(({ v, i }) => ({ v: Math.round(v * 1000), i: Math.round(i * 1000) }));
    const files = { '1.03.csv': sweepText(milli, { header: ['Voltage', 'Current'] }) };
    const found = onlySweep(await bring(files));
    expect(columnWords(found)).toBe('voltage "Voltage" taken as mV, current "Current" taken as mA');
    const text = `${campaignText}\nlayout odd\n  voltage "Voltage" mV\n  current "Current" mA\n`;
    expect(columnWords(onlySweep(await bring(files, { text })))).toBe(
      'voltage "Voltage" in mV by layout odd, current "Current" in mA by layout odd',
    );
  });

  it('that is there and fits is taken', async () => {
    const text = `${campaignText}\nlayout odd\n  decimal comma\n  delimiter semicolon\n  voltage "x2" V\n  current "x1" A\n`;
    const found = onlySweep(await bring({ '1.01.csv': foreign.unknownHeaders }, { text }));
    expect(found.layout).toMatchObject({ name: 'odd' });
    expect(found.layout!.lines).toBeUndefined();
  });

  it('is written down when it is wanted', async () => {
    const { found } = await bring({ '1.03.csv': foreign.fourteenLines }, { writeLayout: true });
    expect(writtenBlocks(found)).toContain(
      'layout table\n  delimiter semicolon\n  decimal   comma\n  voltage   "Spannung [V]"\n  current   "Strom [A]"\n\nsweep 1.03',
    );
  });
});

describe('a table of many sweeps', () => {
  const rows = (address: string, time: string): string[] =>
    curve(30, 11.2, 640).map(({ v, i }) => `${address};${time};${v.toFixed(2)};${i.toFixed(3)};812;44.1`);
  const many = (header: string, ...parts: string[][]): string => [header, ...parts.flat(), ''].join('\n');

  it('becomes one block with its columns', async () => {
    const text = many(
      'String;Zeit;U (V);I (A);G (W/m2);T_mod (°C)',
      rows('1.01', '14.05.2026 11:42'),
      rows('1.02', '14.05.2026 11:50'),
    );
    const { found } = await bring({ 'all.csv': text });
    const written = writtenBlocks(found);
    expect(written).toBe(`sweeps from "all.csv"
  address     "String"
  time        "Zeit"
  voltage     "U (V)"
  current     "I (A)"
  irradiance  "G (W/m2)"
  temperature "T_mod (°C)" module
`);
    const { sweeps, problems } = await evaluate(`${campaignText}\n${written}`, { 'all.csv': text });
    expect(sweeps.map(({ address, time }) => [address, time])).toEqual([
      ['1.01', '2026-05-14T11:42:00+01:00'],
      ['1.02', '2026-05-14T11:50:00+01:00'],
    ]);
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('joins a day and a time in two columns by itself, and asks for one value where a column is missing', async () => {
    const text = many(
      'String;Date;Time;U (V);I (A)',
      curve(30, 11, 640).map(({ v, i }) => `1.01;2026-05-14;11:42;${v};${i}`),
      curve(30, 11, 640).map(({ v, i }) => `1.02;2026-05-14;11:50;${v};${i}`),
    );
    const [found] = (await bring({ 'all.csv': text })).found;
    expect(missingOf(found!)).toEqual(['irradiance', 'temperature']);
    const written = writtenBlocks([
      withAnswers(found!, { irradiance: '812 W/m2', temperature: '44 degC cell' }),
    ]);
    const { sweeps, problems } = await evaluate(`${campaignText}\n${written}`, { 'all.csv': text });
    expect(sweeps.map(({ time }) => time)).toEqual([
      '2026-05-14T11:42:00+01:00',
      '2026-05-14T11:50:00+01:00',
    ]);
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('is known by a column that holds nothing but addresses of the campaign', async () => {
    const one = (address: string, at: string) => rows(address, at);
    const text = many(
      'Modul;Zeit;U (V);I (A);G (W/m2);T cell (°C)',
      one('1.03/10', '2026-05-14 12:36'),
      one('1.03/11', '2026-05-14 12:38'),
    );
    const { found } = await bring({ '1.03-modules.csv': text });
    expect(writtenBlocks(found)).toContain('sweeps from "1.03-modules.csv"\n  address     "Modul"\n');
  });

  it('is not taken for one sweep where nothing tells its addresses', async () => {
    const text = many(
      'Who;Zeit;U (V);I (A);G (W/m2);T cell (°C)',
      rows('x', '2026-05-14 12:36'),
      rows('y', '2026-05-14 12:38'),
    );
    const { found, left } = await bring({ '1.03.csv': text });
    expect(found).toEqual([]);
    expect(left[0]!.reason).toContain('Its voltage begins anew 1 time');
    const upAndDown = [...foreign.points, ...[...foreign.points].reverse()];
    onlySweep(await bring({ '1.03.csv': sweepText(upAndDown, { header: ['U (V)', 'I (A)'] }) }));
  });

  it('is left out where the campaign has none of its strings, and says which are missing', async () => {
    const header = 'String;Time;U (V);I (A);G (W/m2);T_mod (°C)';
    const time = '2026-05-14 11:42';
    const none = await bring({ 'a.csv': many(header, rows('A', time), rows('B', time)) });
    expect(none.left[0]!.reason).toContain('A, B');
    const some = await bring({ 'a.csv': many(header, rows('1.01', time), rows('B', time)) });
    expect(some.found[0]!.remarks).toContain('The campaign has no B.');
  });
});

describe('what is brought in', () => {
  it('stands in the order of time, aligned, with the instruments', async () => {
    const files = {
      'b_2026-05-14_1150_1.02.csv': plain,
      'c_2026-05-14_1142_1.03.csv': plain,
      '1.01.csv': plain,
    };
    const { found } = await bring(files);
    expect(found.map(({ path }) => path[0])).toEqual(['c', 'b', '1']);
    const text = writtenBlocks(found, { with: ['T1', 'RC1'] });
    expect(text).toBe(`sweep 1.03 at 2026-05-14 11:42
  data "c_2026-05-14_1142_1.03.csv"
  with T1, RC1

sweep 1.02 at 2026-05-14 11:50
  data "b_2026-05-14_1150_1.02.csv"
  with T1, RC1
`);
  });

  it('leaves out what the campaign names, what is no sweep, and what cannot be named', async () => {
    const text = `${campaignText}\nsweep 1.01 at 2026-05-14 11:42\n  data "./1.01.csv"\n`;
    const { found, left } = await bring(
      {
        '1.01.csv': plain,
        'empty.csv': '',
        'words.csv': 'a,b\nc,d\n',
        'a\nb.csv': plain,
        'pdf.csv': '%PDF-1.7',
      },
      { text: text.replace('./', '') },
    );
    expect(found).toEqual([]);
    expect(left.map(({ path, isNamed }) => [path, isNamed])).toEqual([
      ['1.01.csv', true],
      ['a\nb.csv', false],
      ['empty.csv', false],
      ['pdf.csv', false],
      ['words.csv', false],
    ]);
  });

  it('puts a quote of a file name as the notation reads it back', async () => {
    const path = 'a "first" $1 #2/1.03.csv';
    const found = withAnswers(onlySweep(await bring({ [path]: plain })), {
      time: '2026-05-14 11:42',
      irradiance: '812 W/m2',
      temperature: '44 degC cell',
    });
    const { sweeps } = await evaluate(`${campaignText}\n${writtenBlocks([found])}`, { [path]: plain });
    expect(sweeps[0]!.reading?.curve.voltage).toHaveLength(90);
    expect(
      withoutStops(blockSnippet([found]))
        .replace('$0', '')
        .trim(),
    ).toBe(writtenBlocks([found]).trim());
  });

  it('has a tab stop for each thing that is missing', async () => {
    const { found } = await bring({ 'x.csv': plain });
    expect(blockSnippet(found)).toBe(
      'sweep ${1:address} at ${2:date time}\n  irradiance  $3 W/m2\n  temperature $4 degC ${5|cell,module|}\n  data        "x.csv"$0',
    );
    const half = await bring({ 'd.csv': foreign.barsAndMonthName });
    expect(blockSnippet(half.found)).toContain('  temperature 45.3 degC ${1|cell,module|}\n');
  });

  it('is set off from the text before it', () => {
    expect(gapBehind('')).toBe('');
    expect(gapBehind('a')).toBe('\n\n');
    expect(gapBehind('a\n')).toBe('\n');
    expect(gapBehind('a\n\n')).toBe('');
    expect(gapBehind('a\r\nb\r\n')).toBe('\r\n');
    expect(gapBehind('a\r\n  \r\n')).toBe('');
    // Blanks at the end would make the block a property of the one above.
    expect(gapBehind('a\n\n  ')).toBe('\n');
    expect(gapBehind('  \n')).toBe('');
    expect(gapBehind('  ')).toBe('\n');
  });
});

it('takes two addresses that begin alike for two strings', () => {
  const told = (text: string, source: string): TableFacts => {
    return { ...noFacts, address: { fact: { text, source } } };
  };
  for (const [one, other] of [
    ['1.1', '1.10'],
    ['1.03', '1.03/11'],
  ] as const) {
    const { facts } = mergedFacts([told(one, 'line 3'), told(other, 'the file name')]);
    expect(facts.address.fact).toBeUndefined();
    expect(facts.address.doubt).toBe(`line 3 says ${one}, the file name ${other}`);
  }
});

it('takes the kind of a temperature only where a value lacks it', async () => {
  const found = onlySweep(await bring({ 'a.csv': plain }));
  expect(withAnswers(found, { temperature: 'cell' }).facts.temperature.fact).toBeUndefined();
  expect(withAnswers(found, { temperature: '44 degC cell' }).facts.temperature.fact?.text).toBe(
    '44 degC cell',
  );
});

it('holds answers against the notation', async () => {
  const { campaign } = await evaluate(campaignText);
  const fault = (
    asked: Parameters<typeof faultOfAnswer>[0],
    text: string,
    kind: 'sweep' | 'sweeps' = 'sweep',
  ) => faultOfAnswer(asked, text, kind, campaign);
  expect(fault('irradiance', '812 W/m2 ± 2 %')).toBeUndefined();
  expect(fault('irradiance', '812')).toMatch(/unit/);
  expect(fault('irradiance', '812 W/m2\n  note "x"')).toMatch(/One line/);
  expect(fault('irradiance', '"G"', 'sweeps')).toBeUndefined();
  expect(fault('temperature', '44.1 degC')).toMatch(/cell/);
  expect(fault('temperature', 'from Voc')).toBeUndefined();
  expect(fault('time', '2026-05-14 11:42')).toBeUndefined();
  expect(fault('time', '14.05.2026')).toBeDefined();
  expect(fault('time', '2026-05-14 11:42 x')).toBeDefined();
  expect(fault('address', '1.03/11')).toBeUndefined();
  expect(fault('address', '1.03/19')).toBe('String 1.03 has fewer modules.');
  expect(fault('address', '9.99')).toBe('The campaign has no string 9.99.');
});

it('draws a curve in a few characters', () => {
  const voltage = Float64Array.from(foreign.points, ({ v }) => v);
  const current = Float64Array.from(foreign.points, ({ i }) => i);
  expect(curveInCharacters({ voltage, current })).toBe('█████████████▇▆▁');
  expect(curveInCharacters({ voltage: new Float64Array(3), current: new Float64Array(3) })).toBe('');
});

it('knows the instruments that every sweep has named so far', async () => {
  const sweep = (names: string) => `\nsweep 1.01 at 2026-05-14 11:42\n  data "a.csv"\n  with ${names}\n`;
  expect(usualInstruments((await evaluate(campaignText)).campaign)).toEqual(['T1', 'RC1']);
  expect(usualInstruments((await evaluate(`${campaignText}\ntracer T2\n`)).campaign)).toEqual([]);
  expect(usualInstruments((await evaluate(campaignText + sweep('T1, RC1'))).campaign)).toEqual(['T1', 'RC1']);
  expect(usualInstruments((await evaluate(campaignText + sweep('T1') + sweep('RC1'))).campaign)).toEqual([]);
  const another = `${campaignText}\ntracer T2\n  voltage ± 0.5 %\n${sweep('T1, RC1')}`;
  expect(onlyInstruments((await evaluate(campaignText + sweep('T1, RC1'))).campaign)).toEqual(['T1', 'RC1']);
  expect(onlyInstruments((await evaluate(another)).campaign)).toEqual([]);
});
