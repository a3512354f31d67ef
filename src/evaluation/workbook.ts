/**
 * Campaigns kept computed: the only place that runs the chain from text to verdicts. What an edit did not touch is taken
 * over from the run before; nothing here reads a file or knows an editor.
 */
import { filesOf, includesOf, type CampaignFile } from '../campaign/campaignFile.js';
import { emptyCampaign, resolveCampaign } from '../campaign/resolveCampaign.js';
import type { Campaign } from '../campaign/model.js';
import { historyProblems } from '../cases/history.js';
import { peerGroups as peerGroupsOf, peerProblems } from '../cases/peers.js';
import type { Document } from '../syntax/document.js';
import type { FileProblem } from '../text/problem.js';
import { countElectrical, electricalDangers } from '../electricalTests/judgeElectricalTests.js';
import { evaluateElectricalTests } from './evaluateElectricalTests.js';
import type { Analysts } from './analysts.js';
import { rememberedCases } from './cases.js';
import { CampaignChecks } from './checkedCampaign.js';
import { rememberedCompositions, rememberedHistory } from './comparisons.js';
import { errorsProblem, findEarlier } from './earlierCampaign.js';
import type { NamedTable } from './evaluateSweep.js';
import { evaluateSweeps } from './evaluateSweeps.js';
import type { EvaluatedSweep, Evaluation, Sources, VerdictCounts } from './evaluation.js';
import { FileStore } from './fileStore.js';
import { loadFiles, type LoadedFiles } from './loadFiles.js';
import type { FileContent, FileReader } from './ports.js';

/** Thrown by `evaluate` once its signal is aborted. */
export class EvaluationCancelled extends Error {
  constructor() {
    super('The evaluation was cancelled.');
    this.name = 'EvaluationCancelled';
  }
}

/** A campaign with what it was computed from, by identity. */
interface KeptCampaign {
  readonly documents: readonly Document[];
  readonly contents: readonly FileContent[];
  readonly evaluation: Evaluation;
}

const isSame = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((each, index) => each === b[index]);

export interface WorkbookOptions {
  /**
   * Called between sweeps: resolves at once, or later when the host wants its turn. A host that must stay responsive
   * gives one that waits for its event loop whenever enough time has gone by.
   */
  readonly breathe?: () => Promise<void> | undefined;
  /** Asked where many sweeps are to be computed; the results are the same without. */
  readonly analysts?: Analysts;
}

export class Workbook {
  readonly #reader: FileReader;
  readonly #store: FileStore;
  readonly #breathe: () => Promise<void> | undefined;
  readonly #analysts: Analysts | undefined;
  #revision = 0;
  /** Earlier campaigns, kept as long as nothing they were computed from has changed. */
  readonly #earlier = new Map<string, KeptCampaign>();
  /** By root. */
  readonly #checks = new Map<string, CampaignChecks>();

  constructor(reader: FileReader, options: WorkbookOptions = {}) {
    this.#reader = reader;
    this.#store = new FileStore(reader);
    this.#breathe = options.breathe ?? (() => undefined);
    this.#analysts = options.analysts;
  }

  /** Text of an open editor, saved or not; `undefined` gives the file back to the disk. */
  setText(file: string, text: string | undefined): void {
    this.#store.setText(file, text);
  }

  /** A campaign file or a table changed, came or went on disk. */
  fileChanged(file: string): void {
    this.#store.fileChanged(file);
  }

  /** Lets go what was kept of a campaign that nobody looks at any more, and of the files that were read for it alone. */
  forget(root: string, files: readonly string[]): void {
    this.#checks.delete(root);
    for (const file of files) {
      this.#store.forget(file);
      this.#earlier.delete(file);
    }
  }

  /** The latest parse of a file, when it is at hand. */
  document(file: string): Document | undefined {
    return this.#store.documentAtHand(file);
  }

