import { describe, expect, it } from 'vitest';
import { readSweepTable } from '../../src/sweeps/readSweepTable.js';
import type { ReadingResult } from '../../src/sweeps/sweepReading.js';
import {
  curve,
  latin1,
  layout,
  standardHeader,
  sweepText,
  utf16,
  utf8,
  type Point,
  type Style,
} from './fixtures.js';

const points = curve();

function read(text: string, record?: Parameters<typeof readSweepTable>[1]): ReadingResult {
  return readSweepTable(utf8(text), record);
}

function readStyled(style: Style, of: readonly Point[] = points): ReadingResult {
  return read(sweepText(of, style));
}

function expectPoints(
  result: ReadingResult,
  of: readonly Point[] = points,
  ids: readonly string[] = [],
): void {
  expect(result.problems.map((problem) => problem.id)).toEqual(ids);
  const { voltage, current } = result.reading!.curve;
  expect(voltage.length).toBe(of.length);
  of.forEach(({ v, i }, at) => {
    expect(Math.abs(voltage[at]! - v)).toBeLessThan(6e-4);
    expect(Math.abs(current[at]! - i)).toBeLessThan(6e-4);
  });
}

describe('layouts that are recognised', () => {
  const metadata = Array.from({ length: 14 }, (_, at) => [
    `Item ${at}`,
    at % 3 === 0 ? 'words' : `${at * 7}`,
  ]);
  const styles: Record<string, Style> = {
    'comma, header with units': { header: standardHeader },
    'semicolon and decimal comma': { delimiter: ';', decimal: ',', header: ['U/V', 'I/A'] },
    tab: { delimiter: '\t', header: ['U [V]', 'I [A]'] },
    bar: { delimiter: '|', header: ['V', 'I'] },
    'comma with quoted decimal commas': { decimal: ',', header: ['V', 'I'], quoted: true },
    'no header': {},
    'no header, decimal comma': { delimiter: ';', decimal: ',' },
    CRLF: { eol: '\r\n', header: ['V', 'I'] },
    CR: { eol: '\r', header: ['V', 'I'] },
    'no last line end': { header: ['V', 'I'], finalEol: false },
    'fourteen lines of metadata': { delimiter: ';', header: ['Voltage', 'Current'], metadata },
    'metadata with two numbers in a row': {
      delimiter: ';',
      header: ['Voltage', 'Current'],
      metadata: [
        ['Range', '1000', '20'],
        ['Points', '40', '1'],
        ['Voltage range', '1000 V', 'Current range', '20 A'],
      ],
    },
    'row of units': { header: ['Voltage', 'Current'], units: ['V', 'A'] },
    'row of units in brackets': { header: ['Voltage', 'Current'], units: ['[mV]', '[A]'], scale: [1e-3, 1] },
    'units alone as header': { header: ['V', 'A'] },
    'millivolts and milliamperes': { header: ['Voltage (mV)', 'I_mA'], scale: [1e-3, 1e-3] },
    kilovolts: { header: ['V (kV)', 'I'], scale: [1e3, 1], decimals: [6, 4] },
    German: { delimiter: ';', decimal: ',', header: ['Spannung in V', 'Strom in A'] },
    'German compounds': { delimiter: ';', header: ['Modulspannung [V]', 'Modulstrom [A]'] },
    Spanish: { header: ['Tensión (V)', 'Corriente (A)'] },
    French: { delimiter: ';', header: ['Tension (V)', 'Intensité (A)'] },
    Italian: { delimiter: ';', header: ['Tensione [V]', 'Corrente [A]'] },
    'unit by suffix': { header: ['U_V', 'I_A'] },
    'unit after comma': { delimiter: ';', header: ['Voltage, V', 'Current, A'] },
    'unknown names with units': { header: ['Channel one [V]', 'Channel two [A]'] },
    'from open to short circuit': { header: ['V', 'I'], reversed: true },
  };
  for (const [name, style] of Object.entries(styles)) {
    it(name, () => expectPoints(readStyled(style)));
  }

  it('encodings', () => {
    const text = sweepText(points, {
      header: ['Spannung [V]', 'Strom [A]'],
      metadata: [['Temperatur', '45 °C', 'W/m²']],
    });
    expectPoints(readSweepTable(latin1(text)));
    expectPoints(readSweepTable(utf8(`\uFEFF${text}`)));
    expectPoints(readSweepTable(utf16(text, true)));
    expectPoints(readSweepTable(utf16(text, false)));
  });

  it('spaces between fields', () => {
    const rows = points.map(({ v, i }) => `  ${v.toFixed(3)}    ${i.toFixed(4)} `);
    expectPoints(read(['V I', ...rows].join('\n')));
    expectPoints(read(rows.map((row) => row.replaceAll('.', ',')).join('\n')));
  });

  it('exponents, plus signs, the minus of typographers, and thousands that are plain', () => {
    const text = `V;I\n${points.map(({ v, i }) => `+${(v * 100).toExponential(8)};${i.toFixed(5)}`).join('\n')}\n`;
    expect(read(text).reading!.curve.voltage[39]).toBeCloseTo(3720, 4);
    const rows = points.map(
      ({ v, i }, at) =>
        `${at === 39 ? "1'040,5" : (v * 20).toFixed(1).replace('.', ',')};${i.toFixed(2).replace('.', ',')}`,
    );
    expect(read(`V;I\n−1,5;9,10\n${rows.join('\n')}\n`).reading!.curve.voltage.at(-1)).toBe(1040.5);
    expect(read(`V;I\n−1,5;9,10\n${rows.join('\n')}\n`).reading!.curve.voltage[0]).toBe(-1.5);
  });

  it('negative current of a generator is turned and flagged', () => {
    const result = readStyled({ header: ['V', 'I'], negative: true });
    expectPoints(result, points, ['sweep/sign-turned']);
    expect(result.reading!.signTurned).toBe(true);
    expect(result.reading!.direction).toBe('isc-to-voc');
    expect(readStyled({ header: ['V', 'I'], reversed: true }).reading!.direction).toBe('voc-to-isc');
  });

  it('irradiance and temperature of each point follow the order of the curve', () => {
    const rows = points.map(
      ({ v, i }, at) => `${at};x;${v.toFixed(3)};${i.toFixed(4)};${(0.8 + at / 1000).toFixed(4)};${300 + at}`,
    );
    const text = `No;Remark;V;I;G (kW/m²);T_mod (K)\n${rows.reverse().join('\n')}\n`;
    const result = read(text);
    expectPoints(result);
    expect(result.reading!.irradiance![3]).toBeCloseTo(803, 6);
    expect(result.reading!.temperature![3]).toBeCloseTo(303 - 273.15, 6);
    expect(result.reading!.lines[39]).toBe(2);
  });

  it('a sweep without header and with exchanged columns is put right, and says so', () => {
    expectPoints(
      readStyled(
        {},
        points.map(({ v, i }) => ({ v: i, i: v })),
      ),
      points,
      ['sweep/columns-exchanged'],
    );
  });

  it('lines are counted as an editor counts, with blank lines and quoted line ends', () => {
    const rows = points.map(({ v, i }) => `"${v.toFixed(3)}",${i.toFixed(4)},"two\nlines"`);
    const { reading } = read(`Site,"a\nb"\n\nV,I,Note\n${rows.join('\n')}\n`);
    expect([...reading!.lines].slice(0, 3)).toEqual([5, 7, 9]);
  });

  // RFC 4180, section 2, rules 5 to 7: quoted fields, line ends and delimiters within them, doubled quotes.
  it('quoted fields after RFC 4180', () => {
    const rows = points.map(
      ({ v, i }) => `"a ""quoted"" word, and\r\na line",${v.toFixed(3)},"${i.toFixed(4)}"`,
    );
    const result = read(`Note,Voltage (V),"Current, A"\r\n${rows.join('\r\n')}\r\n`);
    expectPoints(result);
    expect(result.reading!.lines[10]).toBe(22);
  });

  it('notes repeated voltages and the widest step', () => {
    const { reading } = readStyled({ header: ['V', 'I'] }, [
      ...points.slice(0, 10),
      points[9]!,
      ...points.slice(20),
    ]);
    expect(reading!.repeatedVoltages).toBe(1);
    expect(reading!.largestStep).toBeCloseTo(11 / 39, 3);
  });
});

