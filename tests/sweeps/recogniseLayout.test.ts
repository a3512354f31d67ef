import { expect, it } from 'vitest';
import { recogniseLayout } from '../../src/sweeps/recogniseLayout.js';
import { curve, latin1, sweepText, utf8 } from './fixtures.js';

it('tells what was understood of a table', () => {
  const text = sweepText(curve(), {
    delimiter: ';',
    decimal: ',',
    metadata: [
      ['Gerät', 'X'],
      ['Datum', '14.05.2026'],
    ],
    header: ['Spannung', 'Strom'],
    units: ['mV', 'A'],
  });
  expect(recogniseLayout(latin1(text)).layout).toEqual({
    encoding: 'windows-1252',
    delimiter: ';',
    decimal: ',',
    headerLine: 3,
    unitsLine: 4,
    dataLine: 5,
    columns: [
      { number: 1, header: 'Spannung', role: 'voltage', unit: 'mV' },
      { number: 2, header: 'Strom', role: 'current', unit: 'A' },
    ],
  });
});

it('tells of columns without a role, and of what is missing', () => {
  const rows = curve().map(({ v, i }, at) => `${at},${v},${i}`);
  const { layout, problems } = recogniseLayout(utf8(`No,U/V,x\n${rows.join('\n')}\n`));
  expect(layout!.columns.map(({ role }) => role)).toEqual([undefined, 'voltage', undefined]);
  expect(problems.map(({ id }) => id)).toEqual(['sweep/no-current-column']);
  expect(recogniseLayout(new Uint8Array()).layout).toBeUndefined();
});
