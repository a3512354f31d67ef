/** The life of a fault: what is known of one string over the sweeps, replacements and notes of a campaign. */
import type { CheckedSweep } from '../checks/check.js';
import type { Place } from '../text/place.js';

/**
 * `sound`: no fault seen. `open`: a fault is known and not where. `located`: the module or modules are known. `replaced`:
 * and were replaced, with no passing counter-check yet. `verified`: a later sweep of the whole string passed. `waived`:
 * accepted by a person, with the reason. `not known`: nothing judged yet.
 */
export type CaseState = 'sound' | 'open' | 'located' | 'replaced' | 'verified' | 'waived' | 'not known';

/** A fault is known and not yet seen to be gone: something is to be done. */
export const isOpenState = (state: CaseState): boolean =>
  state === 'open' || state === 'located' || state === 'replaced';

/** It failed once, and that is settled: by a counter-check, or by a decision. */
export const isSettledState = (state: string): state is 'verified' | 'waived' =>
  state === 'verified' || state === 'waived';

/** One thing that happened to the string, in order of time. */
export interface CaseEvent {
  readonly kind: 'sweep' | 'replaced' | 'note' | 'accepted';
  readonly time?: string;
  readonly address: string;
  /** One sentence: `Failed: Pmax -6.1 %`, `KF-22817 -> KF-31904: substring bypassed`. */
  readonly text: string;
  readonly place: Place;
  readonly sweep?: CheckedSweep;
}

export type ModuleStatus = 'untested' | 'cleared' | 'suspect' | 'faulty' | 'replaced' | 'contradictory';

/** What the evidence says of one position of a string. */
export interface ModuleEvidence {
  /** From 1, counted from the positive end. */
  readonly position: number;
  readonly status: ModuleStatus;
  /** Why, in a sentence that names the sweeps it rests on. */
  readonly because: string;
  /** Serial number of the module that is there now, where the campaign tells. */
  readonly serial?: string;
}

export interface Proposal {
  readonly kind: 'repeat' | 'halves' | 'one by one' | 'replace' | 'counter-check' | 'settle' | 'doubt';
  /** What to measure or replace, in this order. */
  readonly addresses: readonly string[];
  /** What to do: one or two sentences. */
  readonly text: string;
  /** Why this and not something else. */
  readonly why: string;
  /** Something has to be disconnected or opened for it: the cautions belong beside it. */
  readonly disconnects: boolean;
}

export interface StringCase {
  readonly string: string;
  readonly state: CaseState;
  readonly events: readonly CaseEvent[];
  /** One for each position; empty when the count of modules is not known. */
  readonly modules: readonly ModuleEvidence[];
  /** What to do next; undefined when nothing is to be done. */
  readonly proposal?: Proposal;
  /** The sweep of the whole string that opened the case, and the one that closed it. */
  readonly openedBy?: CheckedSweep;
  readonly closedBy?: CheckedSweep;
}
