/**
 * Campaigns kept computed: the only place that runs the chain from text to verdicts. What an edit did not touch is taken
 * over from the run before; nothing here reads a file or knows an editor.
 */
import { filesOf, includesOf, type CampaignFile } from '../campaign/campaignFile.js';
import { emptyCampaign, inReadingOrder, resolveCampaign } from '../campaign/resolveCampaign.js';
import type { Campaign } from '../campaign/model.js';
import { historyProblems } from '../cases/history.js';
import type { Document } from '../syntax/document.js';
import { isSameList } from '../text/changedSpan.js';
import { countElectrical } from '../electricalTests/judgeElectricalTests.js';
import { CampaignChain } from './campaignChain.js';
import { rememberedHistory } from './comparisons.js';
import { errorsProblem, findEarlier } from './earlierCampaign.js';
import type { SweepsHelp } from './evaluateSweeps.js';
import type { Evaluation, Sources } from './evaluation.js';
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

/** `progress` is told of each campaign that is computed. */
export interface WorkbookOptions extends SweepsHelp {
  /**
   * Called between sweeps: resolves at once, or later when the host wants its turn. A host that must stay responsive
   * gives one that waits for its event loop whenever enough time has gone by.
   */
  readonly breathe?: () => Promise<void> | undefined;
}

export class Workbook {
  readonly #reader: FileReader;
  readonly #store: FileStore;
  readonly #breathe: () => Promise<void> | undefined;
  readonly #help: SweepsHelp;
  #revision = 0;
  /** Earlier campaigns, kept as long as nothing they were computed from has changed. */
  readonly #earlier = new Map<string, KeptCampaign>();
  /** By root. */
  readonly #chains = new Map<string, CampaignChain>();

  constructor(reader: FileReader, options: WorkbookOptions = {}) {
    this.#reader = reader;
    this.#store = new FileStore(reader);
    this.#breathe = options.breathe ?? (() => undefined);
    this.#help = options;
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
    this.#chains.delete(root);
    for (const file of files) {
      this.#store.forget(file);
      this.#earlier.delete(file);
      this.#chains.delete(file);
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
    if (!loaded.root) return undefined;
    return this.#chainOf(root).sourcesOf(loaded.root, resolveCampaign(loaded.root).campaign, this.#breathe);
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

  #chainOf(root: string): CampaignChain {
    let known = this.#chains.get(root);
    if (!known) {
      this.#chains.set(
        root,
        (known = new CampaignChain({ store: this.#store, reader: this.#reader, ...this.#help })),
      );
    }
    return known;
  }

  #compute(root: CampaignFile, loaded: LoadedFiles, goOn: () => void): Promise<Evaluation> {
    return this.#chainOf(root.file).run(root, loaded, () => {
      goOn();
      return this.#breathe();
    });
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
    if (kept && isSameList(documents, kept.documents)) {
      const contents = await this.#contentsOf(kept.evaluation);
      if (isSameList(contents, kept.contents)) return kept.evaluation;
    }
    const evaluation = await this.#compute(loaded.root, loaded, goOn);
    const contents = await this.#contentsOf(evaluation);
    this.#earlier.set(file, { documents, contents, evaluation });
    return evaluation;
  }

  #contentsOf({ dataFiles }: Evaluation): Promise<FileContent[]> {
    return Promise.all(dataFiles.map((file) => this.#store.table(file)));
  }
}

const nothing: Omit<Evaluation, 'revision' | 'root' | 'files' | 'problems'> = {
  dataFiles: [],
  campaign: emptyCampaign,
  sweeps: [],
  counts: { pass: 0, conditionalPass: 0, conditionalFail: 0, fail: 0, notJudged: 0, void: 0 },
  cases: [],
  compositions: new Map(),
  peerGroups: [],
  electricalTests: [],
  electricalCounts: countElectrical([]),
};
