/**
 * The string tests of IEC 62446-1 beside the sweep: continuity, polarity, insulation resistance, and Voc and Isc by a meter. A
 * verdict here is `pass`, `fail` or `not judged`; what the test does not say is never guessed.
 */
import type { BlockPlace, ElectricalTestRecord, SweepTarget } from '../campaign/model.js';
import { shiftRange, type Place } from '../text/place.js';

export type ElectricalVerdict = 'pass' | 'fail' | 'not judged';

export interface ElectricalReason {
  /** Stable; the text may change. */
  readonly code: string;
  /** One sentence with its numbers and units. */
  readonly text: string;
  readonly decisive: boolean;
}

/** A number that was read, and what it is held against, in `unit`. */
export interface ElectricalFigure {
  readonly name: 'resistance' | 'test voltage' | 'Voc' | 'Isc';
  readonly value: number;
  readonly unit: 'ohm' | 'V' | 'A';
  /** Lower and upper end of what passes; undefined where nothing limits it or the limit is not known. */
  readonly least?: number;
  readonly most?: number;
  /** Of the nameplate at the conditions of the reading. */
  readonly expected?: number;
  /** (value - expected) / expected. */
  readonly deviation?: number;
  /** Against the median of like strings under like conditions, a fraction. */
  readonly fromPeers?: number;
}

/** A test as it was written, with what it was taken on. */
export interface TakenTest {
  readonly record: ElectricalTestRecord;
  readonly block: BlockPlace;
  readonly target: SweepTarget;
  /** ISO 8601, with offset when the site's zone is known. */
  readonly time?: string;
  /** Milliseconds since 1970 UTC, when the zone is known. */
  readonly instant?: number;
}

export interface Judged {
  readonly verdict: ElectricalVerdict;
  readonly reasons: readonly ElectricalReason[];
  readonly figures: readonly ElectricalFigure[];
  /** What may hurt someone, and what to do first; present with some failures. */
  readonly danger?: string;
}

export interface ElectricalTest extends TakenTest, Judged {
  /** `file:line`, stable within one evaluation. */
  readonly id: string;
  readonly kind: ElectricalTestRecord['kind'];
  readonly address: string;
  /** Header line of the block. */
  readonly place: Place;
  /** No later test of the same kind, address and pole stands in the campaign: this one counts. */
  readonly latest: boolean;
}

/** Counts of the tests that are `latest`. */
export interface ElectricalCounts {
  readonly pass: number;
  readonly fail: number;
  readonly notJudged: number;
}

export function placeOf({ record, block }: TakenTest): Place {
  return { file: block.file, range: shiftRange(record.headerRange, block.startLine) };
}

export const notJudged = (code: string, text: string): Judged => ({
  verdict: 'not judged',
  reasons: [{ code, text, decisive: true }],
  figures: [],
});
