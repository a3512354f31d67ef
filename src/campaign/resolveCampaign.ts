/** Puts the blocks of all files together into one campaign, by their names. */
import { conflictProblems } from '../syntax/conflicts.js';
import { shiftRange } from '../text/place.js';
import type { FileProblem, Problem } from '../text/problem.js';
import { blocksInReadingOrder, filesOf, type BlockOfFile, type CampaignFile } from './campaignFile.js';
import { checkReferences } from './checkReferences.js';
import { decodeBlock } from './decodeBlock.js';
import type { BlockPlace, Campaign, CampaignEntry, CampaignRecord, Name, Placed } from './model.js';

export interface ResolvedCampaign {
  readonly campaign: Campaign;
  /** By file in reading order, then by line. */
  readonly problems: readonly FileProblem[];
}

/** Most strings that one campaign may name; runs make many of few characters. */
export const mostStrings = 100_000;

type Kept<K extends CampaignEntry['kind']> = Placed<Extract<CampaignEntry, { kind: K }>>;

/** Everything said, with the names resolved. Blocks that an edit did not touch keep their records. */
export function resolveCampaign(root: CampaignFile): ResolvedCampaign {
  const assembly = new Assembly();
  for (const block of blocksInReadingOrder(root)) assembly.readBlock(block);
  for (const { file, document } of filesOf(root))
    for (const each of conflictProblems(document.text, document.conflicts)) assembly.reportInFile(file, each);
  assembly.namesMayBeMissing = filesOf(root).some(({ includes }) => includes.includes('unavailable'));
  const { campaign } = assembly;
  checkReferences(campaign, {
    report: (placed, each) => assembly.reportReference(placed.block, each),
    isDoubtful: (name) => assembly.namesMayBeMissing || assembly.doubtfulNames.has(name),
    anyDoubt: assembly.namesMayBeMissing || assembly.doubtfulNames.size > 0,
  });
  return { campaign, problems: assembly.sortedProblems() };
}

/** The campaign that blocks make in this order, whatever files they come from; what is wrong in them is not told. */
export function campaignOfBlocks(blocks: Iterable<BlockOfFile>): Campaign {
  const assembly = new Assembly();
  for (const block of blocks) assembly.readBlock(block);
  return assembly.campaign;
}

class Assembly {
  readonly #entries: Placed[] = [];
  readonly #sites = new Map<string, Kept<'site'>>();
  readonly #planes = new Map<string, Kept<'plane'>>();
  readonly #modules = new Map<string, Kept<'module'>>();
  readonly #strings = new Map<string, Kept<'string'>>();
  readonly #instruments = new Map<string, Kept<'tracer' | 'reference'>>();
  readonly #layouts = new Map<string, Kept<'layout'>>();
  readonly #criteria = new Map<string, Kept<'criteria'>>();
  readonly #sweeps: Kept<'sweep'>[] = [];
  readonly #tables: Kept<'sweeps'>[] = [];
  #campaign: Placed<CampaignRecord> | undefined;
  readonly #problems: FileProblem[] = [];
  readonly #referenceProblems: (readonly [BlockPlace, Problem])[] = [];
  /** Lines of files that hold an error already, as `file:line`. */
  readonly #faultyLines = new Set<string>();
  readonly #fileOrder = new Map<string, number>();
  readonly doubtfulNames = new Set<string>();
  namesMayBeMissing = false;

  get campaign(): Campaign {
    return {
      entries: this.#entries,
      campaign: this.#campaign,
      sites: this.#sites,
      planes: this.#planes,
      modules: this.#modules,
      strings: this.#strings,
      instruments: this.#instruments,
      layouts: this.#layouts,
      criteria: this.#criteria,
      sweeps: this.#sweeps,
      sweepTables: this.#tables,
    };
  }

  readBlock({ file, block, startLine, next }: BlockOfFile): void {
    if (!this.#fileOrder.has(file)) this.#fileOrder.set(file, this.#fileOrder.size);
    const { entry, problems, doubtfulNames } = decodeBlock(block);
    const place: BlockPlace = { file, startLine, endLine: startLine + block.endLine };
    for (const name of doubtfulNames) this.doubtfulNames.add(name);
    if (problems.length > 0) {
      // What slipped to column 0 behind this block is what it lacks.
      const slipped = next !== undefined && decodeBlock(next).slipped;
      for (const each of problems) if (!slipped || !saysIncomplete(each)) this.report(place, each);
    }
    if (entry) this.#add({ record: entry, block: place });
  }

  #add(placed: Placed): void {
    this.#entries.push(placed);
    const { record } = placed;
    switch (record.kind) {
      case 'campaign':
        return this.#addCampaign(placed as Placed<CampaignRecord>);
      case 'site':
        return this.#addNamed(this.#sites, placed as Kept<'site'>);
      case 'plane':
        return this.#addNamed(this.#planes, placed as Kept<'plane'>);
      case 'module':
        return this.#addNamed(this.#modules, placed as Kept<'module'>);
      case 'string':
        return this.#addStrings(placed as Kept<'string'>);
      case 'tracer':
      case 'reference':
        return this.#addNamed(this.#instruments, placed as Kept<'tracer' | 'reference'>);
      case 'layout':
        return this.#addNamed(this.#layouts, placed as Kept<'layout'>);
      case 'criteria':
        return this.#addNamed(this.#criteria, placed as Kept<'criteria'>);
      case 'sweep':
        this.#sweeps.push(placed as Kept<'sweep'>);
        return;
      case 'sweeps':
        this.#tables.push(placed as Kept<'sweeps'>);
        return;
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

  #addStrings(placed: Kept<'string'>): void {
    const { names, name } = placed.record;
    if (this.#strings.size + names.length > mostStrings) {
      const message = `A campaign has at most ${mostStrings} strings; these are not read.`;
      this.report(placed.block, { id: 'string/too-many', severity: 'error', range: name.range, message });
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
    this.report(block, { id, severity: 'error', range: name.range, message, related });
  }

  /** @param each with lines relative to the block, save in its related places */
  report(block: BlockPlace, each: Problem): void {
    const range = shiftRange(each.range, block.startLine);
    const mends = each.mends?.map((mend) => ({ ...mend, range: shiftRange(mend.range, block.startLine) }));
    this.#problems.push({ ...each, file: block.file, range, ...(mends ? { mends } : {}) });
    if (each.severity === 'error') this.#faultyLines.add(`${block.file}:${range.start.line}`);
  }

  /** @param each with lines of the file */
  reportInFile(file: string, each: Problem): void {
    this.#problems.push({ ...each, file });
  }

  /** A line that could not be read has had its one problem; what its names refer to comes after. */
  reportReference(block: BlockPlace, each: Problem): void {
    this.#referenceProblems.push([block, each]);
  }

  #takeReferences(): void {
    const sound = this.#referenceProblems.filter(
      ([block, each]) => !this.#faultyLines.has(`${block.file}:${block.startLine + each.range.start.line}`),
    );
    for (const [block, each] of sound) this.report(block, each);
  }

  sortedProblems(): FileProblem[] {
    this.#takeReferences();
    const order = (each: FileProblem) => this.#fileOrder.get(each.file) ?? 0;
    return this.#problems.sort(
      (a, b) =>
        order(a) - order(b) ||
        a.range.start.line - b.range.start.line ||
        a.range.start.character - b.range.start.character,
    );
  }
}

function saysIncomplete(each: Problem): boolean {
  return /\/(incomplete|data-missing|conditions-missing)$/.test(each.id);
}

/** Of a file that says nothing or cannot be read. */
export const emptyCampaign: Campaign = new Assembly().campaign;
