/** Every place where a name stands, across the files of a campaign; and within one file, for highlighting. */
import type { Document } from '../syntax/document.js';
import { shiftRange, type Place, type Position, type Range } from '../text/place.js';
import {
  isNamed,
  nameAt,
  namesOfBlock,
  type FileDocument,
  type NamedTarget,
  type NameOccurrence,
} from './nameOccurrences.js';

export interface NamePlace extends Place {
  readonly isGiven: boolean;
  /** The names of the run that gives it, where a run does. */
  readonly run?: readonly string[];
}

/** In the order of the files and of their lines. */
export function placesOf(files: readonly FileDocument[], target: NamedTarget): NamePlace[] {
  const found: NamePlace[] = [];
  for (const { file, document } of files) {
    for (const { block, startLine } of document.blocks) {
      for (const each of namesOfBlock(block)) {
        if (!isNamed(each, target)) continue;
        const { isGiven, run } = each;
        found.push({ file, range: shiftRange(each.range, startLine), isGiven, run });
      }
    }
  }
  return found;
}

/** The file that gives the name; undefined where none of them does. */
export function fileThatGives(files: readonly FileDocument[], target: NamedTarget): string | undefined {
  return placesOf(files, target).find(({ isGiven }) => isGiven)?.file;
}

export interface Highlight {
  readonly range: Range;
  readonly isGiven: boolean;
}

/** The places of the name at the position, in its own file. */
export function highlightsAt(document: Document, position: Position): readonly Highlight[] {
  const name = nameAt(document, position);
  return name ? placesOf([{ file: '', document }], name) : [];
}

/** The names that the occurrence stands for: one, or those of a run. */
export function namesGiven({ text, run }: NameOccurrence): readonly string[] {
  return run ?? [text];
}
