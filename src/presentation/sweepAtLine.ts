import { stringOf } from '../campaign/names.js';
import type { CampaignEntry, Placed } from '../campaign/model.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';

/**
 * The id of the sweep that a line (from 0) of a file belongs to, for a panel that follows the cursor: the sweep written
 * there; the sweep whose row of a CSV file it is; on a string, a replacement or a note, the latest sweep of that address.
 */
export function sweepAt(evaluation: Evaluation, file: string, line: number): string | undefined {
  return (
    sweepOfBlock(evaluation, file, line) ??
    sweepOfRow(evaluation, file, line) ??
    sweepOfEntry(evaluation, file, line)
  )?.id;
}

function sweepOfBlock(evaluation: Evaluation, file: string, line: number): EvaluatedSweep | undefined {
  return evaluation.sweeps.find(({ block }) => covers(block, file, line));
}

function sweepOfRow(evaluation: Evaluation, file: string, line: number): EvaluatedSweep | undefined {
  const ofFile = evaluation.sweeps.filter((sweep) => sweep.dataFile === file);
  const before = ofFile.filter((sweep) => (sweep.tableLine ?? 1) - 1 <= line);
  return before.sort((a, b) => (a.tableLine ?? 1) - (b.tableLine ?? 1)).at(-1) ?? ofFile[0];
}

function sweepOfEntry(evaluation: Evaluation, file: string, line: number): EvaluatedSweep | undefined {
  const entry = evaluation.campaign.entries.find(({ block }) => covers(block, file, line));
  const wanted = entry && addressesOf(entry);
  if (!wanted) return undefined;
  const ofAddress = evaluation.sweeps.filter((sweep) => wanted.includes(sweep.address));
  // A module that has no sweep of its own stands in a string that may have one.
  const strings = wanted.map(stringOf);
  return ofAddress.at(-1) ?? evaluation.sweeps.filter((sweep) => strings.includes(sweep.address)).at(-1);
}

function addressesOf({ record }: Placed<CampaignEntry>): readonly string[] | undefined {
  if (record.kind === 'string') return record.names;
  return 'address' in record && record.address ? [record.address.text] : undefined;
}

function covers(
  block: { file: string; startLine: number; endLine: number },
  file: string,
  line: number,
): boolean {
  return block.file === file && line >= block.startLine && line <= block.endLine;
}
