/** The case of every string to which something happened. */
import type { AcceptRecord, Campaign, ModuleRecord, Placed, StringRecord } from '../campaign/model.js';
import { latestOf } from '../campaign/moment.js';
import type { CheckedSweep } from '../checks/check.js';
import { FilteredList } from '../text/filteredList.js';
import { MappedList } from '../text/mappedList.js';
import { shiftRange, type Place } from '../text/place.js';
import { finish, type Steps } from '../text/steps.js';
import type { Facts } from './facts.js';
import { HappeningsByString, inTime, type Happening, type Happenings } from './happenings.js';
import {
  Companies,
  companyOf,
  likelyCause,
  type CommonCause,
  type Company,
  type LikelyCause,
} from './likelyCause.js';
import { outcomeOf, outcomeText, shapeFault } from './outcome.js';
import { positionsOf, runOf, type Run } from './positions.js';
import { caseProposal } from './proposal.js';
import { searchState, type Replacement, type SearchState, type Test } from './search.js';
import { isOpenState, type CaseEvent, type CaseState, type StringCase } from './stringCase.js';
import { percentText } from './words.js';

/** One for each string with sweeps, replacements, notes or acceptances, in the order of the campaign. */
export const casesOf = (campaign: Campaign, sweeps: readonly CheckedSweep[]): readonly StringCase[] =>
  finish(new StringCases().of(campaign, sweeps));

/** A case with all that it was computed from. */
interface KeptCase {
  readonly record: StringRecord;
  readonly module: ModuleRecord | undefined;
  readonly sweeps: readonly CheckedSweep[];
  readonly records: readonly Placed[];
  /** Both together, in reading order. */
  readonly happenings: readonly Happening[];
  readonly common: string | undefined;
  readonly suspicion: Suspicion | undefined;
  readonly result: StringCase;
}

/** The cases of the last time, with what they were computed from: lists of one length, with an entry for each string. */
interface KeptCases extends Pick<Happenings, 'strings' | 'sweeps' | 'records'> {
  readonly meaning: object | undefined;
  readonly common: ReadonlyMap<string, string>;
  /** Undefined where nothing happened to the string. */
  readonly kept: readonly (KeptCase | undefined)[];
  /** Places of those that what was measured beside them bears on. */
  readonly suspected: ReadonlySet<number>;
}

/** What the cases of a campaign are computed from. */
interface CasesNow {
  readonly campaign: Campaign;
  readonly happenings: Happenings;
  readonly company: Company;
  /** By string. */
  readonly common: ReadonlyMap<string, string>;
  /** What the names of the campaign stand for is what it was. */
  readonly sameMeaning: boolean;
}

/** The cases of one campaign, again and again as few of its sweeps and records change. */
export class StringCases {
  readonly #happenings = new HappeningsByString();
  readonly #companies = new Companies();
  #last: KeptCases = {
    meaning: undefined,
    strings: [],
    sweeps: [],
    records: [],
    common: new Map(),
    kept: [],
    suspected: new Set(),
  };
  readonly #known = new FilteredList((each: KeptCase | undefined): each is KeptCase => each !== undefined);
  readonly #results = new MappedList(({ result }: KeptCase) => result);

  /** The case of a string to which nothing changed is the very same object as before. */
  *of(campaign: Campaign, sweeps: readonly CheckedSweep[]): Steps<readonly StringCase[]> {
    const happenings = this.#happenings.of(campaign, sweeps);
    const { company, common } = this.#companies.of(sweeps);
    const { strings, sweeps: sweepsOf, records } = happenings;
    const { meaning } = campaign;
    const last = this.#last;
    const knownAt = knownIn(last, strings);
    const sameMeaning = meaning === last.meaning;
    const now = { campaign, happenings, company, common: textByString(common), sameMeaning };
    // What did not change is not even read: of thousands of cases that alone would take longer than the rest.
    const holds = sameMeaning && strings === last.strings && now.common.size === 0 && last.common.size === 0;
    const suspected = new Set<number>();
    const kept: (KeptCase | undefined)[] = [];
    for (let at = 0; at < strings.length; at++) {
      const isSame = sweepsOf[at] === last.sweeps[at] && records[at] === last.records[at];
      if (holds && isSame && !last.suspected.has(at)) {
        kept.push(last.kept[at]);
        continue;
      }
      const known = knownAt(at);
      const each = this.#caseAt(at, known, now);
      kept.push(each);
      if (each?.suspicion) suspected.add(at);
      if (each !== known) yield;
    }
    this.#last = { meaning, strings, sweeps: sweepsOf, records, common: now.common, kept, suspected };
    return this.#results.of(this.#known.of(kept));
  }

  /** The very same as is known where nothing changed. */
  #caseAt(at: number, known: KeptCase | undefined, now: CasesNow): KeptCase | undefined {
    const { campaign, happenings, company, sameMeaning } = now;
    const sweeps = happenings.sweeps[at]!;
    const records = happenings.records[at]!;
    if (sweeps.length === 0 && records.length === 0) return undefined;
    const common = now.common.size > 0 ? now.common.get(happenings.strings[at]!) : undefined;
    const isSame = known?.sweeps === sweeps && known.records === records;
    const own = isSame ? known.happenings : happenings.together(at);
    const suspicion = isSame ? suspicionAgain(known.suspicion, company) : suspicionOf(own, company);
    const isAlike = known?.common === common && known?.suspicion?.cause?.text === suspicion?.cause?.text;
    if (isSame && isAlike && sameMeaning && known.suspicion === suspicion) return known;
    const name = happenings.strings[at]!;
    const { record } = campaign.strings.get(name)!;
    const module = campaign.modules.get(record.modules?.type.text ?? '')?.record;
    const context = { record, module, sweeps, records, happenings: own, common, suspicion };
    if (isAlike && known && known.record === record && known.module === module) {
      if (isSame) return { ...context, result: known.result };
      if (sameMeaning && isOnlyMoved(own, known.happenings))
        return { ...context, result: moved(known.result, inTime(own, record, campaign)) };
    }
    const result = caseOf({ name, record, campaign, happenings: own, common, suspicion: suspicion?.cause });
    return { ...context, result };
  }
}

