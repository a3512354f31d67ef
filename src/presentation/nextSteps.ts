/** What the verdicts ask for next, in words: which measurement to repeat, where to look, what is closed. */
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { addressList } from './addressList.js';
import { formatDeviation } from './formatNumber.js';
import { commonCauses, likelyCause } from './likelyCause.js';
import { timeText } from './sweepTexts.js';

export interface NextStep {
  readonly text: string;
  /** Something has to be disconnected or opened for it, if only to connect a tracer: show the cautions. */
  readonly disconnects: boolean;
}

/**
 * Errors first, since they may be why something is not judged; then what many strings have in common; then one step a
 * string, in the order of the campaign, equal ones in one. None for a string whose latest sweep passed without trouble.
 */
export function nextSteps(evaluation: Evaluation): NextStep[] {
  const byString = new Map<string, EvaluatedSweep[]>();
  for (const sweep of evaluation.sweeps) {
    if (sweep.analysis.verdict === 'void') continue;
    const name = sweep.address.split('/')[0]!;
    byString.set(name, [...(byString.get(name) ?? []), sweep]);
  }
  const common = commonCauses(evaluation);
  const doubted = new Set(common.flatMap(({ sweeps }) => [...sweeps]));
  const steps = [...byString].flatMap(([name, sweeps]) => stepOf(evaluation, name, sweeps, doubted) ?? []);
  return [
    ...errorSteps(evaluation),
    ...common.map(({ text }) => ({ text, disconnects: false })),
    ...inOne(steps),
    ...nothingYet(evaluation),
  ];
}

function nothingYet({ sweeps, problems }: Evaluation): NextStep[] {
  if (sweeps.length > 0 || problems.length > 0) return [];
  const text =
    'Write a sweep, such as `sweep 1.03 at 2026-05-14 11:42`, and under it what it was taken with: nothing is judged yet.';
  return [{ text, disconnects: false }];
}

function errorSteps({ problems }: Evaluation): NextStep[] {
  const errors = problems.filter((problem) => problem.severity === 'error').length;
  if (errors === 0) return [];
  const text = `Mend the ${errors === 1 ? 'error' : `${errors} errors`} listed as diagnostics; all else is computed already.`;
  return [{ text, disconnects: false }];
}

/** A step of one string: what to do, with what, and why. */
interface StringStep {
  readonly lead: string;
  readonly address?: string;
  readonly rest: string;
  readonly disconnects: boolean;
}

/** Steps that differ in their address alone are said once. */
function inOne(steps: readonly StringStep[]): NextStep[] {
  const groups = new Map<string, StringStep[]>();
  for (const step of steps) {
    const key = JSON.stringify([step.lead, step.rest]);
    groups.set(key, [...(groups.get(key) ?? []), step]);
  }
  return [...groups.values()].map((group) => {
    const { lead, rest, disconnects } = group[0]!;
    const addresses = group.flatMap(({ address }) => address ?? []);
    return {
      text: [lead, addressList(addresses)].filter((part) => part !== '').join(' ') + rest,
      disconnects,
    };
  });
}

const failed = (sweep: EvaluatedSweep): boolean =>
  sweep.analysis.verdict === 'fail' || sweep.analysis.verdict === 'conditional fail';

const isPart = ({ address }: EvaluatedSweep): boolean => address.includes('/');

const inTime = (a: EvaluatedSweep, b: EvaluatedSweep): number => (a.time ?? '').localeCompare(b.time ?? '');

function stepOf(
  evaluation: Evaluation,
  name: string,
  unordered: readonly EvaluatedSweep[],
  doubted: ReadonlySet<EvaluatedSweep>,
): StringStep | undefined {
  const sweeps = [...unordered].sort(inTime);
  const whole = sweeps.filter((sweep) => !isPart(sweep));
  const latest = whole.at(-1) ?? sweeps.at(-1)!;
  const { verdict } = latest.analysis;
  const open = openParts(evaluation, sweeps);
  const modules = open.filter(({ target }) => target.seriesModules === 1);
  if (modules.length > 0) {
    const list = modules.map((part) => `${part.address} (${pmaxText(part)})`).join(', ');
    return said(`Replace ${list}, then repeat the sweep of ${name} as counter-check.`, true);
  }
  if (verdict === 'not judged') return notJudgedStep(latest);
  if (verdict === 'fail') return failStep(evaluation, latest, sweeps, open, doubted);
  if (verdict === 'conditional fail' || verdict === 'conditional pass') return doubtfulStep(latest);
  return closedStep(evaluation, name, whole, latest);
}

