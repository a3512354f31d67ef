/** Campaigns between two others: the earlier one with some of the changes made, evaluated as a campaign is. */
import type { BlockOfFile } from '../campaign/campaignFile.js';
import { decodeBlock } from '../campaign/decodeBlock.js';
import type { CampaignEntry } from '../campaign/model.js';
import { CampaignResolver } from '../campaign/resolveCampaign.js';
import { StringCases } from '../cases/casesOf.js';
import { evaluateElectricalTests } from '../evaluation/evaluateElectricalTests.js';
import { CampaignSweeps, measuredIn } from '../evaluation/evaluateSweeps.js';
import type { FileContent } from '../evaluation/ports.js';
import { firstBeyondRows } from '../evaluation/rowsLimit.js';
import { finish } from '../text/steps.js';
import type { Block } from '../syntax/block.js';
import type { Change, PairChanges, Slot } from './changes.js';
import type { Part } from './parts.js';
import { readOff, type Results, type Snapshot } from './snapshot.js';
import type { TableChange, Tables } from './tables.js';
import { blockOf, type Unit } from './units.js';

export interface MixtureInput {
  readonly pairs: readonly PairChanges[];
  readonly tables: { readonly before: Tables; readonly after: Tables };
  readonly tableChanges: readonly TableChange[];
  readonly breathe: () => Promise<void> | undefined;
}

interface Mixed extends BlockOfFile {
  readonly pair: number;
}

export class Mixtures {
  /** Blocks once made, by the pair and the changes made in it: the same object is computed once. */
  readonly #blocks = new Map<string, Block>();
  readonly #resolver = new CampaignResolver();
  readonly #sweeps = new CampaignSweeps();
  readonly #cases = new StringCases();
  readonly #filesBefore: ReadonlySet<string>;
  readonly #tableChanges: ReadonlyMap<string, Change>;

  constructor(readonly input: MixtureInput) {
    this.#tableChanges = new Map(input.tableChanges.map(({ name, change }) => [name, change]));
    this.#filesBefore = new Set(input.pairs.flatMap(({ before }) => before?.file ?? []));
  }

  /** What the earlier campaign says with these changes and no others. */
  async evaluate(made: ReadonlySet<Change>): Promise<Snapshot> {
    const blocks = this.input.pairs.flatMap((pair, index) => this.#mixed(pair, index, made) ?? []);
    const campaign = this.#resolver.campaignOfBlocks(blocks);
    const table = (file: string, path: string) => this.#table(file, path, made);
    const reader = this.input.tables.before.sources;
    const measured = measuredIn(campaign);
    const contents = measured.map(
      ({ record, block }) => record.data && table(block.file, record.data.text)?.content,
    );
    const leftOut = new Set(measured.slice(finish(firstBeyondRows(contents))));
    const context = { campaign, reader, table, tables: made, leftOut };
    const { sweeps } = await this.#sweeps.of(measured, context, this.input.breathe);
    const results: Results = {
      sweeps,
      cases: finish(this.#cases.of(campaign, sweeps)),
      electricalTests: evaluateElectricalTests(campaign),
    };
    const pairs = new Map<CampaignEntry, number>();
    for (const { block, pair } of blocks) {
      const { entry } = decodeBlock(block);
      if (entry) pairs.set(entry, pair);
    }
    return readOff(results, (record) => pairs.get(record));
  }

  #mixed(pair: PairChanges, index: number, made: ReadonlySet<Change>): Mixed | undefined {
    const { before, after, change, slots } = pair;
    const placed = (unit: Unit, block = unit.block): Mixed => {
      return { file: unit.file, startLine: unit.startLine, block, pair: index };
    };
    if (change) {
      const isThere = made.has(change) === (change.kind === 'added');
      return isThere ? placed((before ?? after)!) : undefined;
    }
    const chosen = slots.map((slot) => takesAfter(slot, made));
    if (!chosen.includes(true)) return placed(before!);
    // With every change made it is the later block itself, of which everything is known already.
    if (slots.every((each) => !each.change || each.change.wordsOnly || made.has(each.change)))
      return placed(after!);
    return placed(pathIsLater(slots, chosen) ? after! : before!, this.#block(index, slots, chosen));
  }

  #block(index: number, slots: readonly Slot[], chosen: readonly boolean[]): Block {
    const key = `${index} ${chosen.map(Number).join('')}`;
    let block = this.#blocks.get(key);
    if (!block) {
      const parts = slots.flatMap((slot, at) => (chosen[at] ? slot.after : slot.before) ?? []);
      this.#blocks.set(key, (block = blockOf(parts)));
    }
    return block;
  }

  #table(
    file: string,
    path: string,
    made: ReadonlySet<Change>,
  ): { file: string; content: FileContent } | undefined {
    const { before, after } = this.input.tables;
    // Where both campaigns call their files alike, either finds the same table.
    const own = this.#filesBefore.has(file) ? before : after;
    const name = own.nameOf(file, path);
    const change = this.#tableChanges.get(name);
    const isLater = change ? made.has(change) : !before.get(name);
    return (isLater ? after : before).get(name);
  }
}

function takesAfter({ change, takesAfter: always }: Slot, made: ReadonlySet<Change>): boolean {
  return always === true || (change !== undefined && made.has(change));
}

/** The path of the table comes from the later file, and counts from its folder. */
function pathIsLater(slots: readonly Slot[], chosen: readonly boolean[]): boolean {
  const isPath = ({ before, after }: Slot): boolean =>
    before?.key === 'data' || after?.key === 'data' || isTableHeader(before ?? after);
  return slots.some((slot, at) => isPath(slot) && chosen[at]);
}

function isTableHeader(part: Part | undefined): boolean {
  return part?.key === 'header' && part.lines[0]!.tokens[0]?.text === 'sweeps';
}
