import type { Evaluation } from '../evaluation/evaluation.js';
import type { Place, Position } from '../text/place.js';
import type { OpenFile } from './editorTypes.js';

export declare function definitionAt(
  evaluation: Evaluation,
  open: OpenFile,
  position: Position,
): Place | undefined;
