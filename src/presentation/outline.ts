import type { Evaluation } from '../evaluation/evaluation.js';
import type { OutlineSymbol } from './editorTypes.js';

export declare function outlineOf(evaluation: Evaluation, file: string): OutlineSymbol[];
