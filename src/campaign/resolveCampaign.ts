/** Puts the blocks of all files together into one campaign, by their names. */
import type { Block } from '../syntax/block.js';
import { conflictProblems } from '../syntax/conflicts.js';
import type { PlacedBlock } from '../syntax/document.js';
import { FilteredList } from '../text/filteredList.js';
import { GroupedList } from '../text/groupedList.js';
import { partsByKey } from '../text/groups.js';
import { MappedList } from '../text/mappedList.js';
import { finish, type Steps } from '../text/steps.js';
import { problemInFile, type FileProblem, type Problem } from '../text/problem.js';
import { filesOf, inOrderOfIncludes, type BlockOfFile, type CampaignFile } from './campaignFile.js';
import { CampaignReferences } from './checkReferences.js';
import { decodeBlock, type DecodedBlock } from './decodeBlock.js';
import type { BlockPlace, Campaign, Placed, SweepRecord, SweepTableRecord } from './model.js';
import { nameRecords, type NamedRecords } from './nameRecords.js';

export interface ResolvedCampaign {
  readonly campaign: Campaign;
  /** By file in reading order, then by line. */
  readonly problems: readonly FileProblem[];
}

/** Everything said, with the names resolved. Blocks that an edit did not touch keep their records. */
export const resolveCampaign = (root: CampaignFile): ResolvedCampaign =>
  finish(new CampaignResolver().resolve(root));

/** A block that stands in a file, with what it says. */
interface ReadBlock {
  readonly block: Block;
  readonly place: BlockPlace;
  readonly decoded: DecodedBlock;
  /** Absent where it says nothing by itself: an include, an unreadable header. */
  readonly placed?: Placed;
}

function readBlock(file: string, block: Block, startLine: number): ReadBlock {
  const decoded = decodeBlock(block);
  const place: BlockPlace = { file, startLine, endLine: startLine + block.endLine };
  return {
    block,
    place,
    decoded,
    ...(decoded.entry ? { placed: { record: decoded.entry, block: place } } : {}),
  };
}

type Part = 'sweep' | 'sweeps' | 'declaration';

/**
 * Resolves one campaign again and again. What an edit did not touch or move is the very same object as before: each `Placed`, the lists
 * of sweeps and tables, the names.
 */
export class CampaignResolver {
  #files = new Map<string, MappedList<PlacedBlock, ReadBlock>>();
  readonly #troubled = new FilteredList(
    ({ decoded }: ReadBlock) =>
      decoded.problems.length > 0 || decoded.doubtfulNames.length > 0 || decoded.slipped,
  );
  readonly #saying = new FilteredList(({ placed }: ReadBlock) => placed !== undefined);
  readonly #entries = new MappedList(({ placed }: ReadBlock) => placed!);
  readonly #parts = new GroupedList(({ record }: Placed): Part =>
    record.kind === 'sweep' || record.kind === 'sweeps' ? record.kind : 'declaration',
  );
  #named: NamedRecords = nameRecords([]);
  readonly #references = new CampaignReferences();

  *resolve(root: CampaignFile): Steps<ResolvedCampaign> {
    const files = filesOf(root);
    const blocks = yield* this.#blocksOf(root, files);
    yield;
    const campaign = this.#campaignOf(blocks);
    yield;
    const troubled = this.#troubled.of(blocks);
    const problems = [...(troubled.length > 0 ? problemsOf(troubled) : []), ...this.#named.problems];
    // A line that could not be read has had its one problem; what its names refer to comes after.
    const faulty = new Set(
      problems
        .filter(({ severity }) => severity === 'error')
        .map(({ file, range }) => `${file}:${range.start.line}`),
    );
    for (const { file, document } of files)
      for (const each of conflictProblems(document.text, document.conflicts))
        problems.push({ ...each, file });
    const references = yield* this.#references.check(campaign.entries, this.#named.names, {
      doubtfulNames: new Set(troubled.flatMap(({ decoded }) => decoded.doubtfulNames)),
      namesMayBeMissing: files.some(({ includes }) => includes.includes('unavailable')),
    });
    for (const each of references)
      if (!faulty.has(`${each.file}:${each.range.start.line}`)) problems.push(each);
    return {
      campaign,
      problems: inReadingOrder(
        problems,
        files.map(({ file }) => file),
      ),
    };
  }

  /** The campaign that blocks make in this order, whatever files they come from; what is wrong in them is not told. */
  campaignOfBlocks(blocks: readonly BlockOfFile[]): Campaign {
    return this.#campaignOf(blocks.map(({ file, block, startLine }) => readBlock(file, block, startLine)));
  }

  #campaignOf(blocks: readonly ReadBlock[]): Campaign {
    const entries = this.#entries.of(this.#saying.of(blocks));
    const parts = this.#parts.of(entries);
    const declarations = parts.get('declaration');
    if (declarations !== this.#named.names.declarations)
      this.#named = nameRecords(declarations, this.#named.names);
    return {
      ...this.#named.names,
      entries,
      sweeps: parts.get('sweep') as readonly Placed<SweepRecord>[],
      sweepTables: parts.get('sweeps') as readonly Placed<SweepTableRecord>[],
    };
  }

  /** Every block in reading order; those of an included file stand behind the line that includes it. */
  *#blocksOf(root: CampaignFile, files: readonly CampaignFile[]): Steps<readonly ReadBlock[]> {
    this.#files = partsByKey(
      files.map(({ file }) => file),
      this.#files,
      (file) => new MappedList(({ block, startLine }) => readBlock(file, block, startLine)),
    );
    const read = new Map<string, readonly ReadBlock[]>();
    for (const { file, document } of files)
      read.set(file, yield* this.#files.get(file)!.steps(document.blocks));
    const blocksIn = ({ file }: CampaignFile) => read.get(file)!;
    if (root.includes.length === 0) return blocksIn(root);
    return [...inOrderOfIncludes(root, blocksIn, ({ decoded }) => decoded.include !== undefined)];
  }
}

/** What is wrong with the blocks by themselves. */
function problemsOf(troubled: readonly ReadBlock[]): FileProblem[] {
  const slipped = new Set(
    troubled.flatMap(({ decoded, place }) => (decoded.slipped ? [`${place.file}:${place.startLine}`] : [])),
  );
  return troubled.flatMap(({ block, place, decoded: { problems } }) => {
    // What slipped to column 0 behind this block is what it lacks.
    const lacks = slipped.has(`${place.file}:${place.startLine + block.lineCount}`);
    return problems
      .filter((each) => !lacks || !saysIncomplete(each))
      .map((each) => problemInFile(place, each));
  });
}

function saysIncomplete(each: Problem): boolean {
  return /\/(incomplete|data-missing|conditions-missing)$/.test(each.id);
}

/** By file, then line; sorted in place. */
export function inReadingOrder(problems: FileProblem[], files: readonly string[]): FileProblem[] {
  const order = new Map(files.map((file, index) => [file, index]));
  const rank = (problem: FileProblem): number => order.get(problem.file) ?? files.length;
  return problems.sort(
    (a, b) =>
      rank(a) - rank(b) ||
      a.range.start.line - b.range.start.line ||
      a.range.start.character - b.range.start.character,
  );
}

/** Of a file that says nothing or cannot be read. */
export const emptyCampaign: Campaign = new CampaignResolver().campaignOfBlocks([]);
