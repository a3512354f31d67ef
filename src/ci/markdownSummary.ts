/** The state of a campaign in a few lines of Markdown, for the summary of a build or a comment on a pull request. */
import { sweepListItem } from '../presentation/campaignModel.js';
import { electricalItems, electricalLine } from '../presentation/electricalModel.js';
import { escapeMarkdown } from '../presentation/markdownText.js';
import { nextSteps } from '../presentation/nextSteps.js';
import { unmeasuredText } from '../presentation/unmeasured.js';
import { countsLine } from '../presentation/verdictWords.js';
import type { CheckedCampaign } from './checkedCampaign.js';

export const markdownSummary = (campaign: CheckedCampaign): string => `${partsOf(campaign).join('\n\n')}\n`;

function partsOf({ evaluation, display }: CheckedCampaign): string[] {
  const sweeps = evaluation.sweeps.map(sweepListItem).filter(({ verdict }) => verdict.verdict !== 'pass');
  const tests = electricalItems(evaluation).filter(
    ({ verdict, replaced }) => verdict.verdict !== 'pass' && !replaced,
  );
  const summary = [
    `**${escapeMarkdown(countsLine(evaluation.counts))}**`,
    ...[electricalLine(evaluation), unmeasuredText(evaluation) ?? '']
      .filter((line) => line !== '')
      .map(escapeMarkdown),
  ];
  return [
    `### ${escapeMarkdown(display(evaluation.root))}`,
    summary.join('  \n'),
    ...table(
      ['', 'sweep', 'time', 'Pmax at STC', 'deviation', 'U (95 %)', 'verdict', 'why'],
      sweeps.map((sweep) => [
        sweep.verdict.symbol,
        sweep.address,
        sweep.time,
        sweep.pmax,
        sweep.deviation,
        sweep.uncertainty,
        sweep.verdict.word,
        sweep.headline,
      ]),
    ),
    ...table(
      ['', 'test', 'device', 'time', 'reading', 'verdict', 'why'],
      tests.map(({ verdict, kind, address, time, reading, reasons }) => [
        verdict.symbol,
        kind,
        address,
        time,
        reading,
        verdict.word,
        reasons.join(' '),
      ]),
    ),
    ...list(
      'Next',
      nextSteps(evaluation).map(({ text, why }) => (why === undefined ? text : `${text} ${why}`)),
    ),
    ...list(
      'Diagnostics',
      evaluation.problems.map(
        ({ severity, file, range, message }) =>
          `${severity}: ${display(file)}:${range.start.line + 1}: ${message}`,
      ),
    ),
  ];
}

function table(titles: readonly string[], rows: readonly (readonly string[])[]): string[] {
  if (rows.length === 0) return [];
  const line = (cells: readonly string[]): string => `| ${cells.map(escapeMarkdown).join(' | ')} |`;
  return [[line(titles), `|${titles.map(() => '---').join('|')}|`, ...rows.map(line)].join('\n')];
}

const list = (title: string, items: readonly string[]): string[] =>
  items.length === 0 ? [] : [`**${title}**`, items.map((item) => `- ${escapeMarkdown(item)}`).join('\n')];
