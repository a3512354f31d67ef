/** Builds the text of CSV files. The curves are invented; they have the shape of a photovoltaic generator. */
import type { ColumnMap, LayoutRecord } from '../../src/campaign/model.js';

export interface Point {
  readonly v: number;
  readonly i: number;
}

/** `I = Isc (1 - (exp(V/a) - 1)/(exp(Voc/a) - 1))`: flat, then a knee, then steep. */
export function curve(count = 40, isc = 9.1, voc = 37.2, knee = 0.06): Point[] {
  return Array.from({ length: count }, (_, at) => {
    const v = (voc * at) / (count - 1);
    const i = isc * (1 - Math.expm1(v / (knee * voc)) / Math.expm1(1 / knee));
    return { v, i: i === 0 ? 0 : i };
  });
}

export interface Style {
  readonly delimiter?: ',' | ';' | '\t' | '|';
  readonly decimal?: '.' | ',';
  readonly eol?: '\n' | '\r\n' | '\r';
  readonly header?: readonly [string, string] | undefined;
  readonly units?: readonly [string, string] | undefined;
  /** What a written 1 stands for: 1e-3 where the column is in mV. */
  readonly scale?: readonly [number, number];
  readonly decimals?: readonly [number, number];
  readonly metadata?: readonly (readonly string[])[];
  readonly reversed?: boolean;
  readonly negative?: boolean;
  readonly quoted?: boolean;
  readonly finalEol?: boolean;
}

export function sweepText(points: readonly Point[], style: Style = {}): string {
  const {
    delimiter = ',',
    decimal = '.',
    eol = '\n',
    header,
    units,
    scale = [1, 1],
    decimals = [3, 4],
  } = style;
  const field = (text: string) => (style.quoted || text.includes(delimiter) ? `"${text}"` : text);
  const number = (value: number, at: 0 | 1) =>
    field((value / scale[at]).toFixed(decimals[at]).replace('.', decimal));
  const order = style.reversed ? [...points].reverse() : points;
  const lines = [
    ...(style.metadata ?? []).map((fields) => fields.map(field).join(delimiter)),
    ...(header ? [header.map(field).join(delimiter)] : []),
    ...(units ? [units.map(field).join(delimiter)] : []),
    ...order.map(({ v, i }) => number(v, 0) + delimiter + number(style.negative ? -i : i, 1)),
  ];
  return lines.join(eol) + (style.finalEol === false ? '' : eol);
}

export const standardHeader: readonly [string, string] = ['Voltage (V)', 'Current (A)'];

export function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function latin1(text: string): Uint8Array {
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}

export function utf16(text: string, littleEndian: boolean): Uint8Array {
  const bytes = new Uint8Array(2 + 2 * text.length);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, 0xfeff, littleEndian);
  for (let at = 0; at < text.length; at++) view.setUint16(2 + 2 * at, text.charCodeAt(at), littleEndian);
  return bytes;
}

const nowhere = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

type ColumnWords = Partial<Record<keyof ColumnMap, string | number | readonly [string | number, string]>>;

export function columnMap(words: ColumnWords): ColumnMap {
  return Object.fromEntries(
    Object.entries(words).map(([role, word]) => {
      const [name, unit] = Array.isArray(word) ? word : [word, undefined];
      const which = typeof name === 'number' ? { number: name } : { header: name as string };
      return [role, { ...which, unit, range: nowhere }];
    }),
  );
}

export function layout(columns: ColumnWords, rest: Partial<LayoutRecord> = {}): LayoutRecord {
  return {
    kind: 'layout',
    headerRange: nowhere,
    propertyRanges: new Map(),
    notes: [],
    name: { text: 'foreign', range: nowhere },
    columns: columnMap(columns),
    ...rest,
  };
}
