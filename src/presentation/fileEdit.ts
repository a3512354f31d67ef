import type { Range } from '../text/place.js';

/** Replace `range` of a file by `text`. */
export interface FileEdit {
  readonly file: string;
  readonly range: Range;
  readonly text: string;
}
