/** Every name that refers to something: does it, and does what it refers to fit? */
import type { Problem } from '../text/problem.js';
import { shiftRange, type Range } from '../text/place.js';
import type {
  Address,
  Campaign,
  CampaignEntry,
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

export interface ReferenceChecks {
  report(placed: Placed, each: Problem): void;
  /** May the name belong to a block or a file that could not be read? Then its absence is no second mistake. */
  isDoubtful(name: string): boolean;
  /** Is any block or file unreadable? */
  readonly anyDoubt: boolean;
}

export function checkReferences(campaign: Campaign, checks: ReferenceChecks): void {
  new ReferenceCheck(campaign, checks).run();
}

/** Looking for the nearest name costs; a file with more unknown names than this has another trouble. */
const mostSuggestions = 100;

class ReferenceCheck {
  #suggestions = 0;
  readonly #undecided: Placed<SweepRecord | SweepTableRecord>[] = [];

  constructor(
    readonly campaign: Campaign,
    readonly checks: ReferenceChecks,
  ) {}

  run(): void {
    for (const placed of this.campaign.entries) this.#checkEntry(placed);
    this.#reportUndecided();
  }

  #checkEntry(placed: Placed): void {
    const { record } = placed;
    switch (record.kind) {
      case 'campaign':
        return this.#checkName(placed, record.criteria, 'criteria');
      case 'plane':
        return this.#checkPlane(placed, record.site);
      case 'string':
        return this.#checkString(placed as Placed<StringRecord>);
      case 'sweep':
        return this.#checkSweep(placed as Placed<SweepRecord>);
      case 'sweeps':
        return this.#checkJudging(placed as Placed<SweepTableRecord>);
      case 'replace':
        this.#checkName(placed, record.type?.old, 'module');
        this.#checkName(placed, record.type?.new, 'module');
        return this.#checkReplace(placed, record.address, record.time);
      case 'insulation':
      case 'continuity':
      case 'polarity':
      case 'meter':
        this.#checkInstruments(placed, record.with);
        return this.#checkAddress(placed, record.address, record.time);
      case 'note':
      case 'accept':
        if (record.address) this.#checkAddress(placed, record.address, record.time);
        return;
      default:
        return;
    }
  }

  #report(
    placed: Placed,
    id: string,
    severity: Problem['severity'],
    range: Range,
    message: string,
    mends?: Problem['mends'],
  ) {
    this.checks.report(placed, problem(id, severity, range, message, mends));
  }

  #checkPlane(placed: Placed, site: Name | undefined): void {
    if (site) return this.#checkName(placed, site, 'site');
    if (this.campaign.sites.size < 2) return;
    const message = `There are several sites. Name the one this plane stands on: \`site ${first(this.campaign.sites)}\`.`;
    this.#report(placed, 'plane/site-missing', 'warning', placed.record.headerRange, message);
  }

  #checkString(placed: Placed<StringRecord>): void {
    const { record } = placed;
    this.#checkName(placed, record.modules?.type, 'module');
    this.#checkName(placed, record.criteria, 'criteria');
    if (record.formerly && record.names.length > 1) {
      const message =
        '`formerly` gives the earlier name of one string; a string of a run that was renamed gets a block of its own.';
      this.#report(placed, 'string/formerly-of-run', 'error', record.formerly.range, message);
    }
    if (record.plane) return this.#checkName(placed, record.plane, 'plane');
    if (this.campaign.planes.size < 2 || record.propertyRanges.has('plane')) return;
    const message = `There are several planes. Name the one its modules lie in: \`plane ${first(this.campaign.planes)}\`.`;
    this.#report(placed, 'string/plane-missing', 'warning', record.headerRange, message);
  }

  #checkSweep(placed: Placed<SweepRecord>): void {
    const { record } = placed;
    this.#checkAddress(placed, record.address, record.time);
    this.#checkJudging(placed);
  }

  #checkJudging(placed: Placed<SweepRecord | SweepTableRecord>): void {
    const { record } = placed;
    this.#checkName(placed, record.layout, 'layout');
    this.#checkName(placed, record.criteria, 'criteria');
    this.#checkInstruments(placed, record.with);
    const string =
      record.kind === 'sweep' ? this.campaign.strings.get(record.address.string)?.record : undefined;
    const named = [record, string, this.campaign.campaign?.record].some((each) =>
      each?.propertyRanges.has('criteria'),
    );
    const isVoid = record.kind === 'sweep' && record.void;
    if (!named && !isVoid && !criteriaOf(undefined, string, this.campaign)) this.#undecided.push(placed);
  }

  /** One problem for all sweeps that no criteria judge, at the first of them. */
  #reportUndecided(): void {
    const placed = this.#undecided[0];
    if (!placed || this.checks.anyDoubt) return;
    const count = this.#undecided.length;
    const who = count === 1 ? 'this sweep' : `this sweep and ${count - 1} more`;
    const names = [...this.campaign.criteria.keys()];
    const [id, message] =
      names.length === 0
        ? [
            'criteria/missing',
            `There are no criteria, so ${who} cannot be judged. Write a \`criteria\` block.`,
          ]
        : [
            'criteria/ambiguous',
            `There are several criteria (${joinWith('and', names)}), and none is named for ${who}. Write \`criteria ${names[0]!}\` in the campaign, the string or the sweep.`,
          ];
    this.#report(placed, id, 'warning', placed.record.headerRange, message);
  }

  #checkInstruments(placed: Placed, names: readonly Name[]): void {
    const seen = new Map<CampaignEntry['kind'], string>();
    for (const name of names) {
      const instrument = this.campaign.instruments.get(name.text)?.record;
      if (!instrument) {
        this.#checkName(placed, name, 'tracer', 'reference');
        continue;
      }
      const other = seen.get(instrument.kind);
      if (other !== undefined) {
        const message = `\`${other}\` and \`${name.text}\` are both a ${instrument.kind}; one of each is used.`;
        this.#report(placed, 'sweep/instrument-twice', 'warning', name.range, message);
      }
      seen.set(instrument.kind, name.text);
    }
  }

  #checkReplace(placed: Placed, address: Address, time: LocalTime | undefined): void {
    this.#checkAddress(placed, address, time);
    if (address.first !== undefined || !this.campaign.strings.has(address.string)) return;
    const message = `Which module? Write its position, counted from the positive end: \`${address.string}/11\`.`;
    this.#report(placed, 'replace/position-missing', 'error', address.range, message);
  }

  #checkAddress(placed: Placed, address: Address, time: LocalTime | undefined): void {
    const string = this.campaign.strings.get(address.string);
    this.#checkTime(placed, string?.record, time);
    if (!string) {
      const range = {
        start: address.range.start,
        end: { ...address.range.start, character: address.range.start.character + address.string.length },
      };
      return this.#checkName(placed, { text: address.string, range }, 'string');
    }
    const count = string.record.modules?.count;
    const last = address.last ?? address.first;
    if (count === undefined || last === undefined || last <= count) return;
    const message = `String \`${address.string}\` has ${count} modules; there is no position ${last}.`;
    const range = shiftRange(string.record.headerRange, string.block.startLine);
    this.checks.report(placed, {
      ...problem('address/beyond-string', 'error', address.range, message),
      related: [
        { place: { file: string.block.file, range }, message: `\`${address.string}\` is described here.` },
      ],
    });
  }

  /** The clock of the site shows some times twice and some never. */
  #checkTime(placed: Placed, string: StringRecord | undefined, time: LocalTime | undefined): void {
    const zone = time && siteOf(planeOf(string, this.campaign), this.campaign)?.timezone;
    if (!zone || isSteadyDay(time, zone)) return;
    const found = resolveInstant(time, zone);
    if (found.kind === 'instant') return;
    const [before, after] = found.offsetsMinutes.map(formatOffset) as [string, string];
    const at = { start: time.range.end, end: time.range.end };
    const add = (offset: string) => ({ title: `Add ${offset}`, range: at, text: ` ${offset}` });
    if (found.kind === 'ambiguous') {
      const message = `The clock in ${zone} showed this time twice, as daylight saving ended. Write \`${before}\` or \`${after}\` behind it.`;
      this.#report(placed, 'time/ambiguous', 'error', time.range, message, [add(before), add(after)]);
    } else {
      const message = `The clock in ${zone} never showed this time: it was set forward. Correct it, or write the offset it was taken in.`;
      this.#report(placed, 'time/nonexistent', 'error', time.range, message, [add(before), add(after)]);
    }
  }

  #checkName(placed: Placed, name: Name | undefined, ...kinds: readonly NamedKind[]): void {
    if (!name) return;
    const maps = kinds.map((kind) => this.#mapOf(kind));
    if (maps.some((map) => map.has(name.text)) || this.checks.isDoubtful(name.text)) return;
    const kind = kinds.join(' or ');
    const actual = namedKinds.find((each) => this.#mapOf(each).has(name.text));
    const near =
      actual || this.#suggestions++ > mostSuggestions ? undefined : nearest(name.text, maps[0]!.keys());
    const about = actual
      ? ` \`${name.text}\` is a ${this.#mapOf(actual).get(name.text)!.record.kind}.`
      : didYouMean(near);
    const none = maps.every((map) => map.size === 0) ? ` Write a \`${kinds[0]!}\` block of this name.` : '';
    const message = `There is no ${kind} \`${name.text}\`.${about}${about === '' ? none : ''}`;
    this.#report(placed, 'name/unknown', 'error', name.range, message, replaceMend(name.range, near));
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
