/** Gives the records of a campaign their names: which one a name stands for, and what is given twice. */
import { isSameList } from '../text/changedSpan.js';
import { shiftRange } from '../text/place.js';
import { problemInFile, type FileProblem, type Problem } from '../text/problem.js';
import type {
  BlockPlace,
  CampaignEntry,
  CampaignNames,
  CampaignRecord,
  CriteriaRecord,
  InstrumentRecord,
  LayoutRecord,
  ModuleRecord,
  Name,
  Placed,
  PlaneRecord,
  SiteRecord,
  StringRecord,
} from './model.js';

/** Most strings that one campaign may name; runs make many of few characters. */
export const mostStrings = 100_000;

export interface NamedRecords {
  readonly names: CampaignNames;
  /** In the order of the records. */
  readonly problems: readonly FileProblem[];
}

/**
 * @param declarations every record but the sweeps, in reading order
 * @param former what was answered before, whose `meaning` holds where only places changed
 */
export function nameRecords(declarations: readonly Placed[], former?: CampaignNames): NamedRecords {
  const naming = new Naming();
  for (const placed of declarations) naming.add(placed);
  const sameMeaning =
    former !== undefined && isSameList(recordsOf(declarations), recordsOf(former.declarations));
  return {
    names: { ...naming.names, declarations, meaning: sameMeaning ? former.meaning : {} },
    problems: naming.problems,
  };
}

const recordsOf = (placed: readonly Placed[]): CampaignEntry[] => placed.map(({ record }) => record);

class Naming {
  readonly #sites = new Map<string, Placed<SiteRecord>>();
  readonly #planes = new Map<string, Placed<PlaneRecord>>();
  readonly #modules = new Map<string, Placed<ModuleRecord>>();
  readonly #strings = new Map<string, Placed<StringRecord>>();
  readonly #instruments = new Map<string, Placed<InstrumentRecord>>();
  readonly #layouts = new Map<string, Placed<LayoutRecord>>();
  readonly #criteria = new Map<string, Placed<CriteriaRecord>>();
  #campaign: Placed<CampaignRecord> | undefined;
  readonly problems: FileProblem[] = [];

  get names(): Omit<CampaignNames, 'declarations' | 'meaning'> {
    return {
      campaign: this.#campaign,
      sites: this.#sites,
      planes: this.#planes,
      modules: this.#modules,
      strings: this.#strings,
      instruments: this.#instruments,
      layouts: this.#layouts,
      criteria: this.#criteria,
    };
  }

  add(placed: Placed): void {
    const { record } = placed;
    switch (record.kind) {
      case 'campaign':
        return this.#addCampaign(placed as Placed<CampaignRecord>);
      case 'site':
        return this.#addNamed(this.#sites, placed as Placed<SiteRecord>);
      case 'plane':
        return this.#addNamed(this.#planes, placed as Placed<PlaneRecord>);
      case 'module':
        return this.#addNamed(this.#modules, placed as Placed<ModuleRecord>);
      case 'string':
        return this.#addStrings(placed as Placed<StringRecord>);
      case 'tracer':
      case 'reference':
        return this.#addNamed(this.#instruments, placed as Placed<InstrumentRecord>);
      case 'layout':
        return this.#addNamed(this.#layouts, placed as Placed<LayoutRecord>);
      case 'criteria':
        return this.#addNamed(this.#criteria, placed as Placed<CriteriaRecord>);
      default:
        return;
    }
  }

  #addCampaign(placed: Placed<CampaignRecord>): void {
    if (!this.#campaign) {
      this.#campaign = placed;
      return;
    }
    const message =
      'There is one `campaign` block; the first one counts. Another campaign goes into a file of its own.';
    this.#reportSecond('campaign/second', placed.block, placed.record.name, this.#campaign, message);
  }

  #addNamed<T extends CampaignEntry & { readonly name: Name }>(
    map: Map<string, Placed<T>>,
    placed: Placed<T>,
  ): void {
    const { name, kind } = placed.record;
    const first = map.get(name.text);
    if (!first) map.set(name.text, placed);
    else this.#reportTwice(kind, name.text, placed.block, name, first);
  }

  #addStrings(placed: Placed<StringRecord>): void {
    const { names, name } = placed.record;
    if (this.#strings.size + names.length > mostStrings) {
      const message = `A campaign has at most ${mostStrings} strings; these are not read.`;
      this.#report(placed.block, { id: 'string/too-many', severity: 'error', range: name.range, message });
      return;
    }
    let reported = false;
    for (const each of names) {
      const first = this.#strings.get(each);
      if (!first) this.#strings.set(each, placed);
      else if (!reported) {
        reported = true;
        this.#reportTwice('string', each, placed.block, name, first);
      }
    }
  }

  #reportTwice(kind: string, text: string, block: BlockPlace, name: Name, first: Placed): void {
    const message = `There is a ${kind} \`${text}\` already; the first one counts. Give this one another name.`;
    this.#reportSecond('name/twice', block, name, first, message);
  }

  #reportSecond(id: string, block: BlockPlace, name: Name, first: Placed, message: string): void {
    const range = shiftRange(first.record.headerRange, first.block.startLine);
    const related = [{ place: { file: first.block.file, range }, message: 'The first one stands here.' }];
    this.#report(block, { id, severity: 'error', range: name.range, message, related });
  }

  #report(block: BlockPlace, each: Problem): void {
    this.problems.push(problemInFile(block, each));
  }
}