describe('what a layout says is followed', () => {
  const text = sweepText(points, { delimiter: ';', decimal: ',', header: ['a', 'b'] });

  it('columns by header, by number, with a unit', () => {
    expectPoints(read(text, layout({ voltage: 'a', current: 'b' })));
    expectPoints(read(text, layout({ voltage: 1, current: 2 })));
    expectPoints(read(text, layout({ voltage: 'a' })));
    const milli = sweepText(points, { header: ['a', 'b'], scale: [1e-3, 1] });
    expectPoints(read(milli, layout({ voltage: ['a', 'mV'], current: 'b' })));
  });

  it('lines to skip, no header, decimal sign', () => {
    const skipped = `Voltage;Current\n1;2\n3;4\nx;y\n${sweepText(points, { delimiter: ';' })}`;
    expectPoints(read(skipped, layout({ voltage: 1, current: 2 }, { skip: 3 })));
    expectPoints(read(skipped, layout({ voltage: 1, current: 2 }, { skip: 4, header: false })));
    expectPoints(read(skipped, layout({ voltage: 'x', current: 'y' })));
  });

  it('sign of current', () => {
    const negative = sweepText(points, { header: ['V', 'I'], negative: true });
    expectPoints(read(negative, layout({}, { sign: 'negative' })));
    expectIds(read(negative, layout({}, { sign: 'positive' })), ['sweep/sign-contradiction']);
  });
});

