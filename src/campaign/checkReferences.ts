/** Every name that refers to something: does it, and does what it refers to fit? */
import { FilteredList } from '../text/filteredList.js';
import { MappedList } from '../text/mappedList.js';
import { shiftRange, type Range } from '../text/place.js';
import { problemInFile, type FileProblem, type Problem } from '../text/problem.js';
import type { Steps } from '../text/steps.js';
import type {
  Address,
  CampaignEntry,
  CampaignNames,
  LocalTime,
  Name,
  NamedKind,
  Placed,
  StringRecord,
  SweepRecord,
  SweepTableRecord,
} from './model.js';
import { nearest } from './nearest.js';
import { criteriaOf, planeOf, siteOf } from './sweepTarget.js';
import { formatOffset, isSteadyDay, resolveInstant } from './time.js';
import { joinWith } from './units.js';
import { didYouMean, problem, replaceMend } from './valueReader.js';

export interface Doubts {
  /** Names that blocks would have given whose header cannot be read. */
  readonly doubtfulNames: ReadonlySet<string>;
  /** A file could not be read. */
  readonly namesMayBeMissing: boolean;
}

/** Looking for the nearest name costs; a file with more unknown names than this has another trouble. */
const mostSuggestions = 100;

/** References of one record: what is wrong with them, with lines relative to its block. */
interface Findings {
  readonly placed: Placed;
  readonly problems: readonly (Problem | UnknownName)[];
  /** No criteria judge this sweep. */
  readonly undecided: boolean;
}

/** A name that stands for nothing; a nearest name is looked for when it is told. */
interface UnknownName {
  readonly plain: Problem;
  /** Undefined where no name is near enough. */
  readonly withNearest: () => Problem;
}

/** The references of one campaign, again and again: a record is looked at anew when it or what names stand for has changed. */
export class CampaignReferences {
  #names: CampaignNames | undefined;
  #doubts: string | undefined;
  #findings = new MappedList<Placed, Findings | undefined>(() => undefined);
  readonly #found = new FilteredList((each: Findings | undefined): each is Findings => each !== undefined);

  /** Every name that refers to something: does it, and does what it refers to fit? Ranges are those of the files. */
  *check(entries: readonly Placed[], names: CampaignNames, doubts: Doubts): Steps<FileProblem[]> {
    const known = JSON.stringify([doubts.namesMayBeMissing, ...doubts.doubtfulNames]);
    if (this.#names !== names || this.#doubts !== known) {
      this.#findings = new MappedList((placed) => new ReferenceCheck(names, doubts, placed).run());
      [this.#names, this.#doubts] = [names, known];
    }
    const found = this.#found.of(yield* this.#findings.steps(entries));
    if (found.length === 0) return [];
    let suggestions = 0;
    const problems = found.flatMap(({ placed, problems }) =>
      problems.map((each) => {
        if (!('plain' in each)) return problemInFile(placed.block, each);
        return problemInFile(placed.block, suggestions++ > mostSuggestions ? each.plain : each.withNearest());
      }),
    );
    const anyDoubt = doubts.namesMayBeMissing || doubts.doubtfulNames.size > 0;
    const undecided = anyDoubt ? [] : found.filter((each) => each.undecided);
    return undecided.length > 0 ? [...problems, undecidedProblem(undecided, names)] : problems;
  }
}

/** One problem for all sweeps that no criteria judge, at the first of them. */
function undecidedProblem(undecided: readonly Findings[], { criteria }: CampaignNames): FileProblem {
  const count = undecided.length;
  const who = count === 1 ? 'this sweep' : `this sweep and ${count - 1} more`;
  const names = [...criteria.keys()];
  const [id, message] =
    names.length === 0
      ? ['criteria/missing', `There are no criteria, so ${who} cannot be judged. Write a \`criteria\` block.`]
      : [
          'criteria/ambiguous',
          `There are several criteria (${joinWith('and', names)}), and none is named for ${who}. Write \`criteria ${names[0]!}\` in the campaign, the string or the sweep.`,
        ];
  const { placed } = undecided[0]!;
  return problemInFile(placed.block, problem(id, 'warning', placed.record.headerRange, message));
}

class ReferenceCheck {
  readonly #problems: (Problem | UnknownName)[] = [];
  #undecided = false;

