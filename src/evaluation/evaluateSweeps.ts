/** The chain from a resolved campaign and its tables to every sweep with its analysis and diagnosis. */
import type { Campaign, Placed, SweepRecord, SweepTableRecord } from '../campaign/model.js';
import { PeerLevels } from '../diagnosis/peerLevels.js';
import { FlattenedList } from '../text/flattenedList.js';
import { FilteredList } from '../text/filteredList.js';
import { MappedList } from '../text/mappedList.js';
import type { FileProblem } from '../text/problem.js';
import { finishBreathing, type Steps } from '../text/steps.js';
import { SweepsAhead } from './ahead.js';
import type { Analysts } from './analysts.js';
import { ChangedByDevice } from './byDevice.js';
import type { ComingSweep } from './comingSweep.js';
import { DiagnosedSweeps } from './diagnosedSweeps.js';
import {
  comingSweep,
  comingSweepsOfTable,
  evaluateSweep,
  evaluateSweepTable,
  rememberedSweep,
  sweepsInTable,
  type SweepContext,
  type SweepsOfBlock,
} from './evaluateSweep.js';
import type { EvaluatedSweep } from './evaluation.js';
import { interpolatedAmong } from './interpolatedSweeps.js';
import type { SweepsProgress } from './ports.js';
import { repeatedAmong } from './repeatedSweeps.js';

export interface EvaluatedSweeps {
  /** In reading order. */
  readonly sweeps: readonly EvaluatedSweep[];
  readonly problems: readonly FileProblem[];
}

/** What a host may give for the sweeps of a campaign. */
export interface SweepsHelp {
  /** Asked where many are to be computed; the results are the same without. */
  readonly analysts?: Analysts | undefined;
  readonly progress?: SweepsProgress | undefined;
}

export type PlacedSweeps = Placed<SweepRecord | SweepTableRecord>;

export const isMeasured = (placed: Placed): placed is PlacedSweeps =>
  placed.record.kind === 'sweep' || placed.record.kind === 'sweeps';

/** The sweeps and tables of sweeps of a campaign, in reading order. */
export const measuredIn = ({ entries }: Campaign): PlacedSweeps[] => entries.filter(isMeasured);

