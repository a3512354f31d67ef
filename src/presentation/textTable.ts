import type { Evaluation } from '../evaluation/evaluation.js';

/** Colours a piece of text; a host that writes no colour passes none. */
export type Painter = (
  text: string,
  tone: 'good' | 'doubtful' | 'bad' | 'neutral' | 'muted' | 'strong',
) => string;

export interface TextOptions {
  readonly display: (file: string) => string;
  readonly paint?: Painter;
  /** ASCII marks instead of shapes. */
  readonly ascii?: boolean;
}

/** Aligned lines, summary, what to do next. Ends with a line break. */
export declare function sweepTable(evaluation: Evaluation, options: TextOptions): string;
/** One block a problem, `file:line:column: severity: message [id]`; empty without problems. */
export declare function problemLines(evaluation: Evaluation, options: TextOptions): string;