  constructor(
    readonly campaign: CampaignNames,
    readonly doubts: Doubts,
    readonly placed: Placed,
  ) {}

  run(): Findings | undefined {
    this.#check(this.placed);
    if (this.#problems.length === 0 && !this.#undecided) return undefined;
    return { placed: this.placed, problems: this.#problems, undecided: this.#undecided };
  }

  #check(placed: Placed): void {
    const { record } = placed;
    switch (record.kind) {
      case 'campaign':
        return this.#checkName(record.criteria, 'criteria');
      case 'plane':
        return this.#checkPlane(placed, record.site);
      case 'string':
        return this.#checkString(record);
      case 'sweep':
        this.#checkAddress(record.address, record.time);
        return this.#checkJudging(record);
      case 'sweeps':
        return this.#checkJudging(record);
      case 'replace':
        this.#checkName(record.type?.old, 'module');
        this.#checkName(record.type?.new, 'module');
        return this.#checkReplace(record.address, record.time);
      case 'insulation':
      case 'continuity':
      case 'polarity':
      case 'meter':
        this.#checkInstruments(record.with);
        return this.#checkAddress(record.address, record.time);
      case 'note':
      case 'accept':
        if (record.address) this.#checkAddress(record.address, record.time);
        return;
      default:
        return;
    }
  }

  #report(
    id: string,
    severity: Problem['severity'],
    range: Range,
    message: string,
    mends?: Problem['mends'],
  ): void {
    this.#problems.push(problem(id, severity, range, message, mends));
  }

  #checkPlane({ record }: Placed, site: Name | undefined): void {
    if (site) return this.#checkName(site, 'site');
    if (this.campaign.sites.size < 2) return;
    const message = `There are several sites. Name the one this plane stands on: \`site ${first(this.campaign.sites)}\`.`;
    this.#report('plane/site-missing', 'warning', record.headerRange, message);
  }