/** The sweeps of one campaign, again and again as few of them change. */
export class CampaignSweeps {
  #last: {
    readonly meaning: object | undefined;
    readonly tables: object | undefined;
    readonly measured: readonly PlacedSweeps[];
    readonly blocks: readonly SweepsOfBlock[];
  } = { meaning: undefined, tables: undefined, measured: [], blocks: [] };
  readonly #lists = new MappedList(({ sweeps }: SweepsOfBlock) => sweeps);
  readonly #sweeps = new FlattenedList<EvaluatedSweep>();
  readonly #troubled = new FilteredList(
    ({ sweeps, problems }: SweepsOfBlock) =>
      problems.length > 0 || sweeps.some((sweep) => sweep.problems.length > 0),
  );
  readonly #interpolated = new ChangedByDevice(interpolatedAmong);
  readonly #repeated = new ChangedByDevice(repeatedAmong);
  readonly #levels = new PeerLevels<EvaluatedSweep>();
  readonly #diagnosed = new DiagnosedSweeps();

  /**
   * @param measured the sweeps and tables of sweeps of the campaign, in reading order
   * @param breathe called between sweeps: it answers at once, or with what is waited for; it throws to give up
   */
  async of(
    measured: readonly PlacedSweeps[],
    context: SweepContext,
    breathe: () => Promise<void> | undefined,
    { analysts, progress }: SweepsHelp = {},
  ): Promise<EvaluatedSweeps> {
    const { campaign } = context;
    const { blocks, missing } = await finishBreathing(this.#known(measured, context), breathe);
    const coming = analysts?.canWork ? await finishBreathing(comingOf(missing, context), breathe) : [];
    const work = analysts && coming.length >= analysts.leastSweeps ? analysts.begin() : undefined;
    try {
      const ahead = work && new SweepsAhead(work);
      const analysed = progress && (await finishBreathing(countOf(missing, context), breathe));
      const tellAnalysed = telling('analysed', analysed, progress);
      await ahead?.analyse(coming, campaign, breathe, tellAnalysed);
      let done = 0;
      const breatheAndTell = (): Promise<void> | undefined => {
        tellAnalysed(++done);
        return breathe();
      };
      for (const { at, placed } of missing)
        blocks[at] = await finishBreathing(evaluated(placed, context), breatheAndTell);
      const { meaning } = campaign;
      this.#last = { meaning, tables: context.tables, measured, blocks };
      const single = this.#sweeps.of(this.#lists.of(blocks));
      const beside = await finishBreathing(this.#beside(single, campaign), breathe);
      const peers = await finishBreathing(this.#levels.of(beside), breathe);
      const types = [...campaign.modules.values()].map(({ record }) => record);
      const tellDiagnosed = telling('diagnosed', beside.length, progress);
      await ahead?.diagnose(beside, peers, types, breathe, tellDiagnosed);
      const sweeps = await finishBreathing(this.#diagnosed.of(beside, peers, types, tellDiagnosed), breathe);
      const problems = this.#troubled
        .of(blocks)
        .flatMap((block) => [...block.problems, ...block.sweeps.flatMap((sweep) => sweep.problems)]);
      return { sweeps, problems };
    } finally {
      work?.close();
    }
  }

  /** The sweeps with what others of their device add. */
  *#beside(single: readonly EvaluatedSweep[], campaign: Campaign): Steps<readonly EvaluatedSweep[]> {
    yield;
    const interpolated = yield* this.#interpolated.of(single, campaign);
    return yield* this.#repeated.of(interpolated, campaign);
  }

  /** Blocks that are known, and those that are to be computed, at which stands nothing. */
  *#known(
    measured: readonly PlacedSweeps[],
    context: SweepContext,
  ): Steps<{ readonly blocks: SweepsOfBlock[]; readonly missing: readonly MissingBlock[] }> {
    const last = this.#last;
    // Where no name and no table can mean another thing, what did not move need not be looked at.
    const holds = last.meaning === context.campaign.meaning && last.tables === context.tables;
    const blocks: SweepsOfBlock[] = [];
    const missing: MissingBlock[] = [];
    for (let at = 0; at < measured.length; at++) {
      const placed = measured[at]!;
      if (holds && placed === last.measured[at]) {
        blocks.push(last.blocks[at]!);
        continue;
      }
      const known = isSweep(placed) ? rememberedSweep(placed, context) : undefined;
      blocks.push(known ?? nothing);
      if (!known) missing.push({ at, placed });
      yield;
    }
    return { blocks, missing };
  }
}

interface MissingBlock {
  /** Its place among the blocks. */
  readonly at: number;
  readonly placed: PlacedSweeps;
}

const nothing: SweepsOfBlock = { sweeps: [], problems: [] };

const isSweep = (placed: PlacedSweeps): placed is Placed<SweepRecord> => placed.record.kind === 'sweep';

/** A step is one sweep. */
function* evaluated(placed: PlacedSweeps, context: SweepContext): Steps<SweepsOfBlock> {
  if (!isSweep(placed)) return yield* evaluateSweepTable(placed as Placed<SweepTableRecord>, context);
  const block = evaluateSweep(placed, context);
  yield;
  return block;
}

function* countOf(missing: readonly MissingBlock[], context: SweepContext): Steps<number> {
  let count = 0;
  for (const { placed } of missing) {
    count += isSweep(placed) ? 1 : sweepsInTable(placed as Placed<SweepTableRecord>, context);
    yield;
  }
  return count;
}

/** Tells of a step as far as it has ever been: what analysts answered is gone through once more. */
function telling(
  step: Parameters<SweepsProgress>[0],
  of: number | undefined,
  progress: SweepsProgress | undefined,
): (done: number) => void {
  let most = 0;
  return (done) => {
    if (progress && of !== undefined && done > most) progress(step, (most = done), of);
  };
}

function* comingOf(missing: readonly MissingBlock[], context: SweepContext): Steps<ComingSweep[]> {
  const coming: ComingSweep[] = [];
  for (const { placed } of missing) {
    const own = isSweep(placed)
      ? comingSweep(placed, context)
      : comingSweepsOfTable(placed as Placed<SweepTableRecord>, context);
    for (const sweep of own) coming.push(sweep);
    yield;
  }
  return coming;
}
