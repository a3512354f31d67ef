/** Where a fault is looked for next, and why there. */
import { assumedSubstrings } from '../analysis/workingSubstrings.js';
import { farFewerModules } from '../checks/modulesByVoltage.js';
import type { Cause } from '../diagnosis/diagnosis.js';
import { halvesOf, spanOf } from './disconnections.js';
import type { LikelyCause } from './likelyCause.js';
import { leadingCause } from './outcome.js';
import { moduleAddress, positionsOf, runAddress } from './positions.js';
import { testText, type FailedRun, type SearchState, type Test } from './search.js';
import { chooseStrategy, strategyText } from './strategy.js';
import type { Proposal } from './stringCase.js';
import { listText, percentText, pmaxText, sweepName } from './words.js';

export interface SearchContext {
  readonly string: string;
  /** Modules of the string; undefined where not known. */
  readonly count: number | undefined;
  readonly substringsOfModule: number | undefined;
  readonly search: SearchState;
  /** What the failed sweep of the whole string is suspected of. */
  readonly suspicion: LikelyCause | undefined;
  /** What it has in common with most strings of the day. */
  readonly common: string | undefined;
}

/** Modules that fail alike to this much share a cause; a fraction of Pmax, the project's own. */
const alikeWithin = 0.02;
const leastAlike = 3;

/** The faulty modules are known: they are replaced, unless all that were swept lack the same. */
export function replaceProposal({ string, search }: SearchContext): Proposal {
  const latest = search.faulty.map((position) =>
    search.own.get(position)!.findLast(({ isGood }) => !isGood)!,
  );
  const addresses = search.faulty.map((position) => moduleAddress(string, position));
  for (const test of latest) {
    const times = search.own.get(test.run.first)!.filter(({ isGood }) => !isGood).length;
    const doubt = doubtOfPart(string, test, times);
    if (doubt) return doubt;
  }
  if (areAlike(search, latest)) {
    return {
      kind: 'settle',
      addresses,
      text: `Settle what ${listText(addresses)} have in common before any is replaced: look for soiling and shade, and see nameplate, irradiance and temperature.`,
      why: `Every module that was swept lacks about as much (Pmax ${percentText(meanLoss(latest))}): a loss that all share is not mended by another module. What is left then is a matter of warranty or acceptance.`,
      disconnects: false,
    };
  }
  const named = latest.map(({ sweep }, index) => `${addresses[index]!} (${pmaxText(sweep)})`);
  return {
    kind: 'replace',
    addresses,
    text: `Replace ${listText(named)}, then repeat the sweep of ${string} as counter-check.`,
    why: `${latest.map(testText).join('; ')}.`,
    disconnects: true,
  };
}

/** A module or a section that failed once, while its conditions or what was entered of it would explain that. */
function doubtOfPart(string: string, test: Test, times: number): Proposal | undefined {
  const cause = leadingCause(test.sweep);
  const fewer = farFewerModules(test.sweep);
  const isDoubted = fewer !== undefined || (cause !== undefined && cause.about !== 'device');
  if (times > 1 || !isDoubted) return undefined;
  const { address } = test.sweep;
  const reason = fewer
    ? `${fewer}: see whether file and address are right.`
    : `${cause!.text} ${cause!.tellApart}`;
  return {
    kind: 'doubt',
    addresses: [address],
    text: `Doubt ${address} (${pmaxText(test.sweep)}) before anything in ${string} is opened further or replaced, and repeat its sweep. ${reason}`,
    why: 'What would make a good module fail is settled first.',
    disconnects: true,
  };
}

const lossOf = ({ sweep }: Test): number => sweep.analysis.deviation.pmax ?? 0;
const meanLoss = (tests: readonly Test[]): number =>
  tests.reduce((sum, test) => sum + lossOf(test), 0) / tests.length;

function areAlike({ own }: SearchState, bad: readonly Test[]): boolean {
  if (bad.length < leastAlike || bad.length < own.size) return false;
  const mean = meanLoss(bad);
  return bad.every((test) => Math.abs(lossOf(test) - mean) < alikeWithin);
}

