import type { Evaluation } from '../evaluation/evaluation.js';
import type { Position } from '../text/place.js';
import type { Hover, OpenFile } from './editorTypes.js';

export declare function hoverAt(
  evaluation: Evaluation,
  open: OpenFile,
  position: Position,
): Hover | undefined;
