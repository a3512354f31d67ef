/** What every engine is asked to compute: nothing here knows in which it runs. */
import { Workbook } from '../../src/evaluation/workbook.js';
import { resultLines, resultsText } from '../../src/results/resultsText.js';
import { toResult } from '../../src/presentation/resultSchema.js';
import { memoryReader } from '../bench/generate.js';

export interface Given {
  readonly text: string;
  /** CSV files by name. */
  readonly tables: Readonly<Record<string, string>>;
}

export interface Computed {
  /** As `check --write-results` writes it. */
  readonly results: string;
  /** As `check --format json` prints it. */
  readonly json: string;
}

export async function computed(campaigns: readonly Given[]): Promise<Computed> {
  const evaluated = [];
  for (const [index, { text, tables }] of campaigns.entries()) {
    const bytes = new Map(Object.entries(tables).map(([name, csv]) => [name, new TextEncoder().encode(csv)]));
    const evaluation = await new Workbook(memoryReader({ text, files: bytes })).evaluate(
      'campaign.sweepbook',
    );
    evaluated.push({ name: `${String(index).padStart(3, '0')}.sweepbook`, evaluation });
  }
  return {
    results: resultsText(evaluated.map(({ name, evaluation }) => ({ name, lines: resultLines(evaluation) }))),
    json: JSON.stringify(
      evaluated.map(({ evaluation }) => toResult(evaluation, (file) => file, '0.0.0', { withFit: true })),
    ),
  };
}
