import type { Evaluation } from '../evaluation/evaluation.js';
import type { Position } from '../text/place.js';
import type { Completion, OpenFile } from './editorTypes.js';

/** `evaluation` may be one of an older text: only names are taken from it. */
export declare function completionsAt(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  position: Position,
): Completion[];
