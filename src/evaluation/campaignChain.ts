/**
 * The chain from the files of one campaign to its verdicts, run again and again. Each link takes over from the run before what an edit
 * did not touch.
 */
import type { CampaignFile } from '../campaign/campaignFile.js';
import type { Campaign } from '../campaign/model.js';
import { CampaignResolver, inReadingOrder } from '../campaign/resolveCampaign.js';
import { StringCases } from '../cases/casesOf.js';
import { PeerGroups, peerProblems } from '../cases/peers.js';
import { countElectrical, electricalDangers } from '../electricalTests/judgeElectricalTests.js';
import { isSameList } from '../text/changedSpan.js';
import { FilteredList } from '../text/filteredList.js';
import { GroupedList } from '../text/groupedList.js';
import { MappedList } from '../text/mappedList.js';
import type { FileProblem } from '../text/problem.js';
import { finishBreathing } from '../text/steps.js';
import { CampaignChecks } from './checkedCampaign.js';
import { Compositions } from './comparisons.js';
import { evaluateElectricalTests } from './evaluateElectricalTests.js';
import type { NamedTable } from './evaluateSweep.js';
import { CampaignSweeps, isMeasured, type PlacedSweeps, type SweepsHelp } from './evaluateSweeps.js';
import type { EvaluatedSweep, Evaluation, Sources, VerdictCounts } from './evaluation.js';
import type { FileStore } from './fileStore.js';
import type { LoadedFiles } from './loadFiles.js';
import type { FileContent, FileReader } from './ports.js';
import { beyondRowsProblem, firstBeyondRows } from './rowsLimit.js';

export interface ChainHost extends SweepsHelp {
  readonly store: FileStore;
  readonly reader: FileReader;
}

/** Asked for at once: enough that no host idles, and few enough that giving up waits for no more. */
const tablesAtOnce = 256;

/** Called in between: answers at once, or with what is waited for; throws to give up. */
type Breathe = () => Promise<void> | undefined;

export class CampaignChain {
  readonly #host: ChainHost;
  readonly #resolver = new CampaignResolver();
  readonly #measured = new FilteredList(isMeasured);
  /** The file of the table that each names; undefined where it names none, or one outside of the workspace. */
  readonly #tableFiles = new MappedList(
    ({ record, block }: PlacedSweeps) =>
      record.data && this.#host.reader.resolve(block.file, record.data.text),
  );
  #tables: {
    readonly edition: number;
    readonly files: readonly (string | undefined)[];
    readonly contents: ReadonlyMap<string, FileContent>;
    /** The place among the sweeps and tables of sweeps from which on tables are too much for one campaign. */
    readonly beyond: number;
  } = { edition: -1, files: [], contents: new Map(), beyond: Infinity };
  readonly #sweeps = new CampaignSweeps();
  readonly #verdicts = new GroupedList(({ analysis }: EvaluatedSweep) => analysis.verdict);
  readonly #peerGroups = new PeerGroups();
  readonly #cases = new StringCases();
  readonly #compositions = new Compositions();
  readonly #checks = new CampaignChecks();

  constructor(host: ChainHost) {
    this.#host = host;
  }

  /** Everything but the comparison with an earlier campaign. */
  async run(read: CampaignFile, loaded: LoadedFiles, breathe: Breathe): Promise<Evaluation> {
    const { campaign, problems } = await finishBreathing(this.#resolver.resolve(read), breathe);
    const sources = await this.sourcesOf(read, campaign, breathe);
    const table = (file: string, path: string): NamedTable | undefined => {
      const name = sources.resolve(file, path);
      const content = name === undefined ? undefined : sources.tables.get(name);
      return content && { file: name!, content };
    };
    const measured = this.#measuredIn(campaign);
    const leftOut = measured.slice(this.#tables.beyond);
    const { tables } = sources;
    const context = { campaign, reader: sources, table, tables, leftOut: new Set(leftOut) };
    const { sweeps, problems: sweepProblems } = await this.#sweeps.of(measured, context, breathe, this.#host);
    await breathe();
    const electricalTests = evaluateElectricalTests(campaign);
    const peerGroups = this.#peerGroups.of(sweeps);
    await breathe();
    const cases = await finishBreathing(this.#cases.of(campaign, sweeps), breathe);
    const checked = await finishBreathing(this.#checks.run({ campaign, sweeps }), breathe);
    await breathe();
    const all: FileProblem[] = [
      ...loaded.problems,
      ...problems,
      ...leftOut.slice(0, 1).map(beyondRowsProblem),
      ...sweepProblems,
      ...checked,
      ...electricalDangers(electricalTests),
      ...peerProblems(peerGroups),
    ];
    return {
      revision: 0,
      root: read.file,
      files: loaded.files,
      dataFiles: [...sources.tables.keys()],
      sources,
      campaign,
      sweeps,
      counts: this.#countsOf(sweeps),
      cases,
      compositions: this.#compositions.of(campaign, sweeps, cases, peerGroups),
      peerGroups,
      electricalTests,
      electricalCounts: countElectrical(electricalTests),
      problems: inReadingOrder(all, loaded.files),
    };
  }

  /** What a campaign is computed from, with every table that a sweep names. */
  async sourcesOf(root: CampaignFile, campaign: Campaign, breathe: Breathe): Promise<Sources> {
    const { store, reader } = this.#host;
    const files = await finishBreathing(this.#tableFiles.steps(this.#measuredIn(campaign)), breathe);
    // Read before anything is waited for: what changes in the meantime is read again the next time.
    const edition = store.tablesEdition;
    if (edition !== this.#tables.edition || !isSameList(files, this.#tables.files)) {
      const names = [...new Set(files.filter((file) => file !== undefined))];
      const read = new Map<string, FileContent>();
      for (let at = 0; at < names.length; at += tablesAtOnce) {
        const asked = names.slice(at, at + tablesAtOnce);
        const answers = await Promise.all(asked.map((file) => store.table(file)));
        asked.forEach((file, place) => read.set(file, answers[place]!));
        await breathe();
      }
      const beyond = await finishBreathing(
        firstBeyondRows(files.map((file) => (file === undefined ? undefined : read.get(file)))),
        breathe,
      );
      const last = this.#tables;
      const same =
        beyond === last.beyond &&
        read.size === last.contents.size &&
        names.every((file) => last.contents.get(file) === read.get(file));
      this.#tables = { edition, files, contents: same ? last.contents : read, beyond };
    }
    return {
      root,
      tables: this.#tables.contents,
      resolve: (from, relative) => reader.resolve(from, relative),
      displayName: (file) => reader.displayName(file),
    };
  }

  #measuredIn({ entries }: Campaign): readonly PlacedSweeps[] {
    return this.#measured.of(entries);
  }

  #countsOf(sweeps: readonly EvaluatedSweep[]): VerdictCounts {
    const verdicts = this.#verdicts.of(sweeps);
    return {
      pass: verdicts.get('pass').length,
      conditionalPass: verdicts.get('conditional pass').length,
      conditionalFail: verdicts.get('conditional fail').length,
      fail: verdicts.get('fail').length,
      notJudged: verdicts.get('not judged').length,
      void: verdicts.get('void').length,
    };
  }
}
