/** What `check` writes to a terminal. */
import { vocShift } from '../cases/likelyCause.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { addressList } from './addressList.js';
import { sweepListItem } from './campaignModel.js';
import { caseStory, evidenceLine, isNoted } from './caseTexts.js';
import { stateMark, stateOrder } from './caseWords.js';
import { cautions, cautionsTitle } from './cautions.js';
import { electricalLines } from './electricalText.js';
import { compositionSentence, historyLines, peerLines } from './comparisonTexts.js';
import { missing } from './formatNumber.js';
import { nextSteps } from './nextSteps.js';
import type { SweepListItem } from './previewTypes.js';
import { alignedRows, printable, type Column } from './terminalText.js';
import { unmeasuredText } from './unmeasured.js';
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
  { title: 'U (95 %)', align: 'right' },
  { title: 'verdict', align: 'left' },
];

/** Aligned lines, what decided, summary, what to do next. Ends with a line break. */
export function sweepTable(evaluation: Evaluation, options: TextOptions): string {
  const paint = options.paint ?? ((text: string) => text);
  const items = evaluation.sweeps.map(sweepListItem);
  const day = onlyDay(items);
  const lines = [paint(printable(titleLine(evaluation)), 'strong') + (day ? `  ${day}` : ''), ''];
  if (items.length > 0) lines.push(...tableLines(items, day, options, paint), '');
  lines.push(...reasonLines(evaluation, items, options, paint));
  lines.push(paint(countsLine(evaluation.counts), 'strong'));
  const unmeasured = unmeasuredText(evaluation);
  if (unmeasured !== undefined) lines.push(printable(unmeasured));
  const electrical = electricalLines(evaluation, options);
  if (electrical.length > 0) lines.push('', ...electrical);
  lines.push(...caseLines(evaluation, options, paint));
  lines.push(...section('Peers', peerLines(evaluation), paint));
  lines.push(...section('Degradation', historyLines(evaluation), paint));
  lines.push(...nextLines(evaluation, paint));
  return plainWhereAsked(lines.join('\n') + '\n', options);
}

const section = (title: string, lines: readonly string[], paint: Painter): string[] =>
  lines.length > 0 ? ['', paint(title, 'strong'), ...lines] : [];

function titleLine(evaluation: Evaluation): string {
  const record = evaluation.campaign.campaign?.record;
  if (!record) return 'Campaign without a name';
  return record.title ? `${record.name.text}: ${record.title}` : record.name.text;
}

/** The day of all sweeps, said once so that a line fits into 80 columns; undefined where there are several. */
function onlyDay(items: readonly SweepListItem[]): string | undefined {
  const days = new Set(items.map(({ time }) => (time === missing ? undefined : time.slice(0, 10))));
  return days.size === 1 ? [...days][0] : undefined;
}