/** Measurements that cannot all be right come before anything that would be built on them. */
export function settleProposal({ string, search }: SearchContext): Proposal {
  const [first] = search.contradictions;
  if (first!.between) {
    return {
      kind: 'settle',
      addresses: first!.addresses,
      text: `Look at what lies between the modules of ${listText(first!.addresses)}: connectors, leads and junction boxes; mend what is burnt, loose or wet, and repeat the sweep of ${string}.`,
      why: `${first!.text} It failed more than once, so that the loss is not in a module swept alone.`,
      disconnects: true,
    };
  }
  const addresses = [...new Set(search.contradictions.flatMap((each) => each.addresses))];
  return {
    kind: 'settle',
    addresses,
    text: `Repeat the ${addresses.length === 1 ? 'sweep' : 'sweeps'} of ${listText(addresses)}: what was measured there contradicts itself.`,
    why: `${first!.text} The majority of the sweeps decides.`,
    disconnects: true,
  };
}

/** Failed once, by less than the uncertainty. */
export function doubtfulModulesProposal({ string, search }: SearchContext): Proposal {
  const addresses = search.doubtful.map((position) => moduleAddress(string, position));
  return {
    kind: 'repeat',
    addresses,
    text: `Repeat the sweep of ${listText(addresses)} before anything is replaced.`,
    why: 'It failed by less than its uncertainty: more light, less drift or a better reference narrows it.',
    disconnects: true,
  };
}

/** What to do about a failed sweep that no known fault explains. */
export function failedProposal(context: SearchContext, failed: FailedRun): Proposal {
  const { test, suspects } = failed;
  const doubt = test.whole ? undefined : doubtOfPart(context.string, test, failed.times);
  if (doubt) return doubt;
  if (suspects.length === 1) return confirmProposal(context, test, suspects[0]!);
  // What is known of the string's own curve is settled once its parts were swept.
  const suspicion = test.whole ? context.suspicion : undefined;
  const isPlaced = context.search.modules.some(({ status }) => status === 'cleared');
  const first = test.whole && !isPlaced ? firstDoubt(context, failed) : undefined;
  if (first) return first;
  if (isShared(suspicion?.cause) && !isPlaced) return sharedProposal(context, failed, suspicion!.cause!);
  return narrowingProposal(context, failed, suspicion);
}

function confirmProposal({ string }: SearchContext, test: Test, position: number): Proposal {
  const address = moduleAddress(string, position);
  return {
    kind: 'one by one',
    addresses: [address],
    text: `Sweep module ${address} to confirm it.`,
    why: `${testText(test)}, and every other module in it was cleared: by elimination it is ${address}.`,
    disconnects: true,
  };
}

/** What would make a good string fail is settled before anything is opened. */
function firstDoubt({ string, common, suspicion }: SearchContext, failed: FailedRun): Proposal | undefined {
  const { sweep } = failed.test;
  if (common !== undefined) {
    const why = `${sweepName(sweep)} is off like most strings of the day.`;
    return { kind: 'doubt', addresses: [string], text: common, why, disconnects: false };
  }
  if (!suspicion) return decideProposal(string, failed);
  // A fault that its shape or the other strings of the day tell needs no wider margin.
  if (suspicion.searchFirst) return undefined;
  // Two sweeps under the same doubt: its repetition has been made, and did not settle it.
  if (failed.times > 1 && !suspicion.isEntry) return undefined;
  const [now] = halvesOf({ positions: failed.suspects, count: failed.test.run.last });
  const goOn = suspicion.isEntry
    ? ` Where that is right, go on with ${runAddress(string, spanOf(now))}.`
    : '';
  return {
    kind: 'doubt',
    addresses: [string],
    text: `Doubt ${string} (${pmaxText(sweep)}) before it is opened. ${suspicion.text}${goOn}`,
    why: 'What would make a good string fail is settled first: it costs no connector.',
    disconnects: true,
  };
}

/** One sweep that fails by less than the uncertainty does not carry a search. */
function decideProposal(string: string, { test, times }: FailedRun): Proposal | undefined {
  if (test.sweep.analysis.verdict !== 'conditional fail' || times > 1) return undefined;
  return {
    kind: 'repeat',
    addresses: [string],
    text: `Decide on ${string}: outside the limit by less than the uncertainty. More light, less drift or a better reference narrows it.`,
    why: `${testText(test)}, by less than its uncertainty: one such sweep does not carry a search.`,
    disconnects: true,
  };
}

/** A loss in every module alike is not found by halves. */
const isShared = (cause: Cause | undefined): boolean =>
  cause?.code === 'soiling' || cause?.code === 'degraded';

