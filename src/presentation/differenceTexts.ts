/** The difference of two campaigns in words: first what turned, then why, then the sweeps one by one. */
import type { ElectricalTest } from '../electricalTests/electricalTest.js';
import type { Change } from '../difference/changes.js';
import {
  comparedParameters,
  type Cause,
  type CauseMovement,
  type Difference,
  type MovedSweep,
  type Movement,
  type Spread,
  type SweepTurn,
  type Turn,
} from '../difference/difference.js';
import type { EvaluatedSweep, VerdictCounts } from '../evaluation/evaluation.js';
import type { FileProblem } from '../text/problem.js';
import type { Place } from '../text/place.js';
import { addressList } from './addressList.js';
import type { Brief, BriefItem, BriefSection } from './brief.js';
import { diagnosisHeadline } from './diagnosisTexts.js';
import { formatDeviation, formatPercent, formatToUncertainty, missing } from './formatNumber.js';
import { sourcePlace, type ChangedPlace } from './sourcePlace.js';
import { parameterSymbols, sweepTitle, timeText } from './sweepTexts.js';
import type { Column } from './terminalText.js';
import { verdictCounts, verdictMark } from './verdictWords.js';

/** Names of files in either campaign. */
export interface DifferenceNames {
  readonly before: (file: string) => string;
  readonly after: (file: string) => string;
}

export function differenceBrief(difference: Difference, title: string, names: DifferenceNames): Brief {
  const words = wordSections(difference, names);
  return {
    title,
    summary: summaryOf(difference),
    sections: [
      ...listed('Verdicts that turned', difference.verdicts.map(turnedVerdict)),
      ...words.filter(({ isDetail }) => !isDetail),
      ...sweepSection(difference),
      ...words.filter(({ isDetail }) => isDetail),
    ],
  };
}

/** All but the sweeps one by one: why, and what else changed. */
export function wordSections(difference: Difference, names: DifferenceNames): BriefSection[] {
  return [
    ...listed('Why', causeItems(difference, names)),
    ...listed('Cases and tests', [
      ...difference.cases.map(({ cases, ...turn }) => item(`string ${cases.after.string}`, turn)),
      ...difference.tests.map(({ tests, ...turn }) => item(testTitle(tests.after), turn)),
    ]),
    ...listed('Diagnoses', difference.diagnoses.map(turnedDiagnosis)),
    ...listed('Came and went', cameAndWent(difference)),
    ...listed('Problems', problemItems(difference, names)),
    ...quietSections(difference, names),
  ];
}

function listed(title: string, items: readonly BriefItem[], isDetail?: boolean): BriefSection[] {
  return items.length > 0 ? [{ title, items, isDetail }] : [];
}

const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

/** Sentences for the top: how much changed, and how the verdicts stand. */
export function summaryOf(difference: Difference): string[] {
  const { threshold, movedLess, before, after } = difference;
  const less =
    movedLess > 0
      ? [`${counted(movedLess, 'sweep')} moved by less than ${thresholdText(threshold)}, which is not told.`]
      : [];
  const untraced =
    difference.untraced > 0
      ? [`${difference.untraced} inputs changed, too many to make each change alone: causes are not told.`]
      : [];
  if (!difference.isChanged) return ['No change of results.', ...less];
  const parts = [
    ...many(difference.verdicts, 'verdict', 'turned'),
    ...many(difference.moved, 'sweep', `moved by more than ${thresholdText(threshold)}`),
    ...beyondUncertainty(difference),
    ...many(difference.cases, 'case', 'changed'),
    ...many(difference.tests, 'electrical test', 'turned'),
    ...many(difference.diagnoses, 'diagnosis', 'changed', 'diagnoses'),
    ...many(difference.sweepsAdded, 'sweep', 'added'),
    ...many(difference.sweepsRemoved, 'sweep', 'removed'),
    ...many(difference.testsAdded, 'electrical test', 'added'),
    ...many(difference.testsRemoved, 'electrical test', 'removed'),
    ...many(difference.problemsAdded, 'problem', 'new'),
    ...many(difference.problemsRemoved, 'problem', 'gone'),
  ];
  const [first, ...others] = parts;
  const counts = changedCounts(before.counts, after.counts);
  return [
    `${[first, ...others].join(', ')}.`,
    ...(counts === '' ? [] : [`${counts}.`]),
    ...less,
    ...untraced,
  ];
}

