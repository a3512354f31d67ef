import type { BlockPlace } from '../campaign/model.js';
import type { Place, Range } from '../text/place.js';

/** Where a shown item was written, for a click that reveals it. `line` counts from zero, as in text/place.ts. */
export interface SourcePlace {
  readonly file: string;
  readonly line: number;
}

/** One thing as two states of a campaign have it; absent where it is not there. */
export interface ChangedPlace {
  readonly before?: SourcePlace;
  readonly after?: SourcePlace;
}

export function sourcePlace({ file, range }: Place): SourcePlace {
  return { file, line: range.start.line };
}

/** The place of a block-relative range. */
export function placeIn(block: BlockPlace, range: Range): SourcePlace {
  return { file: block.file, line: block.startLine + range.start.line };
}
