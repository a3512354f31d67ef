/** Each sweep with its diagnosis, and translated anew where that tells of substrings out of the current path. */
import type { ModuleRecord } from '../campaign/model.js';
import { diagnose } from '../diagnosis/diagnose.js';
import type { Diagnosis } from '../diagnosis/diagnosis.js';
import type { Peers } from '../diagnosis/peers.js';
import { reducedAnalysis, targetItems } from './analyses.js';
import type { EvaluatedSweep } from './evaluation.js';
import { Remembered } from './remembered.js';

const diagnoses = new Remembered<Diagnosis | undefined>();
const diagnosed = new Remembered<EvaluatedSweep>();

type Analysed = Pick<EvaluatedSweep, 'target' | 'reading' | 'analysis'>;

const dependenciesOf = (
  { target, reading }: Analysed,
  peers: Peers | undefined,
  otherTypes: readonly ModuleRecord[],
): unknown[] => [reading, ...targetItems(target), ...numbersOf(peers), ...otherTypes];

export const isDiagnosed = (
  sweep: Analysed,
  peers: Peers | undefined,
  otherTypes: readonly ModuleRecord[],
): boolean => diagnoses.has(sweep.analysis, '', dependenciesOf(sweep, peers, otherTypes));

/** Takes a diagnosis that was computed elsewhere, of the same sweep beside the same peers. */
export function rememberDiagnosis(
  sweep: Analysed,
  peers: Peers | undefined,
  otherTypes: readonly ModuleRecord[],
  diagnosis: Diagnosis | undefined,
): void {
  diagnoses.set(sweep.analysis, '', dependenciesOf(sweep, peers, otherTypes), diagnosis);
}

/** Answers for each sweep the same sweep with its diagnosis; the very same object as before where nothing it rests on changed. */
export function diagnosing(
  levels: ReadonlyMap<EvaluatedSweep, Peers>,
  otherTypes: readonly ModuleRecord[],
): (sweep: EvaluatedSweep) => EvaluatedSweep {
  return (sweep) => {
    const peers = levels.get(sweep);
    return diagnosed.get(sweep, '', [peers, ...otherTypes], () => {
      const { target, reading, analysis } = sweep;
      const diagnosis = diagnoses.get(analysis, '', dependenciesOf(sweep, peers, otherTypes), () =>
        diagnose({ target, reading, analysis, peers, otherTypes }),
      );
      return withDiagnosis(sweep, diagnosis);
    });
  };
}

function withDiagnosis(sweep: EvaluatedSweep, diagnosis: Diagnosis | undefined): EvaluatedSweep {
  if (!diagnosis) return sweep;
  const out = diagnosis.substringsOut;
  return { ...sweep, diagnosis, analysis: out > 0 ? reducedAnalysis(sweep, out) : sweep.analysis };
}

/** The few numbers of the peers that are used: another edit that leaves them as they are computes nothing. */
function numbersOf(peers: Peers | undefined): (number | undefined)[] {
  if (!peers) return [];
  const { count, current, kelvin, resistance, conductance, rounding, temperature } = peers;
  const all = [current, kelvin, resistance, conductance, rounding, temperature];
  return [count, ...all.flatMap((usual) => [usual?.value, usual?.scatter])];
}
