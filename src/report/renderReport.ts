/**
 * A report in one of its formats: what the command line and the editor call. With everything that draws it is large, so hosts
 * load this file when a report is asked for, not before.
 */
import type { Evaluation } from '../evaluation/evaluation.js';
import type { FileReader } from '../evaluation/ports.js';
import { chartsOf } from './document.js';
import { drawCharts } from './drawCharts.js';
import { fonts } from './pdf/fonts.js';
import { namedFiles } from './namedFiles.js';
import { readPictures } from './pictures.js';
import { toPdf } from './pdf/toPdf.js';
import { reportDocument } from './reportDocument.js';
import type { ReportFormat, ReportOptions } from './reportOptions.js';
import { toHtml } from './writers/toHtml.js';
import { toMarkdown } from './writers/toMarkdown.js';
import { toText } from './writers/toText.js';

export interface RenderOptions {
  readonly format: ReportFormat;
  /** When the file is written; only a PDF says it. */
  readonly created: Date;
  /** Of the host: photographs that notes name are read through it. */
  readonly files: FileReader;
  /** Called before each step; may give others their turn, and ends all by throwing. */
  readonly progress?: (step: 'curves' | 'pages', done: number, of: number) => void | Promise<void>;
}

export async function renderReport(
  evaluation: Evaluation,
  options: ReportOptions,
  { format, created, files, progress }: RenderOptions,
): Promise<string | Uint8Array> {
  const pictures = await readPictures(namedFiles(evaluation.campaign), files);
  const report = reportDocument(evaluation, options, pictures);
  if (format === 'markdown') return toMarkdown(report);
  if (format === 'text') return toText(report);
  const drawn = await drawCharts(chartsOf(report), (done, of) => progress?.('curves', done, of));
  if (format === 'html') return toHtml(report, drawn);
  return toPdf(report, drawn, { fonts, created, progress: (done, of) => progress?.('pages', done, of) });
}
