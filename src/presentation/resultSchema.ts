import type { Evaluation } from '../evaluation/evaluation.js';

export type CheckResult = Record<string, unknown>;

export declare function toResult(
  evaluation: Evaluation,
  display: (file: string) => string,
  version: string,
): CheckResult;
/** The JSON Schema as text, as published in syntaxes/check-result.schema.json. */
export declare function resultJsonSchema(): string;
