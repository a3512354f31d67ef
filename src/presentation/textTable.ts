/** What `check` writes to a terminal. */
import type { Evaluation } from '../evaluation/evaluation.js';
import { sweepListItem } from './campaignModel.js';
import { cautionLine } from './cautions.js';
import { missing } from './formatNumber.js';
import { nextSteps } from './nextSteps.js';
import type { SweepListItem } from './previewTypes.js';
import { alignedRows, printable, type Column } from './terminalText.js';
import { countsLine } from './verdictWords.js';

export type PaintTone = 'good' | 'doubtful' | 'bad' | 'neutral' | 'muted' | 'strong';

/** Colours a piece of text; a host that writes no colour passes none. */
export type Painter = (text: string, tone: PaintTone) => string;

export interface TextOptions {
  readonly display: (file: string) => string;
  readonly paint?: Painter;
  /** ASCII marks instead of shapes. */
  readonly ascii?: boolean;
}

const columns: readonly Column[] = [
  { title: '', align: 'left' },
  { title: 'sweep', align: 'left' },
  { title: 'time', align: 'left' },
  { title: 'G', align: 'right' },
  { title: 'T', align: 'right' },
  { title: 'Pmax STC', align: 'right' },
  { title: 'deviation', align: 'right' },
  { title: 'U (k=2)', align: 'right' },
  { title: 'verdict', align: 'left' },
];

/** Aligned lines, what decided, summary, what to do next. Ends with a line break. */
export function sweepTable(evaluation: Evaluation, options: TextOptions): string {
  const paint = options.paint ?? ((text: string) => text);
  const items = evaluation.sweeps.map(sweepListItem);
  const lines = [paint(printable(titleLine(evaluation)), 'strong'), ''];
  if (items.length > 0) lines.push(...tableLines(items, options, paint), '');
  lines.push(...reasonLines(items, options, paint), ...remarkLines(evaluation));
  lines.push(paint(countsLine(evaluation.counts), 'strong'));
  lines.push(...nextLines(evaluation, paint));
  return plainWhereAsked(lines.join('\n') + '\n', options);
}

function titleLine(evaluation: Evaluation): string {
  const record = evaluation.campaign.campaign?.record;
  if (!record) return 'Campaign without a name';
  return record.title ? `${record.name.text}: ${record.title}` : record.name.text;
}

function tableLines(items: readonly SweepListItem[], options: TextOptions, paint: Painter): string[] {
  const rows = items.map((item) => [
    options.ascii ? item.verdict.ascii : item.verdict.symbol,
    item.address,
    item.time,
    item.irradiance,
    item.cellTemperature,
    item.pmax,
    item.deviation,
    item.uncertainty,
    item.verdict.word,
  ]);
  const [head, ...body] = alignedRows(columns, rows);
  return [
    paint(head!.join('  '), 'muted'),
    ...body.map((cells, index) => {
      const { tone } = items[index]!.verdict;
      const last = cells.length - 1;
      return cells.map((cell, at) => (at === 0 || at === last ? paint(cell, tone) : cell)).join('  ');
    }),
  ];
}

/** The reason of each sweep that did not plainly pass. */
function reasonLines(items: readonly SweepListItem[], options: TextOptions, paint: Painter): string[] {
  const lines = items
    .filter((item) => item.headline !== '')
    .map((item) => {
      const mark = options.ascii ? item.verdict.ascii : item.verdict.symbol;
      const title = item.time === missing ? item.address : `${item.address} at ${item.time}`;
      return `${paint(mark, item.verdict.tone)}  ${printable(title)}: ${printable(item.headline)}`;
    });
  return lines.length > 0 ? [...lines, ''] : [];
}

/** What was said of sweeps that passed all the same, once for all of them. */
function remarkLines(evaluation: Evaluation): string[] {
  const texts = evaluation.sweeps
    .filter(({ analysis }) => analysis.verdict === 'pass')
    .flatMap(({ analysis }) => analysis.reasons.filter(({ code }) => !code.startsWith('limit-')))
    .map((reason) => reason.text);
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  const lines = [...counts].map(([text, count]) => `   ${count} of those that passed: ${printable(text)}`);
  return lines.length > 0 ? [...lines, ''] : [];
}

function nextLines(evaluation: Evaluation, paint: Painter): string[] {
  const steps = nextSteps(evaluation);
  if (steps.length === 0) return [];
  const lines = ['', paint('Next', 'strong'), ...steps.map((step) => `- ${printable(step.text)}`)];
  if (steps.some((step) => step.disconnects)) lines.push('', paint(`Caution: ${cautionLine}`, 'doubtful'));
  return lines;
}

/**
 * One block a problem: `file:line:column: severity: message [id]`, lines and columns from 1, and on indented lines the
 * places elsewhere that explain it. Empty without problems.
 */
export function problemLines(evaluation: Evaluation, options: TextOptions): string {
  const paint = options.paint ?? ((text: string) => text);
  const tones = { error: 'bad', warning: 'doubtful', information: 'neutral' } as const;
  const at = (file: string, { line, character }: { line: number; character: number }): string =>
    `${printable(options.display(file))}:${line + 1}:${character + 1}`;
  const lines = evaluation.problems.flatMap((problem) => [
    `${at(problem.file, problem.range.start)}: ${paint(problem.severity, tones[problem.severity])}: ` +
      `${printable(problem.message)} ${paint(`[${problem.id}]`, 'muted')}`,
    ...(problem.related ?? []).map(
      ({ place, message }) => `    ${at(place.file, place.range.start)}: ${printable(message)}`,
    ),
  ]);
  return lines.length === 0 ? '' : plainWhereAsked(lines.join('\n') + '\n', options);
}

function plainWhereAsked(text: string, options: TextOptions): string {
  return options.ascii ? text.replaceAll('±', '+-').replaceAll('’', "'") : text;
}
