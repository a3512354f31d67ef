/** The case of every string to which something happened. */
import type { AcceptRecord, Campaign, StringRecord } from '../campaign/model.js';
import { latestOf } from '../campaign/moment.js';
import type { CheckedSweep } from '../checks/check.js';
import { shiftRange } from '../text/place.js';
import type { Facts } from './facts.js';
import { happeningsByString, inTime, type Happening } from './happenings.js';
import { commonCauses, companyOf, likelyCause, type Company, type LikelyCause } from './likelyCause.js';
import { outcomeOf, outcomeText, shapeFault } from './outcome.js';
import { positionsOf, runOf, type Run } from './positions.js';
import { caseProposal } from './proposal.js';
import { searchState, type Replacement, type SearchState, type Test } from './search.js';
import { isOpenState, type CaseEvent, type CaseState, type StringCase } from './stringCase.js';
import { percentText } from './words.js';

/**
 * How a case is had that may be known already: `dependencies` are all that it rests on. Without a memory each is computed.
 */
export type CaseMemory = (
  owner: StringRecord,
  name: string,
  dependencies: readonly unknown[],
  compute: () => StringCase,
) => StringCase;

const withoutMemory: CaseMemory = (_owner, _name, _dependencies, compute) => compute();

/** One for each string with sweeps, replacements, notes or acceptances, in the order of the campaign. */
export function casesOf(
  campaign: Campaign,
  sweeps: readonly CheckedSweep[],
  remember: CaseMemory = withoutMemory,
): StringCase[] {
  const happenings = happeningsByString(campaign, sweeps);
  if (happenings.size === 0) return [];
  const company = companyOf(sweeps);
  const common = commonByString(sweeps, company);
  return [...campaign.strings].flatMap(([name, { record }]) => {
    const own = happenings.get(name);
    if (!own) return [];
    const suspicion = suspicionOf(own, company);
    const dependencies = [
      ...own.flatMap(identityOf),
      common.get(name),
      suspicion?.text,
      campaign.modules.get(record.modules?.type.text ?? '')?.record,
    ];
    return [
      remember(record, name, dependencies, () =>
        caseOf({ name, record, campaign, happenings: own, common: common.get(name), suspicion }),
      ),
    ];
  });
}

/** What makes a happening another one than before. */
function identityOf(happening: Happening): unknown[] {
  if (happening.kind === 'record') return [happening.record, happening.block.file, happening.block.startLine];
  const { record, block, tableLine, analysis, diagnosis, instant } = happening.sweep;
  return [record, block.file, block.startLine, tableLine, analysis, diagnosis, instant];
}

function commonByString(sweeps: readonly CheckedSweep[], company: Company): ReadonlyMap<string, string> {
  return new Map(
    commonCauses(sweeps, company).flatMap(({ sweeps: alike, text }) =>
      [...alike].map(({ address }): [string, string] => [address, text]),
    ),
  );
}

/** Of the latest sweep of the whole string that says anything, where it is bad. */
function suspicionOf(happenings: readonly Happening[], company: Company): LikelyCause | undefined {
  const telling: CheckedSweep[] = [];
  for (const each of happenings)
    if (each.kind === 'sweep' && !each.sweep.address.includes('/') && outcomeOf(each.sweep) !== 'none')
      telling.push(each.sweep);
  const latest = latestOf(telling);
  return latest && outcomeOf(latest) === 'bad' ? likelyCause(latest, company) : undefined;
}

interface CaseInput {
  readonly name: string;
  readonly record: StringRecord;
  readonly campaign: Campaign;
  readonly happenings: readonly Happening[];
  readonly common: string | undefined;
  readonly suspicion: LikelyCause | undefined;
}

/** Longer strings than this are none; their positions are not listed. */
const mostPositions = 500;

function caseOf(input: CaseInput): StringCase {
  const { name, record, campaign } = input;
  const happenings = inTime(input.happenings, record, campaign);
  const count = record.modules?.count;
  const positions = count !== undefined && count <= mostPositions ? count : 0;
  const wholeRun: Run = { first: 1, last: Math.max(1, positions) };
  const all = happenings.flatMap((happening, index) => {
    if (happening.kind !== 'sweep' || happening.sweep.analysis.verdict === 'void') return [];
    const { sweep } = happening;
    const run = runOf(sweep.address);
    if (run && positions > 0 && run.last > positions) return [];
    const outcome = outcomeOf(sweep);
    return [{ index, sweep, run: run ?? wholeRun, whole: run === undefined, outcome }];
  });
  const tests = all.flatMap(({ outcome, ...test }): Test[] =>
    outcome === 'none' ? [] : [{ ...test, isGood: outcome === 'good' }],
  );
  const replacements = happenings.flatMap((happening, index) => replacementOf(happening, index));
  const accepts = happenings.flatMap((each) =>
    each.kind === 'record' && each.record.kind === 'accept' ? [each.record] : [],
  );
  const search = searchState({
    string: name,
    count: positions,
    tests: positions > 0 ? tests : [],
    unjudged: all.filter(({ outcome, whole }) => outcome === 'none' && !whole),
    replacements,
    accepted: new Set(accepts.flatMap((each) => (each.address.first ? positionsOf(acceptedRun(each)) : []))),
  });
  const facts: Facts = {
    wholes: tests.filter(({ whole }) => whole),
    latest: all.findLast(({ whole }) => whole) ?? all.at(-1),
    tests,
    replacements,
    acceptsAll: accepts.some(({ address }) => address.first === undefined),
  };
  const state = stateOf(facts, search, positions > 0);
  const proposal = caseProposal({
    ...input,
    string: name,
    count: positions > 0 ? count : undefined,
    substringsOfModule: campaign.modules.get(record.modules?.type.text ?? '')?.record.substrings,
    search,
    facts,
    state,
  });
  return {
    string: name,
    state,
    events: happenings.map(eventOf),
    modules: search.modules,
    ...(proposal ? { proposal } : {}),
    ...spanOf(facts, state),
  };
}