/** `21 of them by more than the uncertainty (Voc of 21 by up to +1.0 %, U = 0.8 %)`. */
function beyondUncertainty({ moved }: Difference): string[] {
  const beyond = moved.map(({ movements }) => movements.filter((each) => each.beyondUncertainty));
  const count = beyond.filter((each) => each.length > 0).length;
  if (count === 0) return [];
  const parameters = comparedParameters.flatMap((parameter) => {
    const own = beyond.flat().filter((each) => each.parameter === parameter);
    if (own.length === 0) return [];
    const farthest = own.reduce((a, b) => (Math.abs(moveOf(b)) > Math.abs(moveOf(a)) ? b : a));
    const by = `${own.length > 1 ? 'up to ' : ''}${moveText(moveOf(farthest))}`;
    return [
      `${parameterSymbols[parameter]} of ${own.length} by ${by}, U = ${formatPercent(farthest.after.uncertainty)}`,
    ];
  });
  return [`${count} of them by more than the uncertainty (${parameters.join('; ')})`];
}

/** The farther of the moves of a value and of its deviation from nameplate. */
function moveOf({ change = 0, deviationChange = 0 }: Movement): number {
  return Math.abs(deviationChange) > Math.abs(change) ? deviationChange : change;
}

function many(list: readonly unknown[], one: string, what: string, several = `${one}s`): string[] {
  return list.length > 0 ? [`${counted(list.length, one, several)} ${what}`] : [];
}

function changedCounts(before: VerdictCounts, after: VerdictCounts): string {
  const old = verdictCounts(before);
  return verdictCounts(after)
    .flatMap(({ mark, count }, index) =>
      count === old[index]!.count ? [] : [`${mark.word} ${old[index]!.count} -> ${count}`],
    )
    .join(', ');
}

function item(subject: string, turn: Turn): BriefItem {
  return { text: `${subject}: ${turn.before} -> ${turn.after}${byText(turn)}` };
}

function turnedVerdict({ sweeps, ...turn }: SweepTurn): BriefItem {
  return item(sweepTitle(sweeps.after), turn);
}

function turnedDiagnosis({ sweeps, ...turn }: SweepTurn): BriefItem {
  const [before, after] = [sweeps.before, sweeps.after].map(({ diagnosis }) =>
    // A sentence of its own elsewhere.
    diagnosisHeadline(diagnosis!).replace(/\.$/, ''),
  );
  return {
    text: `${sweepTitle(sweeps.after)}: ${before} -> ${after}${byText(turn)}`,
    at: sweepPlaces(sweeps.before, sweeps.after),
  };
}

/** Of the blocks, or of the rows of tables, that a sweep is written in. */
export function sweepPlaces(before?: EvaluatedSweep, after?: EvaluatedSweep): ChangedPlace {
  return { before: before && sourcePlace(before.place), after: after && sourcePlace(after.place) };
}

function byText({ traced, changes }: Turn): string {
  const names = changes.map(subjectText);
  if (traced === 'not traced') return '; not traced to one of the changes';
  if (traced === 'together') return `; by ${addressList(names)} together`;
  return names.length === 1 ? `; by ${names[0]!}` : `; by each of ${addressList(names)} alone`;
}

/** `beta of module KF108M`, `table sweeps/1.03.csv`, `sweep 1.03 at 2026-05-14 11:42`. */
export function subjectText({ subject, property }: Change): string {
  const name = [subject.kind, subject.name].join(' ').trim();
  const inner = property === undefined || property === 'header' ? undefined : property;
  return inner === undefined ? name : `${inner} of ${name}`;
}

/** `beta of module KF108M from -0.27 %/K to -0.29 %/K`. */
export function changeText(change: Change): string {
  const { kind, property, before, after, detail } = change;
  const subject = subjectText(change);
  if (change.subject.kind === 'table')
    return detail === undefined ? `${subject} changed` : `${subject} (${detail})`;
  if (kind === 'renamed' || property === 'header') return `${before!.text} -> ${after!.text}`;
  if (kind === 'changed') return `${subject} from ${before!.text} to ${after!.text}`;
  if (property === undefined) return `${subject} ${kind}`;
  return `${subject} ${kind} (${(after ?? before)!.text})`;
}

/** Line on both sides, once where it is the same. */
export function changePlaces({ before, after }: Change, names: DifferenceNames): string[] {
  const at = (place: Place | undefined, display: (file: string) => string): string | undefined =>
    place && `${display(place.file)}:${place.range.start.line + 1}`;
  const places = [at(before?.place, names.before), at(after?.place, names.after)];
  const [old, now] = places;
  return [old === now ? (now ?? '') : places.filter((place) => place !== undefined).join(' -> ')];
}

