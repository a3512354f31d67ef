import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readManySweeps } from '../../src/sweeps/readManySweeps.js';
import { readSweepTable } from '../../src/sweeps/readSweepTable.js';
import { recogniseLayout } from '../../src/sweeps/recogniseLayout.js';
import { curve, sweepText, utf16, utf8, type Style } from './fixtures.js';

const headers: readonly (readonly [
  readonly [string, string],
  readonly [string, string] | undefined,
  readonly [number, number],
])[] = [
  [['Voltage (V)', 'Current (A)'], undefined, [1, 1]],
  [['U/V', 'I/A'], undefined, [1, 1]],
  [['U [V]', 'I [mA]'], undefined, [1, 1e-3]],
  [['Voltage_mV', 'Current_A'], undefined, [1e-3, 1]],
  [['V', 'I'], undefined, [1, 1]],
  [['Spannung in V', 'Strom in A'], undefined, [1, 1]],
  [
    ['Voltage', 'Current'],
    ['V', 'A'],
    [1, 1],
  ],
  [
    ['Tension', 'Courant'],
    ['(V)', '(mA)'],
    [1, 1e-3],
  ],
];

const style = fc.record({
  delimiter: fc.constantFrom(',', ';', '\t', '|'),
  decimal: fc.constantFrom('.', ','),
  eol: fc.constantFrom('\n', '\r\n', '\r'),
  quoted: fc.boolean(),
  reversed: fc.boolean(),
  negative: fc.boolean(),
  finalEol: fc.boolean(),
  kind: fc.constantFrom(...headers),
  decimals: fc.tuple(fc.integer({ min: 2, max: 6 }), fc.integer({ min: 3, max: 6 })),
  metadata: fc.array(
    fc.tuple(
      fc.constantFrom('Operator', 'Irradiance', 'Voc', 'Points', 'Remark'),
      fc.constantFrom('812', 'roof south', '37,1', '', '2026-05-14 11:42'),
    ),
    { maxLength: 14 },
  ),
});

const device = fc.record({
  count: fc.integer({ min: 12, max: 90 }),
  isc: fc.double({ min: 0.5, max: 20, noNaN: true }),
  voc: fc.double({ min: 5, max: 1500, noNaN: true }).filter((voc) => voc > 0),
});

const encode = {
  plain: utf8,
  bom: (text: string) => utf8(`\uFEFF${text}`),
  little: (text: string) => utf16(text, true),
  big: (text: string) => utf16(text, false),
};

describe('any layout', () => {
  it('reads back to the same points within the precision written', () => {
    fc.assert(
      fc.property(
        style,
        device,
        fc.constantFrom(...(['plain', 'bom', 'little', 'big'] as const)),
        (chosen, { count, isc, voc }, encoding) => {
          // More current than voltage is rightly doubted elsewhere.
          fc.pre(isc < 2 * voc);
          const points = curve(count, isc, voc);
          const [header, units, scale] = chosen.kind;
          const written: Style = {
            ...chosen,
            header,
            units,
            scale,
            quoted: chosen.quoted || chosen.decimal === chosen.delimiter,
          };
          const result = readSweepTable(encode[encoding](sweepText(points, written)));
          expect(result.problems.filter(({ severity }) => severity !== 'information')).toEqual([]);
          const { reading } = result;
          expect(reading!.curve.voltage.length).toBe(count);
          expect(reading!.signTurned).toBe(chosen.negative);
          const tolerance = (at: 0 | 1) => 0.5001 * scale[at] * 10 ** -chosen.decimals[at] + 1e-9;
          const { voltage, current } = reading!.curve;
          expect(points.filter(({ v }, at) => Math.abs(voltage[at]! - v) > tolerance(0))).toEqual([]);
          expect(points.filter(({ i }, at) => Math.abs(current[at]! - i) > tolerance(1))).toEqual([]);
        },
      ),
      { numRuns: 250 },
    );
  });

  const table = { kind: 'sweeps', columns: {} } as unknown as Parameters<typeof readManySweeps>[1];

  function soundResult(bytes: Uint8Array): void {
    const result = readSweepTable(bytes);
    const errors = result.problems.filter(({ severity }) => severity === 'error');
    expect(errors.length > 0).toBe(result.reading === undefined);
    expect(result.problems.length).toBeLessThan(12);
    if (result.reading) {
      const { voltage, current } = result.reading.curve;
      expect(voltage.length).toBeGreaterThanOrEqual(10);
      expect(current.every(Number.isFinite)).toBe(true);
      expect(voltage.some((value, at) => at > 0 && value < voltage[at - 1]!)).toBe(false);
    }
    recogniseLayout(bytes);
    readManySweeps(bytes, table);
  }

  it('a valid file cut anywhere gives a reading or a clear problem', () => {
    const bytes = utf8(
      sweepText(curve(20), {
        delimiter: ';',
        decimal: ',',
        header: ['U [V]', 'I [A]'],
        quoted: true,
        metadata: [['T °C', '45']],
      }),
    );
    for (let length = 0; length <= bytes.length; length++) soundResult(bytes.subarray(0, length));
  });

  it('arbitrary bytes and mangled tables never throw', () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 400 }), soundResult), { numRuns: 300 });
    const piece = fc.constantFrom(
      '"',
      '""',
      ',',
      ';',
      '\t',
      '\n',
      '\r\n',
      ' ',
      '1',
      '2.5',
      '3,5',
      '1e400',
      '0x1F',
      'NaN',
      '-',
      'V',
      'I',
      'A',
      '[',
      '/',
      '#',
      'Voltage',
      'Current',
      'mV',
      '°',
      '1.234,5',
      'sep=;',
      '\uFEFF',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 200 }), (pieces) => soundResult(utf8(pieces.join('')))),
      { numRuns: 300 },
    );
    const text = sweepText(curve(20), { header: ['Voltage (V)', 'Current (A)'] });
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(text.length), piece), { minLength: 1, maxLength: 8 }), (edits) => {
        const mangled = edits.reduce(
          (now, [at, insert]) => now.slice(0, at) + insert + now.slice(at + 1),
          text,
        );
        soundResult(utf8(mangled));
      }),
      { numRuns: 200 },
    );
  });
});

describe('large and hostile files end soon', () => {
  const size = 1_000_000;
  const hostile: Record<string, string> = {
    'line ends only': '\n'.repeat(size),
    'quotes only': '"'.repeat(90_000),
    'quotes that never close': 'V,I\n' + '"1,"2\n'.repeat(size / 6),
    'quotes and spaces': `"${' " x'.repeat(20_000)}${' '.repeat(15_000)}`,
    'a quoted start and many rows': `"V","I"\n${'1.5,2.5\n'.repeat(size / 8)}`,
    'bad rows': `V,I\n${'a,b\n'.repeat(size / 4)}`,
    'delimiters only': `${';'.repeat(90_000)}\n`.repeat(20),
  };
  for (const [name, text] of Object.entries(hostile)) {
    it(name, () => {
      const { problems } = readSweepTable(utf8(text));
      expect(problems.length).toBeGreaterThan(0);
      expect(problems.length).toBeLessThan(6);
    });
  }

  it('a long table is read in pieces without losing a row or a line number', () => {
    const points = curve(60_000);
    for (const quoted of [false, true]) {
      const text = sweepText(points, { header: ['V', 'I'], decimals: [6, 6], quoted });
      const { reading, problems } = readSweepTable(utf8(text));
      expect(problems).toEqual([]);
      expect(reading!.lines.every((line, at) => line === at + 2)).toBe(true);
      expect(reading!.lines.length).toBe(60_000);
    }
  });
});