  /** The files that a campaign file includes directly; empty when it cannot be read. */
  async includesOf(file: string): Promise<readonly string[]> {
    const { document } = await this.#store.document(file);
    if (!document) return [];
    return includesOf(document).flatMap(({ path }) => this.#reader.resolve(file, path) ?? []);
  }

  /** What the campaign of this root file says, without anything computed; nothing where the file cannot be read. */
  async campaignOf(root: string): Promise<Campaign> {
    const loaded = await loadFiles(root, this.#store, this.#reader);
    return loaded.root ? resolveCampaign(loaded.root).campaign : emptyCampaign;
  }

  /** What the campaign of this root file would be computed from; undefined where the file cannot be read. */
  async sourcesOf(root: string): Promise<Sources | undefined> {
    const loaded = await loadFiles(root, this.#store, this.#reader);
    return loaded.root && this.#sourcesOf(loaded.root, resolveCampaign(loaded.root).campaign);
  }

  /**
   * Computes the campaign whose root file this is. Never rejects for what a user wrote: everything wrong is in
   * `problems`. Rejects with `EvaluationCancelled` when `signal` is aborted.
   */
  async evaluate(root: string, signal?: AbortSignal): Promise<Evaluation> {
    const revision = ++this.#revision;
    const goOn = (): void => {
      if (signal?.aborted) throw new EvaluationCancelled();
    };
    goOn();
    const loaded = await loadFiles(root, this.#store, this.#reader);
    goOn();
    if (!loaded.root) return { ...nothing, revision, root, files: loaded.files, problems: loaded.problems };
    return this.#withHistory({ ...(await this.#compute(loaded.root, loaded, goOn)), revision }, goOn);
  }

  /** Everything but the comparison with an earlier campaign. */
  async #compute(read: CampaignFile, loaded: LoadedFiles, goOn: () => void): Promise<Evaluation> {
    const root = read.file;
    const { campaign, problems } = resolveCampaign(read);
    const sources = await this.#sourcesOf(read, campaign);
    goOn();

    const table = (file: string, path: string): NamedTable | undefined => {
      const name = sources.resolve(file, path);
      const content = name === undefined ? undefined : sources.tables.get(name);
      return content && { file: name!, content };
    };
    const { sweeps, problems: sweepProblems } = await evaluateSweeps(
      { campaign, reader: sources, table },
      () => {
        goOn();
        return this.#breathe();
      },
      this.#analysts,
    );
    goOn();
    const electricalTests = evaluateElectricalTests(campaign);
    const peerGroups = peerGroupsOf(sweeps);
    const cases = rememberedCases(campaign, sweeps);
    const all: FileProblem[] = [
      ...loaded.problems,
      ...problems,
      ...sweepProblems,
      ...this.#checksOf(root).run({ campaign, sweeps }),
      ...electricalDangers(electricalTests),
      ...peerProblems(peerGroups),
    ];
    return {
      revision: 0,
      root,
      files: loaded.files,
      dataFiles: [...sources.tables.keys()],
      sources,
      campaign,
      sweeps,
      counts: countVerdicts(sweeps),
      cases,
      compositions: rememberedCompositions(campaign, sweeps, cases, peerGroups),
      peerGroups,
      electricalTests,
      electricalCounts: countElectrical(electricalTests),
      problems: inReadingOrder(all, loaded.files),
    };
  }

  #checksOf(root: string): CampaignChecks {
    let known = this.#checks.get(root);
    if (!known) this.#checks.set(root, (known = new CampaignChecks()));
    return known;
  }

  async #withHistory(evaluation: Evaluation, goOn: () => void): Promise<Evaluation> {
    const { campaign, files } = evaluation;
    const found = await findEarlier(campaign, files, this.#store, this.#reader);
    goOn();
    const earlier = found.file === undefined ? undefined : await this.#earlierCampaign(found.file, goOn);
    const watched = new Set([...found.watched, ...(earlier?.files ?? []), ...(earlier?.dataFiles ?? [])]);
    for (const file of [...files, ...evaluation.dataFiles]) watched.delete(file);
    const problems = [
      ...found.problems,
      ...(earlier ? historyProblems(campaign, earlier.campaign) : []),
      ...(earlier ? errorsProblem(campaign, this.#reader.displayName(earlier.root), earlier.problems) : []),
    ];
    return {
      ...evaluation,
      dataFiles: [...evaluation.dataFiles, ...watched],
      history: earlier && rememberedHistory(evaluation, earlier),
      problems:
        problems.length === 0
          ? evaluation.problems
          : inReadingOrder([...evaluation.problems, ...problems], files),
    };
  }

  async #earlierCampaign(file: string, goOn: () => void): Promise<Evaluation | undefined> {
    const loaded = await loadFiles(file, this.#store, this.#reader);
    if (!loaded.root) return undefined;
    const documents = filesOf(loaded.root).map(({ document }) => document);
    const kept = this.#earlier.get(file);
    if (kept && isSame(documents, kept.documents)) {
      const contents = await this.#contentsOf(kept.evaluation);
      if (isSame(contents, kept.contents)) return kept.evaluation;
    }
    const evaluation = await this.#compute(loaded.root, loaded, goOn);
    const contents = await this.#contentsOf(evaluation);
    this.#earlier.set(file, { documents, contents, evaluation });
    return evaluation;
  }

  #contentsOf({ dataFiles }: Evaluation): Promise<FileContent[]> {
    return Promise.all(dataFiles.map((file) => this.#store.table(file)));
  }

  /** With every table that a sweep names, asked for at once. */
  async #sourcesOf(root: CampaignFile, campaign: Campaign): Promise<Sources> {
    const files = new Set<string>();
    for (const { record, block } of campaign.entries) {
      if (record.kind !== 'sweep' && record.kind !== 'sweeps') continue;
      const file = record.data && this.#reader.resolve(block.file, record.data.text);
      if (file !== undefined) files.add(file);
    }
    const tables = [...files].map(async (file): Promise<[string, FileContent]> => {
      return [file, await this.#store.table(file)];
    });
    return {
      root,
      tables: new Map(await Promise.all(tables)),
      resolve: (from, relative) => this.#reader.resolve(from, relative),
      displayName: (file) => this.#reader.displayName(file),
    };
  }
}

const nothing: Omit<Evaluation, 'revision' | 'root' | 'files' | 'problems'> = {
  dataFiles: [],
  campaign: emptyCampaign,
  sweeps: [],
  counts: countVerdicts([]),
  cases: [],
  compositions: new Map(),
  peerGroups: [],
  electricalTests: [],
  electricalCounts: countElectrical([]),
};

function countVerdicts(sweeps: readonly EvaluatedSweep[]): VerdictCounts {
  const counts = {
    pass: 0,
    'conditional pass': 0,
    'conditional fail': 0,
    fail: 0,
    'not judged': 0,
    void: 0,
  };
  for (const { analysis } of sweeps) counts[analysis.verdict]++;
  return {
    pass: counts.pass,
    conditionalPass: counts['conditional pass'],
    conditionalFail: counts['conditional fail'],
    fail: counts.fail,
    notJudged: counts['not judged'],
    void: counts.void,
  };
}

function inReadingOrder(problems: readonly FileProblem[], files: readonly string[]): FileProblem[] {
  const order = new Map(files.map((file, index) => [file, index]));
  const rank = (problem: FileProblem): number => order.get(problem.file) ?? files.length;
  return [...problems].sort(
    (a, b) =>
      rank(a) - rank(b) ||
      a.range.start.line - b.range.start.line ||
      a.range.start.character - b.range.start.character,
  );
}
