/** Tables read once, however many sweeps name them: a reading holds as long as the bytes and the layout are the same objects. */
import type { LayoutRecord, SweepRecord, SweepTableRecord } from '../campaign/model.js';
import { readInlinePoints } from '../sweeps/readInlinePoints.js';
import { readManySweeps, type ManySweeps } from '../sweeps/readManySweeps.js';
import { readSweepTable } from '../sweeps/readSweepTable.js';
import type { ReadingResult } from '../sweeps/sweepReading.js';
import type { FileContent } from './ports.js';

/** Remembers what a function of two objects answered; the second may be absent. */
class PairCache<A extends object, B extends object, R> {
  readonly #results = new WeakMap<A, WeakMap<B | typeof PairCache.absent, R>>();
  private static readonly absent = {};

  get(a: A, b: B | undefined, compute: () => R): R {
    let byB = this.#results.get(a);
    if (!byB) this.#results.set(a, (byB = new WeakMap()));
    const key = b ?? PairCache.absent;
    let result = byB.get(key);
    if (result === undefined) byB.set(key, (result = compute()));
    return result;
  }

  has(a: A, b: B | undefined): boolean {
    return this.#results.get(a)?.has(b ?? PairCache.absent) ?? false;
  }
}

export type Table = Extract<FileContent, { ok: true }>;

const single = new PairCache<Uint8Array, LayoutRecord, ReadingResult>();
const many = new PairCache<Table, SweepTableRecord, PairCache<SweepTableRecord, LayoutRecord, ManySweeps>>();
const inline = new WeakMap<SweepRecord, ReadingResult>();

export function singleReading(bytes: Uint8Array, layout: LayoutRecord | undefined): ReadingResult {
  return single.get(bytes, layout, () => readSweepTable(bytes, layout));
}

export const isRead = (bytes: Uint8Array, layout: LayoutRecord | undefined): boolean =>
  single.has(bytes, layout);

/** Takes a table for read that was read elsewhere; what it was read as before stays. */
export const rememberReading = (
  bytes: Uint8Array,
  layout: LayoutRecord | undefined,
  result: ReadingResult,
): ReadingResult => single.get(bytes, layout, () => result);

export function manyReadings(
  table: Table,
  record: SweepTableRecord,
  layout: LayoutRecord | undefined,
): ManySweeps {
  const ofRecord = many.get(table, record, () => new PairCache());
  return ofRecord.get(record, layout, () => readManySweeps(table.bytes, record, layout));
}

/** `record.points` must be there. */
export function inlineReading(record: SweepRecord): ReadingResult {
  let result = inline.get(record);
  if (!result) inline.set(record, (result = readInlinePoints(record.points!)));
  return result;
}
