/** What the verdicts ask for next, in words: which measurement to repeat, where to look, what is closed. */
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { formatDeviation } from './formatNumber.js';
import { timeText } from './sweepTexts.js';

export interface NextStep {
  readonly text: string;
  /** Something has to be disconnected or opened for it: show the cautions. */
  readonly disconnects: boolean;
}

/** One step a string, in the order of the campaign; none for a string whose latest sweep passed without trouble. */
export function nextSteps(evaluation: Evaluation): NextStep[] {
  const byString = new Map<string, EvaluatedSweep[]>();
  for (const sweep of evaluation.sweeps) {
    if (sweep.analysis.verdict === 'void') continue;
    const name = sweep.address.split('/')[0]!;
    byString.set(name, [...(byString.get(name) ?? []), sweep]);
  }
  const steps = [...byString].flatMap(([name, sweeps]) => stepOf(evaluation, name, sweeps) ?? []);
  const errors = evaluation.problems.filter((problem) => problem.severity === 'error').length;
  if (errors > 0) {
    const text = `Mend the ${errors === 1 ? 'error' : `${errors} errors`} listed as diagnostics; all else is computed already.`;
    steps.push({ text, disconnects: false });
  }
  return steps;
}

const failed = (sweep: EvaluatedSweep): boolean =>
  sweep.analysis.verdict === 'fail' || sweep.analysis.verdict === 'conditional fail';

const inTime = (a: EvaluatedSweep, b: EvaluatedSweep): number => (a.time ?? '').localeCompare(b.time ?? '');

function stepOf(
  evaluation: Evaluation,
  name: string,
  unordered: readonly EvaluatedSweep[],
): NextStep | undefined {
  const sweeps = [...unordered].sort(inTime);
  const whole = sweeps.filter((sweep) => !sweep.address.includes('/'));
  const latest = whole.at(-1) ?? sweeps.at(-1)!;
  const { verdict } = latest.analysis;
  if (verdict === 'not judged') return notJudgedStep(latest);
  if (verdict === 'fail') return failStep(evaluation, name, latest, sweeps);
  if (verdict === 'conditional fail' || verdict === 'conditional pass') return doubtfulStep(latest);
  return closedStep(evaluation, name, whole, latest);
}

function notJudgedStep(latest: EvaluatedSweep): NextStep {
  const reason =
    latest.analysis.reasons.find((candidate) => candidate.decisive) ?? latest.analysis.reasons[0];
  const weather = reason?.code.startsWith('condition-') ?? false;
  const lead = weather
    ? `Repeat ${latest.address} under the conditions of the criteria`
    : `Complete ${latest.address}`;
  return { text: `${lead}.${reason ? ` ${reason.text}` : ''}`, disconnects: false };
}

function failStep(
  evaluation: Evaluation,
  name: string,
  latest: EvaluatedSweep,
  sweeps: readonly EvaluatedSweep[],
): NextStep {
  const parts = sweeps.filter((sweep) => sweep.address.includes('/') && failed(sweep));
  const open = parts.filter((part) => !replacedSince(evaluation, part));
  if (latest.address.includes('/')) {
    return {
      text: `Replace ${latest.address} (${pmaxText(latest)}), then repeat the sweep of ${name} as counter-check.`,
      disconnects: true,
    };
  }
  if (open.length > 0) {
    const list = open.map((part) => `${part.address} (${pmaxText(part)})`).join(', ');
    return { text: `Replace ${list}, then repeat the sweep of ${name} as counter-check.`, disconnects: true };
  }
  if (parts.length > 0 && inTime(latest, parts.at(-1)!) < 0) {
    return { text: `Repeat the sweep of ${name} as counter-check of the replacement.`, disconnects: false };
  }
  return {
    text: `Find what pulls ${name} down (${pmaxText(latest)}): ${searchText(name, latest.target.seriesModules)}.`,
    disconnects: true,
  };
}

/** Halving finds one weak module among n in about log2(n) sweeps. */
function searchText(name: string, modules: number | undefined): string {
  if (modules === undefined || modules < 4) return `sweep its modules one by one, starting with ${name}/1`;
  const half = Math.ceil(modules / 2);
  return `sweep its halves ${name}/1-${half} and ${name}/${half + 1}-${modules}, then the modules of the weaker one`;
}

function doubtfulStep(latest: EvaluatedSweep): NextStep {
  const side = latest.analysis.verdict === 'conditional pass' ? 'within' : 'outside';
  return {
    text: `Decide on ${latest.address}: it is ${side} the limit by less than the uncertainty. More light, less drift or a better reference narrows it.`,
    disconnects: false,
  };
}

/** Says so when a failed string passed later. */
function closedStep(
  evaluation: Evaluation,
  name: string,
  whole: readonly EvaluatedSweep[],
  latest: EvaluatedSweep,
): NextStep | undefined {
  const fault = whole.find((sweep) => sweep !== latest && failed(sweep));
  if (!fault) return undefined;
  const replaced = evaluation.campaign.entries.flatMap(({ record }) =>
    record.kind === 'replace' && record.address.string === name ? [record.address.text] : [],
  );
  const cause = replaced.length > 0 ? `, ${replaced.join(', ')} was replaced` : '';
  const first = fault.analysis.verdict === 'fail' ? 'failed' : 'was in doubt';
  return {
    text: `${name} is closed: it ${first} at ${timeText(fault.time)}${cause}, and the counter-check at ${timeText(latest.time)} passed.`,
    disconnects: false,
  };
}

function replacedSince(evaluation: Evaluation, part: EvaluatedSweep): boolean {
  return evaluation.campaign.entries.some(
    ({ record }) =>
      record.kind === 'replace' &&
      record.address.text === part.address &&
      (record.time?.iso ?? '').slice(0, 16) >= (part.time ?? '').slice(0, 16),
  );
}

const pmaxText = (sweep: EvaluatedSweep): string => `Pmax ${formatDeviation(sweep.analysis.deviation.pmax)}`;
