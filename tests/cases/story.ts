/**
 * What happened to string S, told in lines: the blocks are read by the real notation, the verdicts are those of the line.
 * Everything is invented.
 */
import type { SweepAnalysis, Verdict } from '../../src/analysis/sweepAnalysis.js';
import type { Campaign } from '../../src/campaign/model.js';
import { casesOf } from '../../src/cases/casesOf.js';
import type { StringCase } from '../../src/cases/stringCase.js';
import type { CheckedSweep } from '../../src/checks/check.js';
import type { Cause, CauseCode, Diagnosis } from '../../src/diagnosis/diagnosis.js';
import { evaluateText } from '../evaluation/memoryFiles.js';

export interface Swept {
  readonly address: string;
  readonly verdict: Verdict;
  /** Of Pmax, a fraction. */
  readonly deviation?: number;
  readonly diagnosis?: Diagnosis;
  /** `09:05`; else a minute after the line before. */
  readonly at?: string;
}

/** A block as it is written, with `{time}` where its time stands. */
export type Line = Swept | string;

export const failed = (address: string, deviation = -0.1, more: Partial<Swept> = {}): Swept => ({
  address,
  verdict: 'fail',
  deviation,
  ...more,
});

export const passed = (address: string, more: Partial<Swept> = {}): Swept => ({
  address,
  verdict: 'pass',
  deviation: 0,
  ...more,
});

export const replaced = (address: string, serial = ''): string =>
  `replace ${address} at {time}${serial === '' ? '' : `\n  serial ${serial}`}`;

const about: Partial<Record<CauseCode, Cause['about']>> = {
  'temperature-wrong': 'conditions',
  'irradiance-wrong': 'conditions',
  'module-count-wrong': 'entry',
};

export function diagnosed(code: CauseCode, { substringsOut = 0, share = 0.9 } = {}): Diagnosis {
  const cause: Cause = {
    code,
    about: about[code] ?? 'device',
    text: `It looks like ${code}.`,
    figures: [],
    tellApart: 'A second look tells.',
    share,
  };
  return { healthy: false, findings: [], causes: [cause], substringsOut };
}

const minuteText = (minute: number): string =>
  `${String(8 + Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;

/** The campaign with the sweeps of a story, in the order in which the lines are written. */
export async function told(
  lines: readonly Line[],
  { count = 18, more = '' } = {},
): Promise<{ campaign: Campaign; sweeps: CheckedSweep[] }> {
  const blocks = lines.map((line, index) => {
    const time = `2026-05-14 ${(typeof line === 'string' ? undefined : line.at) ?? minuteText(index)}`;
    return typeof line === 'string' ? line.replace('{time}', time) : `sweep ${line.address} at ${time}`;
  });
  const text = [
    'module M\n  Pmax 400 W\n  substrings 3',
    `string S\n  modules ${count} x M`,
    ...blocks,
    more,
  ].join('\n\n');
  const { campaign, sweeps } = await evaluateText(text);
  const swept = lines.filter((line) => typeof line !== 'string');
  if (sweeps.length !== swept.length) throw new Error(`${sweeps.length} sweeps of ${swept.length} lines`);
  return {
    campaign,
    sweeps: sweeps.map((sweep, index) => {
      const { verdict, deviation, diagnosis } = swept[index]!;
      return { ...sweep, analysis: judged(sweep.analysis, verdict, deviation), diagnosis };
    }),
  };
}

function judged(analysis: SweepAnalysis, verdict: Verdict, pmax: number | undefined): SweepAnalysis {
  const uncertainty = { ...analysis.uncertainty, pmax: 0.015 };
  return { ...analysis, verdict, reasons: [], deviation: { ...analysis.deviation, pmax }, uncertainty };
}

export async function caseAfter(lines: readonly Line[], options?: { count?: number; more?: string }) {
  const { campaign, sweeps } = await told(lines, options);
  const [only, ...others] = casesOf(campaign, sweeps);
  if (!only || others.length > 0) throw new Error('one case is expected');
  return only;
}

/** The positions of one status. */
export const positionsWith = ({ modules }: StringCase, status: string): number[] =>
  modules.filter((each) => each.status === status).map(({ position }) => position);
