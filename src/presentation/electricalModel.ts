/** The electrical tests as every output shows them: panel, page, terminal and hover. */
import type { Quantity } from '../campaign/quantity.js';
import type { ElectricalFigure, ElectricalTest } from '../electricalTests/electricalTest.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { formatDeviation, missing } from './formatNumber.js';
import { placeIn, type SourcePlace } from './sourcePlace.js';
import { quantityText, timeText } from './sweepTexts.js';
import { verdictMark, type VerdictMark } from './verdictWords.js';

export interface ElectricalItem {
  readonly id: string;
  readonly address: string;
  readonly kind: ElectricalTest['kind'];
  /** `2026-05-14 10:05`, or `-`. */
  readonly time: string;
  /** What was read: `42 Mohm at 1000 V`, `Voc 626 V (-0.4 %), Isc 11.3 A (+0.2 %)`, `reversed`. */
  readonly reading: string;
  readonly verdict: VerdictMark;
  /** Decisive ones first, as sentences. */
  readonly reasons: readonly string[];
  /** A later test of the same kind stands for this one. */
  readonly replaced: boolean;
  /** What may hurt someone; the cautions belong beside it. */
  readonly danger?: string;
  readonly place: SourcePlace;
}

export function electricalItems({ electricalTests }: Evaluation): ElectricalItem[] {
  return electricalTests.map(electricalItem);
}

export function electricalItem(test: ElectricalTest): ElectricalItem {
  const { id, address, kind, record, block, verdict, reasons, latest, danger } = test;
  return {
    id,
    address,
    kind,
    time: timeText(test.time),
    reading: readingText(test),
    verdict: verdictMark(verdict),
    reasons: reasons.map(({ text }) => text),
    replaced: !latest,
    ...(danger === undefined || !latest ? {} : { danger }),
    place: placeIn(block, record.headerRange),
  };
}

/** `6 electrical tests: 4 pass, 1 fail, 1 not judged`; empty without any. Tests that a later one replaced are not counted. */
export function electricalLine({ electricalCounts: counts, electricalTests }: Evaluation): string {
  if (electricalTests.length === 0) return '';
  const total = counts.pass + counts.fail + counts.notJudged;
  const parts = [
    [counts.pass, 'pass'],
    [counts.fail, 'fail'],
    [counts.notJudged, 'not judged'],
  ] as const;
  const words = parts.filter(([count]) => count > 0).map(([count, word]) => `${count} ${word}`);
  return `${total} electrical ${total === 1 ? 'test' : 'tests'}: ${words.join(', ')}`;
}

/** As written, with how far a meter reading is off. */
function readingText({ record, figures }: ElectricalTest): string {
  const { resistance, testVoltage, result, pole } = record;
  const at = testVoltage ? ` at ${quantityText(testVoltage)}` : '';
  const parts = [
    ...(resistance ? [quantityText(resistance) + at] : []),
    ...(result === undefined ? [] : [result]),
    ...(pole === undefined ? [] : [pole === 'shorted' ? 'poles shorted' : `${pole} pole`]),
    ...meterText('Voc', record.voc, figures),
    ...meterText('Isc', record.isc, figures),
  ];
  return parts.join(', ') || missing;
}

function meterText(
  name: 'Voc' | 'Isc',
  quantity: Quantity | undefined,
  figures: readonly ElectricalFigure[],
): string[] {
  if (!quantity) return [];
  const figure = figures.find((each) => each.name === name);
  const against = figure?.deviation ?? figure?.fromPeers;
  return [
    `${name} ${quantityText(quantity)}${against === undefined ? '' : ` (${formatDeviation(against)})`}`,
  ];
}