function causeItems({ causes }: Difference, names: DifferenceNames): BriefItem[] {
  return causes
    .filter((cause) => !onlyBringsItself(cause))
    .map((cause) => ({ text: causeSentence(cause), ...placed(cause.change, names) }));
}

/** A sweep that was added or removed is told as such already. */
function onlyBringsItself({
  change,
  movements,
  verdicts,
  cases,
  tests,
  diagnoses,
  cancelled,
}: Cause): boolean {
  const others = [movements, verdicts, cases, tests, diagnoses].some((each) => each.length > 0);
  return change.property === undefined && change.subject.kind === 'sweep' && !others && cancelled === 0;
}

/** Its lines on both sides, as text and to go there. */
export function placed(change: Change, names: DifferenceNames): Pick<BriefItem, 'places' | 'at'> {
  const { before, after } = change;
  return {
    places: changePlaces(change, names),
    at: { before: before && sourcePlace(before.place), after: after && sourcePlace(after.place) },
  };
}

/** `beta of module KF108M from … to … moved Pmax of 18 sweeps by +0.4 % (median; +0.2 % to +0.5 %); turned 1 verdict (1.03 pass to fail)`. */
export function causeSentence(cause: Cause): string {
  const { change, movements, verdicts, cases, tests, diagnoses, cancelled } = cause;
  const effects = [
    ...(movements.length > 0 ? [`moved ${movements.map(movementText).join(', ')}`] : []),
    ...(verdicts.length > 0 ? [verdictsText(verdicts)] : []),
    ...(cases.length > 0
      ? [`changed the case of ${addressList(cases.map(({ cases: { after } }) => after.string))}`]
      : []),
    ...(tests.length > 0 ? [`turned ${counted(tests.length, 'electrical test')}`] : []),
    ...(diagnoses.length > 0 ? [`changed ${counted(diagnoses.length, 'diagnosis', 'diagnoses')}`] : []),
    ...(cause.sweepsAdded.length > 0 ? [`brought ${counted(cause.sweepsAdded.length, 'sweep')}`] : []),
    ...(cause.sweepsRemoved.length > 0 ? [`took away ${counted(cause.sweepsRemoved.length, 'sweep')}`] : []),
    ...(cancelled > 0
      ? [`would move ${counted(cancelled, 'sweep')} more alone, where other changes act against it`]
      : []),
  ];
  const isWhole = change.property === undefined && change.subject.kind !== 'table';
  return `${changeText(change)}${isWhole ? ':' : ''} ${effects.join('; ')}`;
}

function movementText(movement: CauseMovement, index: number): string {
  const { parameter, sweeps, change, deviationChange, uncertaintyChange } = movement;
  const symbol = parameterSymbols[parameter];
  const of = index === 0 ? ` of ${counted(sweeps, 'sweep')}` : ` (${sweeps})`;
  if (change && isWorthTelling(change)) return `${symbol}${of} by ${spreadText(change, sweeps)}`;
  if (deviationChange && isWorthTelling(deviationChange))
    return `the deviation of ${symbol}${of} by ${spreadText(deviationChange, sweeps)}`;
  if (uncertaintyChange)
    return `the uncertainty of ${symbol}${of} by ${spreadText(uncertaintyChange, sweeps)}`;
  return `${symbol}${of} between known and not known`;
}

const isWorthTelling = ({ least, most }: Spread): boolean => Math.max(-least, most) >= 5e-5;

function spreadText({ median, least, most }: Spread, sweeps: number): string {
  if (sweeps === 1) return moveText(median);
  const range = moveText(least) === moveText(most) ? '' : `; ${moveText(least)} to ${moveText(most)}`;
  return `${moveText(median)} (median${range})`;
}

const thresholdText = (fraction: number): string => `${Number((100 * fraction).toPrecision(4))} %`;

/** One decimal, and a second one where the first would say nothing. */
export function moveText(fraction: number | undefined): string {
  return formatDeviation(fraction, Math.abs(fraction ?? 0) < 0.001 ? 2 : 1);
}

function verdictsText(verdicts: readonly SweepTurn[]): string {
  const groups = new Map<string, string[]>();
  for (const { sweeps, before, after, traced } of verdicts) {
    const how = `${before} to ${after}${traced === 'together' ? ', with others' : ''}`;
    groups.set(how, [...(groups.get(how) ?? []), sweeps.after.address]);
  }
  const told = [...groups].map(([how, addresses]) => `${addressList(addresses)} ${how}`);
  return `turned ${counted(verdicts.length, 'verdict')} (${told.join('; ')})`;
}