const acceptedRun = ({ address }: AcceptRecord): Run => ({
  first: address.first!,
  last: address.last ?? address.first!,
});

function replacementOf(happening: Happening, index: number): Replacement[] {
  if (happening.kind !== 'record' || happening.record.kind !== 'replace') return [];
  const { address, time, serial } = happening.record;
  if (address.first === undefined) return [];
  const run = { first: address.first, last: address.last ?? address.first };
  return [{ index, run, time: time?.iso, serial }];
}

function stateOf(facts: Facts, search: SearchState, positionsKnown: boolean): CaseState {
  const standing = standingState(facts, search, positionsKnown);
  return (isOpenState(standing) ? facts.acceptsAll : search.acceptedFailure) ? 'waived' : standing;
}

function standingState(
  { wholes, tests, replacements }: Facts,
  search: SearchState,
  positionsKnown: boolean,
): CaseState {
  const latest = wholes.at(-1);
  const lastReplacement = replacements.at(-1)?.index ?? -1;
  if (search.faulty.length > 0) return 'located';
  if (search.failed?.suspects.length === 1) return 'located';
  if (search.failed || search.contradictions.length > 0 || search.doubtful.length > 0) return 'open';
  if (!positionsKnown && latest?.isGood === false && latest.index > lastReplacement) return 'open';
  if (lastReplacement >= 0 && lastReplacement > (latest?.index ?? -1)) return 'replaced';
  if (tests.length === 0) return 'not known';
  if (!latest?.isGood) return 'sound';
  return tests.some(({ isGood }) => !isGood) || lastReplacement >= 0 ? 'verified' : 'sound';
}

/** The sweep of the whole string that opened the case, and the one that closed it. */
function spanOf({ wholes }: Facts, state: CaseState): Pick<StringCase, 'openedBy' | 'closedBy'> {
  const lastBad = wholes.findLastIndex(({ isGood }) => !isGood);
  if (lastBad < 0 || state === 'sound' || state === 'not known') return {};
  const before = wholes.slice(0, lastBad).findLastIndex(({ isGood }) => isGood);
  const openedBy = wholes[before + 1]!.sweep;
  const closedBy =
    state === 'verified' ? wholes.slice(lastBad + 1).find(({ isGood }) => isGood)?.sweep : undefined;
  return { openedBy, ...(closedBy ? { closedBy } : {}) };
}

function eventOf(happening: Happening): CaseEvent {
  if (happening.kind === 'sweep') {
    const { sweep } = happening;
    return {
      kind: 'sweep',
      address: sweep.address,
      time: sweep.time,
      text: sweepText(sweep),
      place: sweep.place,
      sweep,
    };
  }
  const { record, block } = happening;
  const place = { file: block.file, range: shiftRange(record.headerRange, block.startLine) };
  const address = record.address!.text;
  if (record.kind === 'note')
    return { kind: 'note', address, time: record.time?.iso, text: record.text.text, place };
  if (record.kind === 'accept') {
    const who = record.by ? ` by ${record.by.text}` : '';
    return {
      kind: 'accepted',
      address,
      time: record.time?.iso,
      text: `Accepted${who}: ${record.reason.text}`,
      place,
    };
  }
  const change = [
    ...(record.serial ? [`${record.serial.old} -> ${record.serial.new}`] : []),
    ...(record.type ? [`${record.type.old.text} -> ${record.type.new.text}`] : []),
  ].join(', ');
  const text = [change, record.reason ?? ''].filter((part) => part !== '').join(': ');
  return { kind: 'replaced', address, time: record.time?.iso, text: text || 'Replaced', place };
}

function sweepText(sweep: CheckedSweep): string {
  const { verdict, deviation, reasons } = sweep.analysis;
  if (verdict === 'void' || verdict === 'not judged') {
    const reason = reasons.find(({ decisive }) => decisive) ?? reasons[0];
    return `${outcomeText(sweep)}${reason ? `: ${reason.text}` : ''}`;
  }
  const fault = shapeFault(sweep);
  return `${outcomeText(sweep)}: Pmax ${percentText(deviation.pmax)}${fault ? `. ${fault.text}` : ''}`;
}
