import { describe, expect, it } from 'vitest';
import type { SweepTableRecord } from '../../src/campaign/model.js';
import { readManySweeps } from '../../src/sweeps/readManySweeps.js';
import { columnMap, curve, layout, utf8 } from './fixtures.js';

const nowhere = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

function record(columns: Parameters<typeof columnMap>[0] = {}): SweepTableRecord {
  return {
    kind: 'sweeps',
    headerRange: nowhere,
    propertyRanges: new Map(),
    notes: [],
    data: { text: 'all.csv', range: nowhere },
    columns: columnMap(columns),
    temperatureKind: 'cell',
    with: [],
  };
}

const header = 'String,Time,Irradiance (W/m2),Tmod (°C),Voltage (V),Current (A)';
function rowsOf(address: string, time: string, irradiance = 800, count = 20): string[] {
  return curve(count).map(
    ({ v, i }, at) => `${address},${time},${irradiance + at},45.5,${v.toFixed(3)},${i.toFixed(4)}`,
  );
}
const first = rowsOf('1.03', '2026-05-14T11:42');
const second = rowsOf('1.04', '2026-05-14T11:45');
const again = rowsOf('1.03', '2026-05-14T13:42', 900);

describe('many sweeps in one table', () => {
  it('groups rows by address and time, in the order of their first rows', () => {
    const { rows, problems } = readManySweeps(
      utf8([header, ...first, ...second, ...again].join('\n') + '\n'),
      record(),
    );
    expect(problems).toEqual([]);
    expect(rows.map(({ address, time, firstLine }) => [address, time, firstLine])).toEqual([
      ['1.03', '2026-05-14T11:42', 2],
      ['1.04', '2026-05-14T11:45', 22],
      ['1.03', '2026-05-14T13:42', 42],
    ]);
    for (const { result } of rows) expect(result.problems).toEqual([]);
    expect(rows[0]!.irradiance).toBeCloseTo(809.5, 9);
    expect(rows[2]!.temperature).toBeCloseTo(45.5, 9);
    expect(rows[1]!.result.reading!.lines[0]).toBe(22);
  });

  it('rows of one sweep may stand apart', () => {
    const mixed = first.flatMap((row, at) => [row, second[at]!]);
    const { rows } = readManySweeps(utf8([header, ...mixed].join('\n') + '\n'), record());
    expect(rows.map(({ result }) => result.reading!.curve.voltage.length)).toEqual([20, 20]);
  });

  it('date and time in two columns are joined', () => {
    const rows = curve(12).map(({ v, i }) =>
      `1.03;14.05.2026;11:42;${v.toFixed(2)};${i.toFixed(2)}`.replaceAll(/(?<=;\d+)\.(?=\d+(;|$))/g, ','),
    );
    const { rows: sweeps, problems } = readManySweeps(
      utf8(`Strang;Datum;Uhrzeit;U;I\n${rows.join('\n')}\n`),
      record(),
    );
    expect(problems).toEqual([]);
    expect(sweeps[0]!.time).toBe('14.05.2026 11:42');
    expect(sweeps[0]!.result.reading!.curve.voltage[11]).toBe(37.2);
  });

  it('columns of the block come before those of the layout', () => {
    const text = `a,b,t,x,y\n${curve(12)
      .map(({ v, i }) => `wrong,right,noon,${v},${i}`)
      .join('\n')}\n`;
    const { rows } = readManySweeps(
      utf8(text),
      record({ address: 'b', time: 't' }),
      layout({ address: 'a', voltage: 'x', current: 'y' }),
    );
    expect(rows.map(({ address, time }) => [address, time])).toEqual([['right', 'noon']]);
  });

  it('a bad sweep does not hurt the others', () => {
    const { rows, problems } = readManySweeps(
      utf8([header, ...first.slice(0, 5), ...second].join('\n') + '\n'),
      record(),
    );
    expect(problems).toEqual([]);
    expect(rows[0]!.result.problems.map((problem) => problem.id)).toEqual(['sweep/too-few-points']);
    expect(rows[1]!.result.reading).toBeDefined();
  });

  const ids = (text: string) => readManySweeps(utf8(text), record()).problems.map((problem) => problem.id);

  it('one problem for each mistake of the table', () => {
    const withoutAddress = first.map((row) => row.slice(row.indexOf(',') + 1)).join('\n');
    expect(ids(`${header.slice(7)}\n${withoutAddress}\n`)).toEqual(['sweep/no-address-column']);
    const blank = [...first, first[3]!.replace('1.03', ''), first[4]!.replace('1.03', '')];
    expect(ids([header, ...blank].join('\n') + '\n')).toEqual(['sweep/rows-without-address']);
    const everyRow = first.map((row, at) => row.replace('11:42', `11:42:${at + 10}`));
    expect(ids([header, ...everyRow].join('\n') + '\n')).toEqual(['sweep/every-row-its-own']);
    const noTime = first.map((row) => row.replace('2026-05-14T11:42,', ''));
    expect(ids([header.replace('Time,', ''), ...noTime].join('\n') + '\n')).toEqual(['sweep/no-time-column']);
    const other = first.map((row) => row.replace('1.03', '1.04'));
    const twice = [header, ...first, ...other, ...first].join('\n') + '\n';
    expect(ids(twice)).toEqual(['sweep/sweeps-read-as-one']);
    expect(readManySweeps(utf8(twice), record()).problems[0]!.place).toMatchObject({
      line: 2 + first.length + other.length,
    });
    const cut = [header, ...first].join('\n').slice(0, -12);
    expect(ids(cut)).toEqual(['sweep/last-line-cut']);
  });
});
