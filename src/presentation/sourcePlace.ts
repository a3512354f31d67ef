import type { BlockPlace } from '../campaign/model.js';
import type { Range } from '../text/place.js';

/** Where a shown item was written, for a click that reveals it. `line` counts from zero, as in text/place.ts. */
export interface SourcePlace {
  readonly file: string;
  readonly line: number;
}

/** The place of a block-relative range. */
export function placeIn(block: BlockPlace, range: Range): SourcePlace {
  return { file: block.file, line: block.startLine + range.start.line };
}
