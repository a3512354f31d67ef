/** The table of README.md. */
import type { Answer } from './judged.js';
import { irradianceClasses, type Count, type IrradianceClass, type Tally } from './confusion.js';

/** Written out so that a column stays where it is, empty or not. */
const columns: readonly Answer[] = [
  'healthy',
  'drift',
  'temperature-wrong',
  'irradiance-wrong',
  'sensor-soiled',
  'module-count-wrong',
  'module-type-wrong',
  'soiling',
  'partial-shade',
  'module-low-current',
  'substring-out',
  'series-resistance',
  'shunt',
  'degraded',
  'no cause',
  'no diagnosis',
];

const percent = (part: number, whole: number): string => {
  if (part === 0) return '';
  const share = (100 * part) / whole;
  return share >= 99.95 || share === Math.round(share) ? share.toFixed(0) : share.toFixed(1);
};

export function confusionTable(tally: Tally, at: IrradianceClass): string {
  const seen = columns.filter((column) =>
    [...tally.counts.values()].some((each) => (each[at].answers.get(column) ?? 0) > 0),
  );
  const rows = [...tally.counts].map(([{ title, first }, { [at]: count }]) => [
    title,
    first ?? 'healthy',
    String(count.cases),
    percent(count.correct, count.cases) || '0',
    ...seen.map((answer) => percent(count.answers.get(answer) ?? 0, count.cases)),
  ]);
  return table(['truth', 'must stand first', 'cases', 'right, %', ...seen], rows);
}

function table(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  const rule = header.map((_, index) => (index < 2 ? '---' : '---:'));
  return [line(header), line(rule), ...rows.map(line)].join('\n');
}

/** Right first-ranked causes over all truths that are faults, each weighing the same. */
export function overall(tally: Tally, at: IrradianceClass): number {
  const shares = [...tally.counts]
    .filter(([truth, { [at]: count }]) => truth.first && count.cases > 0)
    .map(([, { [at]: count }]) => count.correct / count.cases);
  return shares.reduce((sum, share) => sum + share, 0) / shares.length;
}

/** Healthy strings, those that are the case and those beside one, and how many of them are said to have something. */
export function falseAlarms(tally: Tally, at: IrradianceClass): { strings: number; alarms: number } {
  const own = [...tally.counts].filter(([truth]) => !truth.first).map(([, count]) => count[at]);
  const all: Count[] = [...own, tally.peers[at]];
  const strings = all.reduce((sum, { cases }) => sum + cases, 0);
  return { strings, alarms: strings - all.reduce((sum, { correct }) => sum + correct, 0) };
}

/** A table for each class of irradiance that has cases. */
export function tables(tally: Tally): string {
  const classes = Object.keys(irradianceClasses) as IrradianceClass[];
  return classes
    .filter((at) => [...tally.counts.values()].some((count) => count[at].cases > 0))
    .flatMap((at) => {
      const { strings, alarms } = falseAlarms(tally, at);
      const share = strings === 0 ? '' : ` (${((100 * alarms) / strings).toFixed(2)} %)`;
      return [
        `### ${irradianceClasses[at]}`,
        confusionTable(tally, at),
        `Mean over the faults: ${(100 * overall(tally, at)).toFixed(1)} % right. Healthy strings: ${strings}, with a false alarm: ${alarms}${share}.`,
      ];
    })
    .join('\n\n');
}