/** What is known of the string that stands at a place now. */
function knownIn(last: KeptCases, strings: readonly string[]): (at: number) => KeptCase | undefined {
  if (strings === last.strings) return (at) => last.kept[at];
  const known = new Map(last.strings.map((name, at) => [name, last.kept[at]]));
  return (at) => known.get(strings[at]!);
}

/** Nothing but their places, by which nothing is decided as long as their order holds. */
function isOnlyMoved(now: readonly Happening[], before: readonly Happening[]): boolean {
  return now.length === before.length && now.every((each, at) => isSameElsewhere(each, before[at]!));
}

function isSameElsewhere(a: Happening, b: Happening): boolean {
  if (a.kind === 'record') return b.kind === 'record' && a.record === b.record;
  if (b.kind === 'record') return false;
  const [now, before] = [a.sweep, b.sweep];
  return (
    now.record === before.record &&
    now.tableLine === before.tableLine &&
    now.analysis === before.analysis &&
    now.diagnosis === before.diagnosis &&
    now.instant === before.instant
  );
}

/** @param happenings in the order of the events */
function moved(known: StringCase, happenings: readonly Happening[]): StringCase {
  const now = new Map<CheckedSweep, CheckedSweep>();
  const events = known.events.map((event, at): CaseEvent => {
    const happening = happenings[at]!;
    if (happening.kind === 'record') return { ...event, place: placeOf(happening) };
    if (event.sweep) now.set(event.sweep, happening.sweep);
    return { ...event, place: placeOf(happening), sweep: happening.sweep };
  });
  const { openedBy, closedBy } = known;
  return {
    ...known,
    events,
    ...(openedBy ? { openedBy: now.get(openedBy)! } : {}),
    ...(closedBy ? { closedBy: now.get(closedBy)! } : {}),
  };
}

function placeOf(happening: Happening): Place {
  if (happening.kind === 'sweep') return happening.sweep.place;
  const { record, block } = happening;
  return { file: block.file, range: shiftRange(record.headerRange, block.startLine) };
}

function textByString(common: readonly CommonCause[]): ReadonlyMap<string, string> {
  return new Map(
    common.flatMap(({ sweeps, text }) => [...sweeps].map(({ address }): [string, string] => [address, text])),
  );
}

/** Of the latest sweep of the whole string that says anything, where it is bad. */
interface Suspicion {
  readonly sweep: CheckedSweep;
  /** The sweeps that were measured beside it. */
  readonly beside: readonly CheckedSweep[];
  readonly cause: LikelyCause | undefined;
}

function suspicionOf(happenings: readonly Happening[], company: Company): Suspicion | undefined {
  const telling: CheckedSweep[] = [];
  for (const each of happenings)
    if (each.kind === 'sweep' && !each.sweep.address.includes('/') && outcomeOf(each.sweep) !== 'none')
      telling.push(each.sweep);
  const latest = latestOf(telling);
  return latest && outcomeOf(latest) === 'bad' ? suspicionIn(latest, company) : undefined;
}

function suspicionIn(sweep: CheckedSweep, company: Company): Suspicion {
  return { sweep, beside: companyOf(company, sweep), cause: likelyCause(sweep, company) };
}

const suspicionAgain = (known: Suspicion | undefined, company: Company): Suspicion | undefined =>
  known && companyOf(company, known.sweep) !== known.beside ? suspicionIn(known.sweep, company) : known;

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
      place: placeOf(happening),
      sweep,
    };
  }
  const { record } = happening;
  const place = placeOf(happening);
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
