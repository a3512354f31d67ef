/** Each sweep with its diagnosis, and translated anew where that tells of substrings out of the current path. */
import type { ModuleRecord } from '../campaign/model.js';
import { diagnosing } from '../diagnosis/diagnose.js';
import type { Diagnosis } from '../diagnosis/diagnosis.js';
import type { Peers } from '../diagnosis/peers.js';
import { isSameList } from '../text/changedSpan.js';
import type { Steps } from '../text/steps.js';
import { reducedAnalysis, targetItems } from './analyses.js';
import type { EvaluatedSweep } from './evaluation.js';
import { Remembered } from './remembered.js';

const diagnoses = new Remembered<Diagnosis | undefined>();

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

/** What the sweeps of the last time rested on, and what came of each. */
interface Diagnosed {
  readonly types: readonly ModuleRecord[];
  readonly sweeps: readonly EvaluatedSweep[];
  readonly peers: readonly (Peers | undefined)[];
  readonly results: readonly EvaluatedSweep[];
}

/** The sweeps of one campaign diagnosed, again and again as few of them change. */
export class DiagnosedSweeps {
  #last: Diagnosed = { types: [], sweeps: [], peers: [], results: [] };

  /**
   * The same sweeps with their diagnoses; the very same objects as before where nothing they rest on changed.
   * @param peers of each of the sweeps
   * @param types of modules, among them those of other strings
   * @param done told how many are behind it, whenever one was computed
   */
  *of(
    sweeps: readonly EvaluatedSweep[],
    peers: readonly (Peers | undefined)[],
    types: readonly ModuleRecord[],
    done: (count: number) => void,
  ): Steps<readonly EvaluatedSweep[]> {
    const last = this.#last;
    const sameTypes = isSameList(types, last.types);
    if (sameTypes && sweeps === last.sweeps && isSameList(peers, last.peers)) return last.results;
    const results: EvaluatedSweep[] = [];
    for (let at = 0; at < sweeps.length; at++) {
      const before = sweeps[at] === last.sweeps[at] ? last.results[at] : undefined;
      if (before && sameTypes && peers[at] === last.peers[at]) {
        results.push(before);
        continue;
      }
      const now = yield* diagnosedSweep(sweeps[at]!, peers[at], types);
      // Peers that read otherwise may mean the same.
      const isSame = before?.diagnosis === now.diagnosis && before?.analysis === now.analysis;
      results.push(isSame ? before : now);
      done(results.length);
      yield;
    }
    this.#last = { types, sweeps, peers, results };
    return results;
  }
}

function* diagnosedSweep(
  sweep: EvaluatedSweep,
  peers: Peers | undefined,
  otherTypes: readonly ModuleRecord[],
): Steps<EvaluatedSweep> {
  const { target, reading, analysis } = sweep;
  const dependencies = dependenciesOf(sweep, peers, otherTypes);
  if (!diagnoses.has(analysis, '', dependencies)) {
    const fresh = yield* diagnosing({ target, reading, analysis, peers, otherTypes });
    diagnoses.set(analysis, '', dependencies, fresh);
  }
  const diagnosis = diagnoses.known(analysis, '', dependencies);
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