function sharedProposal({ string, count, search }: SearchContext, failed: FailedRun, cause: Cause): Proposal {
  if (cause.code === 'soiling' && failed.times === 1) {
    return {
      kind: 'repeat',
      addresses: [string],
      text: `See whether the modules of ${string} are dirty and whether the irradiance is that of this sweep; clean them, and repeat the sweep. ${cause.text}`,
      why: `Dirt takes current from all modules alike, so no module is searched for. ${cause.tellApart}`,
      disconnects: true,
    };
  }
  const swept = new Set(search.own.keys());
  const sample = sampleOf(failed.suspects, count ?? 0).filter((position) => !swept.has(position));
  const addresses = (sample.length > 0 ? sample : failed.suspects.slice(0, 1)).map((position) =>
    moduleAddress(string, position),
  );
  return {
    kind: 'one by one',
    addresses,
    text: `Sweep ${listText(addresses)}, as a sample of ${string}. ${cause.text}`,
    why: `Where the loss is in all modules alike, a few tell: if they lack the same, none is to be replaced; if not, the search goes on among the others. ${cause.tellApart}`,
    disconnects: true,
  };
}

/** First, middle and last of the suspects. */
function sampleOf(suspects: readonly number[], count: number): number[] {
  const middle = suspects[Math.floor(suspects.length / 2)]!;
  return [...new Set([suspects[0]!, middle, suspects.at(-1)!])].filter(
    (position) => count === 0 || position <= count,
  );
}

/** Halves or one by one, whichever opens fewer connectors for what is left. */
function narrowingProposal(
  { string, count, substringsOfModule, search }: SearchContext,
  { test, suspects }: FailedRun,
  suspicion: LikelyCause | undefined,
): Proposal {
  const told = suspicion?.cause ?? leadingCause(test.sweep);
  // A part that passes tells that the loss is not in all modules alike.
  const isPlaced = search.modules.some(({ status }) => status === 'cleared');
  const cause = isShared(told) && isPlaced ? undefined : told;
  const weak = weakModules(cause, test, substringsOfModule, suspects.length);
  const strategy = chooseStrategy({ positions: suspects, count: count!, weak });
  const lead = `Find what pulls ${test.sweep.address} down (${pmaxText(test.sweep)}): `;
  const look = cause === undefined ? '' : (lookFirst[cause.code] ?? '');
  const behind = [look, suspicion?.searchFirst ? suspicion.text : ''].filter((text) => text !== '');
  const why = [
    strategyText(strategy, suspects.length),
    ...(weak > 1 ? [`About ${weak} weak modules are reckoned with.`] : []),
  ].join(' ');
  if (strategy.kind === 'one by one') {
    const addresses = suspects.map((position) => moduleAddress(string, position));
    const text = `${lead}sweep ${listText(addresses)} one by one, in this order, until one fails.`;
    return {
      kind: 'one by one',
      addresses,
      text: [text, ...behind].join(' '),
      why: `${why} ${testText(test)}.`,
      disconnects: true,
    };
  }
  const [now, other] = halvesOf({ positions: suspects, count: count! });
  const address = runAddress(string, spanOf(now));
  const rest = placeText(string, other);
  const text = `${lead}sweep ${now.length === 1 ? 'module' : 'the half'} ${address}; if it passes, the fault lies in ${rest}.`;
  return {
    kind: 'halves',
    addresses: [address],
    text: [text, ...behind].join(' '),
    why: `${why} ${testText(test)}.`,
    disconnects: true,
  };
}

/** `1.03/10-18`, or the list where cleared ones stand between. */
function placeText(string: string, positions: readonly number[]): string {
  const span = spanOf(positions);
  return positionsOf(span).length === positions.length
    ? runAddress(string, span)
    : listText(positions.map((position) => moduleAddress(string, position)));
}

/** What can be seen without opening anything. */
const lookFirst: Partial<Record<Cause['code'], string>> = {
  'partial-shade': 'Look for shade and dirt on single modules first, and sweep again without them.',
  'series-resistance':
    'First look along its connectors, junction boxes and terminals with an infrared camera while the string carries current: a bad contact is warm.',
  shunt:
    'Look at the modules at the negative end first where the system may suffer from potential-induced degradation.',
};

/** How many modules are weak, as far as the cause tells: a missing voltage of several modules takes several. */
function weakModules(
  cause: Cause | undefined,
  { sweep }: Test,
  substringsOfModule: number | undefined,
  suspects: number,
): number {
  const most = (weak: number): number => Math.max(1, Math.min(weak, suspects));
  switch (cause?.code) {
    case 'substring-out':
      return most(
        Math.ceil((sweep.diagnosis?.substringsOut ?? 1) / (substringsOfModule ?? assumedSubstrings)),
      );
    case 'shunt':
      return most(Math.ceil(suspects / 4));
    case 'soiling':
    case 'degraded':
      return most(suspects);
    default:
      return 1;
  }
}