function notJudgedStep(latest: EvaluatedSweep): StringStep {
  const { reasons } = latest.analysis;
  const reason = reasons.find((candidate) => candidate.decisive) ?? reasons[0];
  const why = reason ? ` ${reason.text}` : '';
  const weather = reason?.code.startsWith('condition-') ?? false;
  return weather
    ? {
        lead: 'Repeat',
        address: latest.address,
        rest: ` under the conditions of the criteria.${why}`,
        disconnects: true,
      }
    : { lead: 'Complete', address: latest.address, rest: `.${why}`, disconnects: false };
}

const said = (rest: string, disconnects: boolean): StringStep => ({ lead: '', rest, disconnects });

function failStep(
  evaluation: Evaluation,
  latest: EvaluatedSweep,
  sweeps: readonly EvaluatedSweep[],
  open: readonly EvaluatedSweep[],
  doubted: ReadonlySet<EvaluatedSweep>,
): StringStep | undefined {
  const section = open.at(-1);
  if (section) return said(searchStep(section), true);
  const parts = sweeps.filter((sweep) => isPart(sweep) && failed(sweep));
  if (parts.length > 0 && inTime(latest, parts.at(-1)!) < 0)
    return said(`Repeat the sweep of ${latest.address} as counter-check of the replacement.`, true);
  if (doubted.has(latest)) return undefined;
  const cause = likelyCause(evaluation, latest);
  if (!cause) return said(searchStep(latest), true);
  if (cause.searchFirst) return said(`${searchStep(latest)} ${cause.text}`, true);
  return said(`Doubt ${latest.address} (${pmaxText(latest)}) before it is opened. ${cause.text}`, true);
}

function searchStep(sweep: EvaluatedSweep): string {
  return `Find what pulls ${sweep.address} down (${pmaxText(sweep)}): ${searchText(sweep)}.`;
}

/** Halving finds one weak module among n in about log2(n) sweeps. */
function searchText(sweep: EvaluatedSweep): string {
  const { string: name, first } = positionsOf(sweep);
  const modules = sweep.target.seriesModules;
  if (modules === undefined || modules < 4)
    return `sweep its modules one by one, starting with ${name}/${first}`;
  const half = Math.ceil(modules / 2);
  const last = first + modules - 1;
  return `sweep its halves ${name}/${first}-${first + half - 1} and ${name}/${first + half}-${last}, then the modules of the weaker one`;
}

function doubtfulStep(latest: EvaluatedSweep): StringStep {
  const side = latest.analysis.verdict === 'conditional pass' ? 'within' : 'outside';
  return {
    lead: 'Decide on',
    address: latest.address,
    rest: `: ${side} the limit by less than the uncertainty. More light, less drift or a better reference narrows it.`,
    disconnects: false,
  };
}

/** Says so when a failed string passed later. */
function closedStep(
  evaluation: Evaluation,
  name: string,
  whole: readonly EvaluatedSweep[],
  latest: EvaluatedSweep,
): StringStep | undefined {
  const fault = whole.find((sweep) => sweep !== latest && failed(sweep));
  if (!fault) return undefined;
  const replaced = evaluation.campaign.entries.flatMap(({ record }) =>
    record.kind === 'replace' && record.address.string === name ? [record.address.text] : [],
  );
  const cause = replaced.length > 0 ? `, ${replaced.join(', ')} was replaced` : '';
  const first = fault.analysis.verdict === 'fail' ? 'failed' : 'was in doubt';
  return said(
    `${name} is closed: it ${first} at ${timeText(fault.time)}${cause}, and the counter-check at ${timeText(latest.time)} passed.`,
    false,
  );
}

/** Modules and sections whose latest sweep failed and in which nothing was replaced since. `sweeps` is in order of time. */
function openParts(evaluation: Evaluation, sweeps: readonly EvaluatedSweep[]): EvaluatedSweep[] {
  const latest = new Map(sweeps.filter(isPart).map((sweep) => [sweep.address, sweep]));
  return [...latest.values()].filter(
    (part) => part.analysis.verdict === 'fail' && !replacedSince(evaluation, part),
  );
}

function replacedSince(evaluation: Evaluation, part: EvaluatedSweep): boolean {
  const { string, first, last } = positionsOf(part);
  return evaluation.campaign.entries.some(
    ({ record }) =>
      record.kind === 'replace' &&
      record.address.string === string &&
      (record.address.first ?? 0) >= first &&
      (record.address.last ?? record.address.first ?? 0) <= last &&
      (record.time?.iso ?? '').slice(0, 16) >= (part.time ?? '').slice(0, 16),
  );
}

/** `1.03/10-18`: the modules 10 to 18 of 1.03. */
function positionsOf({ address }: EvaluatedSweep): { string: string; first: number; last: number } {
  const [string, positions] = address.split('/');
  const [first, last] = (positions ?? '1').split('-').map(Number);
  return { string: string!, first: first!, last: last ?? first! };
}

const pmaxText = (sweep: EvaluatedSweep): string => `Pmax ${formatDeviation(sweep.analysis.deviation.pmax)}`;