function cameAndWent({ sweepsAdded, sweepsRemoved, testsAdded, testsRemoved }: Difference): BriefItem[] {
  return [
    ...sweepsAdded.map((sweep) => ({
      text: `sweep ${sweepTitle(sweep)} added: ${sweep.analysis.verdict}`,
      at: sweepPlaces(undefined, sweep),
    })),
    ...sweepsRemoved.map((sweep) => ({
      text: `sweep ${sweepTitle(sweep)} removed; it was ${sweep.analysis.verdict}`,
      at: sweepPlaces(sweep),
    })),
    ...testsAdded.map((test) => ({ text: `${testTitle(test)} added: ${test.verdict}` })),
    ...testsRemoved.map((test) => ({ text: `${testTitle(test)} removed; it was ${test.verdict}` })),
  ];
}

export function testTitle({ kind, address, time }: ElectricalTest): string {
  return `${kind} of ${address}${time === undefined ? '' : ` at ${timeText(time)}`}`;
}

function problemItems({ problemsAdded, problemsRemoved }: Difference, names: DifferenceNames): BriefItem[] {
  const told = (problem: FileProblem, word: string, side: 'before' | 'after'): BriefItem => ({
    text: `${word} ${problem.severity}: ${problem.message}`,
    places: [`${names[side](problem.file)}:${problem.range.start.line + 1}`],
    at: { [side]: sourcePlace(problem) },
  });
  return [
    ...problemsAdded.map((problem) => told(problem, 'new', 'after')),
    ...problemsRemoved.map((problem) => told(problem, 'gone', 'before')),
  ];
}

/** Inputs that changed and are the cause of nothing that is told, and words. */
function quietSections(
  { changes, causes, slight, untraced, threshold }: Difference,
  names: DifferenceNames,
): BriefSection[] {
  const strong = new Set(causes.map(({ change }) => change));
  const quiet = changes.filter((change) => !strong.has(change));
  const section = (title: string, isMeant: (change: Change) => boolean): BriefSection[] =>
    listed(
      title,
      quiet.filter(isMeant).map((change) => ({ text: changeText(change), ...placed(change, names) })),
      true,
    );
  const isSlight = (change: Change): boolean => slight.includes(change);
  const isUntraced = ({ wordsOnly }: Change): boolean => untraced > 0 && !wordsOnly;
  return [
    ...section(`Moved sweeps by less than ${thresholdText(threshold)} only`, isSlight),
    ...section('Changed, and not made alone', isUntraced),
    ...section('Changed without effect on the results', (change) => !isSlight(change) && !isUntraced(change)),
  ];
}

const columns: readonly Column[] = [
  { title: 'sweep', align: 'left' },
  { title: 'Pmax before', align: 'right' },
  { title: 'after', align: 'right' },
  { title: 'change', align: 'right' },
  { title: 'from nameplate', align: 'right' },
  { title: 'U (95 %)', align: 'right' },
  { title: 'also', align: 'left' },
  { title: 'verdict', align: 'left' },
];

function sweepSection({ moved, verdicts }: Difference): BriefSection[] {
  if (moved.length === 0) return [];
  const turned = new Map(verdicts.map(({ sweeps, before }) => [sweeps.after, before]));
  const rows = moved.map((sweep) => sweepRow(sweep, turned.get(sweep.after)));
  return [{ title: 'Sweeps that moved, at STC', table: { columns, rows }, isDetail: true }];
}

function sweepRow({ before, after, movements }: MovedSweep, formerly: string | undefined): string[] {
  const [old, now] = [before.analysis, after.analysis];
  const pmax = ({ translated, uncertainty }: typeof now): string =>
    formatToUncertainty(translated?.parameters.pmax, uncertainty.pmax, 'W');
  const own = movements.find(({ parameter }) => parameter === 'pmax');
  const [was, is] = [formatDeviation(old.deviation.pmax), formatDeviation(now.deviation.pmax)];
  return [
    sweepTitle(after),
    pmax(old),
    pmax(now),
    own?.change === undefined ? missing : moveText(own.change),
    was === is ? is : `${was} -> ${is}`,
    formatPercent(now.uncertainty.pmax),
    otherMovements(movements).join(', '),
    `${formerly === undefined ? '' : `${formerly} -> `}${verdictMark(now.verdict).word}`,
  ];
}

/** Of other parameters than Pmax: `Voc +0.5 %`. */
export function otherMovements(movements: readonly Movement[]): string[] {
  return movements.flatMap(otherText);
}

function otherText({ parameter, change }: Movement): string[] {
  if (parameter === 'pmax' || change === undefined || Math.abs(change) < 5e-5) return [];
  return [`${parameterSymbols[parameter]} ${moveText(change)}`];
}