function tableLines(
  items: readonly SweepListItem[],
  day: string | undefined,
  options: TextOptions,
  paint: Painter,
): string[] {
  const rows = items.map((item) => [
    options.ascii ? item.verdict.ascii : item.verdict.symbol,
    item.address,
    day === undefined ? item.time : item.time.slice(day.length + 1),
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

/** What is said of this many sweeps in the same words is said once. */
const saidOften = 3;

interface Said {
  readonly item: SweepListItem;
  readonly text: string;
  /** It decides, or heads what is said of the sweep. */
  readonly heads: boolean;
  /** What is alike in all that may be said once. */
  readonly likeness: string;
  /** Kelvin by which Voc contradicts the temperature given, in what is said of that. */
  readonly shift?: number;
}

/** Panel, page and JSON carry these too; in a terminal they would stand beside every sweep. */
const unsaid: ReadonlySet<string> = new Set(['limit-pass', 'procedure-chosen']);

/** All that is said of a sweep, its headline first, save that a limit holds and which procedure `auto` took. */
function saidOf(sweep: EvaluatedSweep, item: SweepListItem): Said[] {
  const { reasons, verdict } = sweep.analysis;
  return reasons
    .filter(({ code, text }) => !unsaid.has(code) || text === item.headline)
    .map(({ code, text, decisive }): Said => {
      const heads = decisive || text === item.headline;
      const shift = code === 'voc-temperature' ? vocShift(sweep) : undefined;
      const words = shift === undefined ? text : `${code} ${Math.sign(shift)}`;
      return { item, text, heads, shift, likeness: JSON.stringify([heads && item.verdict.word, words]) };
    })
    .filter(({ heads }) => heads || verdict !== 'void')
    .sort((a, b) => Number(b.text === item.headline) - Number(a.text === item.headline));
}

/** The reasons of each sweep, then what was said of many. */
function reasonLines(
  evaluation: Evaluation,
  items: readonly SweepListItem[],
  options: TextOptions,
  paint: Painter,
): string[] {
  const said = evaluation.sweeps.map((sweep, index) => saidOf(sweep, items[index]!));
  const groups = new Map<string, Said[]>();
  for (const each of said.flat()) groups.set(each.likeness, [...(groups.get(each.likeness) ?? []), each]);
  const isOften = ({ likeness }: Said): boolean => groups.get(likeness)!.length >= saidOften;
  const markOf = ({ verdict }: SweepListItem): string =>
    paint(options.ascii ? verdict.ascii : verdict.symbol, verdict.tone);
  const own = said.flatMap((all) =>
    all
      .filter((each) => !isOften(each))
      .map(({ item, text }, index) => {
        if (index > 0) return `   ${printable(text)}`;
        const title = item.time === missing ? item.address : `${item.address} at ${item.time}`;
        return `${markOf(item)}  ${printable(title)}: ${printable(text)}`;
      }),
  );
  const many = [...groups.values()]
    .filter((group) => isOften(group[0]!))
    .map((group) => {
      const mark = group[0]!.heads ? markOf(group[0]!.item) : ' ';
      const who = addressList(group.map(({ item }) => item.address));
      return `${mark}  ${printable(who)}: ${printable(textOfMany(group))}`;
    });
  return [own, many].flatMap((lines) => (lines.length > 0 ? [...lines, ''] : []));
}

/** The text itself where all have the same; where Voc contradicts many temperatures, by how much it does. */
function textOfMany(group: readonly Said[]): string {
  const { text } = group[0]!;
  if (group.every((each) => each.text === text)) return text;
  const kelvins = group.map(({ shift }) => Math.round(Math.abs(shift ?? 0)));
  const [least, most] = [Math.min(...kelvins), Math.max(...kelvins)];
  const span = least === most ? `${least} K` : `${least} to ${most} K`;
  const causes = text.slice(text.lastIndexOf(': ') + 2);
  return `Voc would fit cells ${span} ${group[0]!.shift! > 0 ? 'warmer' : 'colder'} than given (IEC 60904-5): ${causes}`;
}

function nextLines(evaluation: Evaluation, paint: Painter): string[] {
  const steps = nextSteps(evaluation);
  if (steps.length === 0) return [];
  const lines = ['', paint('Next', 'strong')];
  for (const { text, why } of steps) {
    lines.push(`- ${printable(text)}`);
    if (why !== undefined) lines.push(paint(`  ${printable(why)}`, 'muted'));
  }
  if (!steps.some((step) => step.disconnects)) return lines;
  const title = paint(cautionsTitle, 'doubtful');
  return [...lines, '', title, ...cautions.map((caution) => `- ${caution}`)];
}

/** Strings that are or were at fault, those that ask for work first. */
function caseLines(evaluation: Evaluation, options: TextOptions, paint: Painter): string[] {
  const noted = evaluation.cases
    .filter(isNoted)
    .sort((a, b) => stateOrder.indexOf(a.state) - stateOrder.indexOf(b.state));
  const lines = noted.flatMap((each) => {
    const { symbol, ascii, word, tone } = stateMark(each.state);
    const story = caseStory(each);
    const head = `${paint(options.ascii ? ascii : symbol, tone)}  ${printable(each.string)} ${paint(word, tone)}`;
    const evidence = evidenceLine(each);
    const composition = compositionSentence(evaluation, each.string);
    return [
      story === '' ? head : `${head}: ${printable(story)}`,
      ...(evidence === '' ? [] : [paint(`   ${printable(evidence)}`, 'muted')]),
      ...(composition === undefined ? [] : [`   ${printable(composition)}`]),
    ];
  });
  return lines.length > 0 ? ['', paint('Cases', 'strong'), ...lines] : [];
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
