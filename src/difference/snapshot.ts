/** The results of an evaluation under keys that two campaigns share, so that they can be held against each other. */
import type { CampaignEntry, ParameterName } from '../campaign/model.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { comparedParameters, type Readings } from './difference.js';
import type { RenamedThings } from './pairUnits.js';

export type Results = Pick<Evaluation, 'sweeps' | 'cases' | 'electricalTests'>;

export type ParameterReadings = Readonly<Record<(typeof comparedParameters)[number], Readings>>;

export interface Snapshot {
  /** Verdicts, diagnoses, states of cases and of tests: a word each. */
  readonly states: ReadonlyMap<string, string>;
  readonly numbers: ReadonlyMap<string, ParameterReadings>;
  readonly sweeps: ReadonlyMap<string, EvaluatedSweep>;
}

/** Where the result of a key is found. */
export type StateKind = 'verdict' | 'diagnosis' | 'case' | 'test';

export const stateKey = (kind: StateKind, key: string): string => `${kind} ${key}`;

/** Kind and key again. */
export function stateOf(key: string): { readonly kind: StateKind; readonly key: string } {
  const space = key.indexOf(' ');
  return { kind: key.slice(0, space) as StateKind, key: key.slice(space + 1) };
}

/**
 * @param pairOf number of the pair that a record belongs to
 * @param names where the results are those of the campaign that has the former names
 */
export function readOff(
  { sweeps, cases, electricalTests }: Results,
  pairOf: (record: CampaignEntry) => number | undefined,
  names?: RenamedThings,
): Snapshot {
  const states = new Map<string, string>();
  const numbers = new Map<string, ParameterReadings>();
  const bySweep = new Map<string, EvaluatedSweep>();
  for (const sweep of sweeps) {
    const key = freeKey(bySweep, sweepKey(sweep, pairOf(sweep.record), names));
    bySweep.set(key, sweep);
    states.set(stateKey('verdict', key), sweep.analysis.verdict);
    states.set(stateKey('diagnosis', key), diagnosisCode(sweep));
    numbers.set(key, readingsOf(sweep));
  }
  for (const { string, state } of cases)
    states.set(stateKey('case', names?.address(string) ?? string), state);
  for (const { record, verdict } of electricalTests)
    states.set(stateKey('test', String(pairOf(record))), verdict);
  return { states, numbers, sweeps: bySweep };
}

/** A sweep of a block of its own is that block; one of a table is told by the address and the time of its row. */
function sweepKey(
  { record, address, time = '' }: EvaluatedSweep,
  pair: number | undefined,
  names: RenamedThings | undefined,
): string {
  return record.kind === 'sweep'
    ? `${pair}`
    : JSON.stringify([pair, names?.address(address) ?? address, time.slice(0, 19)]);
}

function freeKey(taken: ReadonlyMap<string, unknown>, key: string): string {
  for (let count = 1; ; count++) {
    const own = count === 1 ? key : `${key} ${count}`;
    if (!taken.has(own)) return own;
  }
}

/** What a diagnosis says, without its numbers: they move with every input. */
function diagnosisCode({ diagnosis }: EvaluatedSweep): string {
  if (!diagnosis) return '';
  const kinds = [...new Set(diagnosis.findings.map(({ kind }) => kind))].sort();
  return JSON.stringify([diagnosis.healthy, kinds, diagnosis.causes[0]?.code]);
}

function readingsOf({ analysis }: EvaluatedSweep): ParameterReadings {
  const { translated, deviation, uncertainty } = analysis;
  const of = (name: ParameterName): Readings => ({
    value: translated?.parameters[name],
    deviation: deviation[name],
    uncertainty: uncertainty[name],
  });
  return Object.fromEntries(comparedParameters.map((name) => [name, of(name)])) as ParameterReadings;
}