  #checkString(record: StringRecord): void {
    this.#checkName(record.modules?.type, 'module');
    this.#checkName(record.criteria, 'criteria');
    if (record.formerly && record.names.length > 1) {
      const message =
        '`formerly` gives the earlier name of one string; a string of a run that was renamed gets a block of its own.';
      this.#report('string/formerly-of-run', 'error', record.formerly.range, message);
    }
    if (record.plane) return this.#checkName(record.plane, 'plane');
    if (this.campaign.planes.size < 2 || record.propertyRanges.has('plane')) return;
    const message = `There are several planes. Name the one its modules lie in: \`plane ${first(this.campaign.planes)}\`.`;
    this.#report('string/plane-missing', 'warning', record.headerRange, message);
  }

  #checkJudging(record: SweepRecord | SweepTableRecord): void {
    this.#checkName(record.layout, 'layout');
    this.#checkName(record.criteria, 'criteria');
    this.#checkInstruments(record.with);
    const string =
      record.kind === 'sweep' ? this.campaign.strings.get(record.address.string)?.record : undefined;
    const named = [record, string, this.campaign.campaign?.record].some((each) =>
      each?.propertyRanges.has('criteria'),
    );
    const isVoid = record.kind === 'sweep' && record.void;
    this.#undecided = !named && !isVoid && !criteriaOf(undefined, string, this.campaign);
  }

  #checkInstruments(names: readonly Name[]): void {
    const seen = new Map<CampaignEntry['kind'], string>();
    for (const name of names) {
      const instrument = this.campaign.instruments.get(name.text)?.record;
      if (!instrument) {
        this.#checkName(name, 'tracer', 'reference');
        continue;
      }
      const other = seen.get(instrument.kind);
      if (other !== undefined) {
        const message = `\`${other}\` and \`${name.text}\` are both a ${instrument.kind}; one of each is used.`;
        this.#report('sweep/instrument-twice', 'warning', name.range, message);
      }
      seen.set(instrument.kind, name.text);
    }
  }

  #checkReplace(address: Address, time: LocalTime | undefined): void {
    this.#checkAddress(address, time);
    if (address.first !== undefined || !this.campaign.strings.has(address.string)) return;
    const message = `Which module? Write its position, counted from the positive end: \`${address.string}/11\`.`;
    this.#report('replace/position-missing', 'error', address.range, message);
  }

  #checkAddress(address: Address, time: LocalTime | undefined): void {
    const string = this.campaign.strings.get(address.string);
    this.#checkTime(string?.record, time);
    if (!string) {
      const range = {
        start: address.range.start,
        end: { ...address.range.start, character: address.range.start.character + address.string.length },
      };
      return this.#checkName({ text: address.string, range }, 'string');
    }
    const count = string.record.modules?.count;
    const last = address.last ?? address.first;
    if (count === undefined || last === undefined || last <= count) return;
    const message = `String \`${address.string}\` has ${count} modules; there is no position ${last}.`;
    const range = shiftRange(string.record.headerRange, string.block.startLine);
    this.#problems.push({
      ...problem('address/beyond-string', 'error', address.range, message),
      related: [
        { place: { file: string.block.file, range }, message: `\`${address.string}\` is described here.` },
      ],
    });
  }

  /** The clock of the site shows some times twice and some never. */
  #checkTime(string: StringRecord | undefined, time: LocalTime | undefined): void {
    const zone = time && siteOf(planeOf(string, this.campaign), this.campaign)?.timezone;
    if (!zone || isSteadyDay(time, zone)) return;
    const found = resolveInstant(time, zone);
    if (found.kind === 'instant') return;
    const [before, after] = found.offsetsMinutes.map(formatOffset) as [string, string];
    const at = { start: time.range.end, end: time.range.end };
    const add = (offset: string) => ({ title: `Add ${offset}`, range: at, text: ` ${offset}` });
    if (found.kind === 'ambiguous') {
      const message = `The clock in ${zone} showed this time twice, as daylight saving ended. Write \`${before}\` or \`${after}\` behind it.`;
      this.#report('time/ambiguous', 'error', time.range, message, [add(before), add(after)]);
    } else {
      const message = `The clock in ${zone} never showed this time: it was set forward. Correct it, or write the offset it was taken in.`;
      this.#report('time/nonexistent', 'error', time.range, message, [add(before), add(after)]);
    }
  }

  #checkName(name: Name | undefined, ...kinds: readonly NamedKind[]): void {
    if (!name) return;
    const maps = kinds.map((kind) => this.#mapOf(kind));
    if (maps.some((map) => map.has(name.text)) || this.#isDoubtful(name.text)) return;
    const kind = kinds.join(' or ');
    const actual = namedKinds.find((each) => this.#mapOf(each).has(name.text));
    const none = maps.every((map) => map.size === 0) ? ` Write a \`${kinds[0]!}\` block of this name.` : '';
    const unknown = (about: string, near?: string): Problem => {
      const message = `There is no ${kind} \`${name.text}\`.${about}${about === '' ? none : ''}`;
      return problem('name/unknown', 'error', name.range, message, replaceMend(name.range, near));
    };
    if (actual) {
      const about = ` \`${name.text}\` is a ${this.#mapOf(actual).get(name.text)!.record.kind}.`;
      this.#problems.push(unknown(about));
      return;
    }
    let suggested: Problem | undefined;
    this.#problems.push({
      plain: unknown(''),
      withNearest: () => {
        const near = suggested ? undefined : nearest(name.text, maps[0]!.keys());
        return (suggested ??= unknown(didYouMean(near), near));
      },
    });
  }

  /** May the name belong to a block or a file that could not be read? Then its absence is no second mistake. */
  #isDoubtful(name: string): boolean {
    return this.doubts.namesMayBeMissing || this.doubts.doubtfulNames.has(name);
  }

  #mapOf(kind: NamedKind): ReadonlyMap<string, Placed> {
    const { sites, planes, modules, strings, instruments, layouts, criteria } = this.campaign;
    switch (kind) {
      case 'site':
        return sites;
      case 'plane':
        return planes;
      case 'module':
        return modules;
      case 'string':
        return strings;
      case 'layout':
        return layouts;
      case 'criteria':
        return criteria;
      case 'tracer':
      case 'reference':
        return instruments;
      case 'campaign':
        return new Map<string, Placed>();
    }
  }
}

const namedKinds: readonly NamedKind[] = [
  'site',
  'plane',
  'module',
  'string',
  'tracer',
  'layout',
  'criteria',
];

function first(map: ReadonlyMap<string, unknown>): string {
  for (const name of map.keys()) return name;
  return '';
}
