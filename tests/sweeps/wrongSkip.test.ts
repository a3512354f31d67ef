/** A layout that skips too much or too little, and curves taken in the dark. Tables are invented. */
import { describe, expect, it } from 'vitest';
import { evaluateText } from '../evaluation/memoryFiles.js';
import {
  csvOf,
  curveAt,
  instruments,
  moduleBlock,
  sweepBlock,
  wideCriteria,
} from '../analysis/cecCampaign.js';

const at = { irradiance: 900, cellTemperature: 40 };
const facts = ['Instrument,one', 'Operator,two', 'Remark,three'];
const table = csvOf(curveAt('row 4', at)).replace('Voltage (V)', 'U').replace('Current (A)', 'J');

async function problems(skip: string, columns: string, csv = [...facts, table].join('\n')) {
  const text = [
    moduleBlock('row 4'),
    'string S\n  modules 1 x M',
    instruments,
    wideCriteria,
    `layout l\n${skip}${columns}`,
    sweepBlock('S', at, ['with T, R', 'layout l']),
  ].join('\n\n');
  return (await evaluateText(text, { 's.csv': csv })).problems;
}

const named = '  voltage "U" V\n  current "J" A\n';

describe('a layout with a wrong skip', () => {
  it('reads where it is right', async () => {
    expect(await problems('  skip 3 lines\n', named)).toEqual([]);
  });

  it.each([1, 2, 4, 30])('has one error at %i lines instead of 3, which says what is right', async (skip) => {
    const found = await problems(`  skip ${skip} lines\n`, named);
    expect(found.map(({ id }) => id)).toEqual(['sweep/wrong-skip']);
    expect(found[0]!.message).toContain(
      'Line 4 holds the headers that the layout names: write `skip 3 lines`.',
    );
  });

  it('has one error without names too, where the line is a row of numbers', async () => {
    const found = await problems('  skip 10 lines\n', '');
    expect(found.map(({ id }) => id)).toEqual(['sweep/wrong-skip']);
    expect(found[0]!.message).toContain('a row of numbers, not a header');
  });

  it('is right where the headers carry their units and another line names them without', async () => {
    const units = table.replace('U', 'U (V)').replace('J', 'J (A)');
    expect(await problems('  skip 3 lines\n', named, ['U,J', ...facts.slice(1), units].join('\n'))).toEqual(
      [],
    );
  });

  it.each([2, 10])('is told at %i lines too where the headers carry their units', async (skip) => {
    const units = table.replace('U', 'U (V)').replace('J', 'J (A)');
    const found = await problems(`  skip ${skip} lines\n`, named, [...facts, units].join('\n'));
    expect(found.map(({ id }) => id)).toEqual(['sweep/wrong-skip']);
    expect(found[0]!.message).toContain('write `skip 3 lines`');
  });

  it('is not blamed for headers that are misspelt', async () => {
    const found = await problems('  skip 3 lines\n', '  voltage "Volt" V\n  current "J" A\n');
    expect(found.map(({ id }) => id)).toEqual(['sweep/no-such-column']);
  });

  it('is not meant where there is no header', async () => {
    const bare = table.split('\n').slice(1).join('\n');
    const columns = '  header no\n  voltage column 1 V\n  current column 2 A\n';
    expect(await problems('  skip 3 lines\n', columns, [...facts, bare].join('\n'))).toEqual([]);
  });
});

describe('a sweep in the dark under forward bias', () => {
  const volts = Array.from({ length: 60 }, (_, k) => (k * 38) / 59);
  const dark = (v: number): number => 1e-9 * Math.expm1(v / 1.55);
  const csv = (sign: number, points = volts.map((v) => [v, dark(v)] as const)): string =>
    ['U,J', ...points.map(([v, i]) => `${v.toFixed(3)},${(sign * i).toFixed(4)}`), ''].join('\n');

  it.each([1, -1])('is named as such, whatever the sign %i of its current', async (sign) => {
    const found = await problems('', named, csv(sign));
    expect(found.map(({ id }) => id)).toEqual(['sweep/dark-curve']);
    expect(found[0]!.message).toContain('in the dark under forward bias');
  });

  it('is known by even steps of current too', async () => {
    const even = Array.from(
      { length: 40 },
      (_, k) => [1.55 * Math.log1p((k * 0.2) / 1e-9), k * 0.2] as const,
    );
    expect((await problems('', named, csv(-1, even))).map(({ id }) => id)).toEqual(['sweep/dark-curve']);
  });

  it('is not seen in light, with the sign turned, at a thousandth of the sun, or beyond Voc', async () => {
    for (const [g, factor, sign] of [
      [900, 1, -1],
      [1, 1, 1],
      [900, 1.03, 1],
    ] as const) {
      const light = g * 0.009;
      const open = 1.55 * Math.log1p(light / 1e-9);
      const points = volts.map(
        (v) => [(v / 38) * open * factor, light - dark((v / 38) * open * factor)] as const,
      );
      const ids = (await problems('', named, csv(sign, points))).map(({ id }) => id);
      expect(ids, `${g} ${factor}`).not.toContain('sweep/dark-curve');
    }
  });
});
