/** What one sweep says of the device it was taken on. */
import type { CheckedSweep } from '../checks/check.js';
import type { Cause, CauseCode } from '../diagnosis/diagnosis.js';

/** `none`: void or not judged, so that nothing follows. */
export type Outcome = 'good' | 'bad' | 'none';

/**
 * Faults of one place. Each is a fault however little power it costs; a loss that all modules share, such as soiling, is
 * one where it breaks the limit that was agreed.
 */
const localFaults: ReadonlySet<CauseCode> = new Set<CauseCode>([
  'substring-out',
  'module-low-current',
  'partial-shade',
  'series-resistance',
  'shunt',
]);

/** A leading cause with less of the evidence than this does not contradict a verdict. The project's own. */
const leastShare = 0.5;

/** The cause that leads, where it leads clearly. */
export function leadingCause({ diagnosis }: CheckedSweep): Cause | undefined {
  const first = diagnosis && !diagnosis.healthy ? diagnosis.causes[0] : undefined;
  return first && first.share >= leastShare ? first : undefined;
}

/** The fault of one place that the shape of the curve names; also where the verdict passes. */
export function shapeFault(sweep: CheckedSweep): Cause | undefined {
  const cause = leadingCause(sweep);
  return cause?.about === 'device' && localFaults.has(cause.code) ? cause : undefined;
}

export function outcomeOf(sweep: CheckedSweep): Outcome {
  switch (sweep.analysis.verdict) {
    case 'void':
    case 'not judged':
      return 'none';
    case 'fail':
    case 'conditional fail':
      return 'bad';
    case 'pass':
    case 'conditional pass':
      return shapeFault(sweep) ? 'bad' : 'good';
  }
}

/** Outside a limit by less than the uncertainty: one such sweep is repeated before anything is built on it. */
export const isDoubtful = ({ analysis }: CheckedSweep): boolean => analysis.verdict === 'conditional fail';

const words = {
  pass: 'Passed',
  'conditional pass': 'Passed by less than the uncertainty',
  'conditional fail': 'Failed by less than the uncertainty',
  fail: 'Failed',
  'not judged': 'Not judged',
  void: 'Void',
} as const;

/** `Failed`, `Passed, and its shape shows a fault`. */
export function outcomeText(sweep: CheckedSweep): string {
  const word = words[sweep.analysis.verdict];
  return word.startsWith('Passed') && shapeFault(sweep) ? `${word}, and its shape shows a fault` : word;
}