function expectIds(result: ReadingResult, ids: readonly string[]): void {
  expect(result.problems.map((problem) => problem.id)).toEqual(ids);
  const failed = result.problems.some((problem) => problem.severity === 'error');
  expect(result.reading === undefined).toBe(failed);
}

describe('one clear problem for each mistake', () => {
  const header = 'Voltage,Current\n';
  const rows = points.map(({ v, i }) => `${v.toFixed(3)},${i.toFixed(4)}`);
  const body = `${rows.join('\n')}\n`;
  const withRows = (change: (row: string, at: number) => string) =>
    `${header}${rows.map(change).join('\n')}\n`;

  const cases: Record<string, readonly [string | Uint8Array, string, number?, number?]> = {
    'a zip file': [Uint8Array.from([0x50, 0x4b, 3, 4, 20, 0]), 'binary-file'],
    'zero bytes': [Uint8Array.from([65, 0, 66, 0]), 'binary-file'],
    'too large': [new Uint8Array(32 * 1024 * 1024 + 1), 'too-large'],
    empty: ['', 'empty-file'],
    blank: ['\uFEFF \n\n', 'empty-file'],
    'header without data': ['Site;Roof\nVoltage;Current\n', 'no-data', 2],
    'no numbers': ['Dear colleague,\nthe file is attached.\n', 'no-table', 1],
    'a very long line': [`V,I\n${'1,'.repeat(60_000)}`, 'line-too-long', 2],
    'unknown headers': [`x,y\n${body}`, 'no-voltage-column', 1],
    'no current': [`Voltage,Something\n${body}`, 'no-current-column', 1],
    'three columns, no header': [
      withRows((row, at) => `${at},${row}`).replace(header, ''),
      'no-voltage-column',
      1,
    ],
    'nine points': [header + rows.slice(0, 9).join('\n'), 'too-few-points', 2],
    'constant voltage': [withRows((row) => row.replace(/^[^,]*/, '36.5')), 'voltage-constant', 2],
    'no current flowing': [withRows((row) => row.replace(/,.*/, ',0.000')), 'current-zero', 2],
    'ends before the maximum': [header + rows.slice(0, 25).join('\n'), 'ends-before-maximum-power', 26],
    'begins after the maximum': [
      header + rows.slice(34).join('\n') + '\n36.9,0.5\n36.95,0.4\n37.0,0.3\n37.1,0.2\n',
      'begins-after-maximum-power',
      2,
    ],
    'last line cut': [header + body.slice(0, -8), 'last-line-cut', 41],
    'last number cut': [header + body.slice(0, -3), 'last-line-cut', 41],
    'exchanged columns': [`Current,Voltage\n${body}`, 'swapped-columns', 2],
    'power where current should be': [`Voltage (V),Current (W)\n${body}`, 'wrong-unit', 1, 2],
    'units contradict': [`Voltage (mV),Current (A)\nV,A\n${body}`, 'unit-contradiction', 2, 1],
    'mV taken for V': [withRows((row) => row.replace('.', '')), 'implausible-voltage', 41],
    'mA taken for A': [withRows((row) => row.replace(/,(\d+)\.(\d{3})/, ',$1$2.')), 'implausible-current', 2],
    'V taken for kV': [`Voltage (mV),Current\n${body}`, 'implausible-voltage', 41],
    'the same header twice': [
      `Voltage,Current,Voltage\n${withRows((row) => `${row},1`).slice(header.length)}`,
      'duplicate-header',
      1,
      3,
    ],
    'two voltages': [
      `Voltage a,Current,Voltage b\n${withRows((row) => `${row},1`).slice(header.length)}`,
      'ambiguous-column',
      1,
      3,
    ],
    'gaps and NaN': [withRows((row, at) => (at % 5 === 1 ? 'NaN,' : row)), 'rows-skipped', 3, 1],
    'words in a row': [withRows((row, at) => (at === 7 ? '5.0,fault' : row)), 'rows-skipped', 9, 2],
    'too many fields': [withRows((row, at) => (at === 7 ? `${row},5` : row)), 'rows-skipped', 9],
    'comma twice': [
      `V,I\n${points.map(({ v, i }) => `${v.toFixed(2)},${i.toFixed(2)}`.replaceAll('.', ',')).join('\n')}`,
      'comma-twice',
      2,
    ],
    'a comma in the voltages alone': [
      `V,I\n${points.map(({ v, i }) => `${v.toFixed(2).replace('.', ',')},${i.toFixed(2)}`).join('\n')}`,
      'comma-twice',
      2,
    ],
    'unclear thousands': [
      `V;I\n${points.map(({ v, i }, at) => `${at === 30 ? '1,234' : v.toFixed(2)};${i.toFixed(2)}`).join('\n')}`,
      'unclear-number',
      32,
      1,
    ],
    'a quote not closed': [withRows((row, at) => (at === 4 ? `"${row}` : row)), 'broken-quote', 6],
    'negative voltages': [withRows((row) => `-${row}`), 'voltage-negative', 2],
  };
  for (const [name, [content, id, line, column]] of Object.entries(cases)) {
    it(name, () => {
      const result = readSweepTable(typeof content === 'string' ? utf8(content) : content);
      expectIds(result, [`sweep/${id}`]);
      expect(result.problems[0]!.place?.line).toBe(line);
      if (column !== undefined) expect(result.problems[0]!.place?.column).toBe(column);
    });
  }

  it('messages carry what is needed to mend', () => {
    const message = (text: string, record?: Parameters<typeof readSweepTable>[1]) =>
      read(text, record).problems[0]!.message;
    expect(message(`x,y\n${body}`)).toMatch(/"x", "y".*layout/s);
    expect(message(withRows((row, at) => (at > 2 ? 'NaN,1' : row)))).toMatch(
      /Only 3 usable.*37 rows skipped, first at line 5/s,
    );
    expect(message(header + body, layout({ voltage: 'Volage', current: 'Current' }))).toMatch(
      /"Volage".*did you mean "Voltage"/,
    );
    expect(message('Voltage (V),Current (A)\n')).toMatch(
      /^The header "Voltage \(V\)", "Current \(A\)" has no/,
    );
    expect(message(header + body, layout({ voltage: 3, current: 2 }))).toMatch(/column 3.*2 columns/);
  });

  it('mistakes in a layout', () => {
    const at = (record: Parameters<typeof readSweepTable>[1]) => read(header + body, record);
    expectIds(at(layout({ voltage: 'Nothing' })), ['sweep/no-such-column']);
    expectIds(at(layout({ voltage: ['Voltage', 'A'] })), ['sweep/wrong-unit']);
    expectIds(at(layout({ voltage: ['Voltage', 'bananas'] })), ['sweep/wrong-unit']);
    const milli = read(`Voltage (mV),Current\n${body}`, layout({ voltage: ['Voltage', 'V'] }));
    expectPoints(milli, points, ['sweep/unit-contradiction']);
  });

  it('exchanged columns that a layout insists on are read with a warning', () => {
    const result = read(`a,b\n${body}`, layout({ voltage: 'b', current: 'a' }));
    expectIds(result, ['sweep/swapped-columns']);
    expect(result.reading).toBeDefined();
  });

  it('a single cell and a shaded string are not called exchanged', () => {
    expectPoints(
      readStyled({ header: ['V', 'I'], decimals: [4, 4] }, curve(40, 9, 0.62)),
      curve(40, 9, 0.62),
    );
    const shaded = curve(60, 5, 700).map(({ v, i }) => ({
      v,
      i: v < 350 ? i + 4 * (1 - Math.exp((v - 350) / 20)) : i,
    }));
    expectPoints(readStyled({ header: ['V', 'I'] }, shaded), shaded);
  });
});
