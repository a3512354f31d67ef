/**
 * The campaigns of the open files, computed anew after each change of a text, a table or a folder. The newest result is
 * kept and shown until the next one is there; a run that a newer change has overtaken is given up. Knows no editor: a
 * host says what happened and is told what came of it.
 */
import { Analysts } from '../evaluation/analysts.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { findRoot } from '../evaluation/findRoot.js';
import type { FileReader, ThreadHost } from '../evaluation/ports.js';
import { Workbook } from '../evaluation/workbook.js';
import { filesAround } from '../presentation/campaignFiles.js';
import type { FileDocument, NamedTarget } from '../presentation/nameOccurrences.js';
import type { FixHost } from '../presentation/quickFixes.js';
import { fileThatGives } from '../presentation/references.js';
import { parseDocument, type Document } from '../syntax/document.js';
import { aTurn, breatheInTurns } from './breathe.js';
import { LeftCampaigns } from './leftCampaigns.js';
import { Rest } from './rest.js';
import type { WorkspaceFiles } from './workspaceFiles.js';

export type DiskChange = 'changed' | 'created' | 'deleted';

export interface CampaignHost {
  readonly files: WorkspaceFiles;
  /** For a campaign of many sweeps that is computed for the first time. */
  readonly threads?: ThreadHost | undefined;
  /** Milliseconds to wait after a change before anything is computed. */
  delay(): number;
  /** A campaign has a new result. */
  evaluated(evaluation: Evaluation): void;
  /** No open file is part of this campaign any more. */
  dropped(root: string): void;
}

export class KeptCampaigns {
  readonly #host: CampaignHost;
  readonly #analysts: Analysts | undefined;
  readonly #workbook: Workbook;
  readonly #rest: Rest;
  readonly #evaluations = new Map<string, Evaluation>();
  readonly #left = new LeftCampaigns();
  #rootOf: ReadonlyMap<string, string> = new Map();
  /** Campaign files of the workspace: each may be the one that includes an open file. */
  readonly #candidates = new Set<string>();
  readonly #open = new Set<string>();
  /** Files that are not open but shown, and by how many. */
  readonly #shown = new Map<string, number>();
  /** Changed since their campaigns were computed; `undefined`: take all as changed. */
  #changed: Set<string> | undefined;
  /** The first run waits for it. */
  #beforeFirst: Promise<unknown> | undefined;

  constructor(host: CampaignHost) {
    this.#host = host;
    this.#analysts = host.threads && new Analysts(host.threads);
    this.#workbook = this.#workbookOf(host.files);
    this.#rest = new Rest(
      () => host.delay(),
      (signal) => this.#evaluateChanged(signal),
    );
  }

  /** The result for this file's campaign, once changes up to now are in it. */
  async evaluationOf(file: string): Promise<Evaluation | undefined> {
    await this.#rest.settled();
    return this.latestOf(file);
  }

  /** The last result at hand, perhaps of an older text. */
  latestOf(file: string): Evaluation | undefined {
    return this.#evaluations.get(this.#rootOf.get(file) ?? file);
  }

  /** A campaign that is read from elsewhere, such as a revision; nothing of it is kept. Rejects with `EvaluationCancelled`. */
  evaluateFrom(reader: FileReader, root: string, signal?: AbortSignal): Promise<Evaluation> {
    return this.#workbookOf(reader).evaluate(root, signal);
  }

  /** A text as it is now; what the last parse holds of it is not read again. */
  documentOf(file: string, text: string): Document {
    return parseDocument(text, this.#workbook.document(file));
  }

  /** The root of the campaign that a file is part of, open or not. */
  rootOf(file: string): Promise<string> {
    return findRoot(file, [...this.#candidates].sort(), this.#workbook);
  }

  /** The files of all campaigns that a file is part of. */
  filesAround(file: string): Promise<FileDocument[]> {
    return filesAround(file, [...this.#candidates].sort(), this.#workbook);
  }

  /** The files that may name what stands in `file`: those around the file that gives the name. */
  async filesNaming(file: string, name: NamedTarget): Promise<FileDocument[]> {
    const around = await this.filesAround(file);
    const giver = fileThatGives(around, name);
    return giver === undefined || giver === file ? around : this.filesAround(giver);
  }

  /** Every campaign file of the workspace. */
  async allFiles(): Promise<FileDocument[]> {
    const files = [...this.#candidates].sort();
    await Promise.all(files.map((file) => this.#workbook.includesOf(file)));
    return files.flatMap((file) => {
      const document = this.#workbook.document(file);
      return document ? [{ file, document }] : [];
    });
  }

  /** The table of one of the campaigns at hand that names a string in its rows. */
  tableNaming(string: string, files: readonly FileDocument[]): string | undefined {
    const around = new Set(files.map(({ file }) => file));
    for (const { root, sweeps } of this.#evaluations.values()) {
      if (!around.has(root)) continue;
      const named = sweeps.find(
        ({ tableLine, address }) => tableLine !== undefined && address.split('/')[0] === string,
      );
      if (named?.dataFile !== undefined) return this.#host.files.displayName(named.dataFile);
    }
    return undefined;
  }

  /** What quick fixes ask for. */
  get fixHost(): FixHost {
    const { files } = this.#host;
    return {
      document: (file) => this.#workbook.document(file),
      resolve: (from, relative) => files.resolve(from, relative),
      paths: (kind, from) => files.paths(kind, from),
      read: (file) => files.readTable(file),
    };
  }

  /** A campaign file was opened, or its open text has changed. */
  edited(file: string, text: string): void {
    if (!this.#open.has(file)) this.#candidates.add(file);
    this.#open.add(file);
    this.#workbook.setText(file, text);
    this.#mark(file);
  }

  /** A file was closed: what the disk holds counts again. */
  closed(file: string): void {
    if (this.#open.delete(file)) this.#workbook.setText(file, undefined);
    else if (!this.#isRead(file)) return;
    this.#workbook.fileChanged(file);
    this.#mark(file);
  }

  /** A file of any kind changed, came or went. A whole folder may have come or gone with one event. */
  onDisk(file: string, kind: DiskChange): void {
    const isCampaign = file.endsWith('.sweepbook');
    if (kind === 'changed') {
      if (!isCampaign && !this.#isRead(file)) return;
      this.#workbook.fileChanged(file);
      this.#mark(file);
      return;
    }
    const touched = this.#allRead().filter((read) => read === file || read.startsWith(`${file}/`));
    if (isCampaign && kind === 'created') this.#candidates.add(file);
    if (kind === 'deleted') for (const gone of [file, ...touched]) this.#candidates.delete(gone);
    if (touched.length === 0 && !isCampaign) return;
    // The file itself too: an include that could not be had is in no result.
    for (const each of [file, ...touched]) this.#workbook.fileChanged(each);
    this.evaluateAll();
  }

  /** Campaign files that were found in the workspace. */
  found(files: Iterable<string>): void {
    for (const file of files) this.#candidates.add(file);
    this.#rest.soon();
  }

  /** Campaign files are still being looked for; the first run waits until then. */
  waitFor(search: Promise<unknown>): void {
    this.#beforeFirst = search;
  }

  /** Something that bears on every result has changed, such as a setting. */
  evaluateAll(): void {
    this.#changed = undefined;
    this.#rest.soon();
  }

  /** Takes every table that was read as perhaps changed: for hosts that are not told of changes on disk. */
  tablesMayHaveChanged(): void {
    for (const { dataFiles } of this.#evaluations.values())
      for (const file of dataFiles) this.#workbook.fileChanged(file);
    this.evaluateAll();
  }

  /** Keeps the campaign of a file computed although the file is not open. Answers how to end that. */
  show(file: string): () => void {
    this.#shown.set(file, (this.#shown.get(file) ?? 0) + 1);
    this.#rest.soon();
    return () => {
      const count = (this.#shown.get(file) ?? 1) - 1;
      if (count > 0) this.#shown.set(file, count);
      else this.#shown.delete(file);
      this.#rest.soon();
    };
  }

  dispose(): void {
    this.#rest.dispose();
    this.#analysts?.end();
  }

  #workbookOf(reader: FileReader): Workbook {
    return new Workbook(reader, { breathe: breatheInTurns(), analysts: this.#analysts });
  }

  #mark(file: string): void {
    this.#changed?.add(file);
    this.#rest.soon();
  }

  #allRead(): string[] {
    return [...this.#evaluations.values()].flatMap(({ files, dataFiles }) => [...files, ...dataFiles]);
  }

  #isRead(file: string): boolean {
    return [...this.#evaluations.values()].some(
      ({ files, dataFiles }) => dataFiles.includes(file) || files.includes(file),
    );
  }

  async #evaluateChanged(signal: AbortSignal): Promise<void> {
    await this.#beforeFirst;
    const roots = await this.#findRoots();
    if (signal.aborted) return;
    for (const root of this.#evaluations.keys()) {
      if (roots.has(root)) continue;
      this.#evaluations.delete(root);
      for (const { root: gone, files } of this.#left.leave(root)) this.#workbook.forget(gone, files);
      this.#host.dropped(root);
    }
    const changed = this.#changed;
    for (const root of roots) {
      const former = this.#evaluations.get(root);
      const stale =
        !former || !changed || [...former.files, ...former.dataFiles].some((file) => changed.has(file));
      if (!stale) continue;
      const evaluation = await this.#workbook.evaluate(root, signal);
      // The end of a computation, what is published of it, and the answers to those who wait for it: each has a turn of its own.
      await aTurn();
      if (signal.aborted) return;
      this.#evaluations.set(root, evaluation);
      this.#left.read(evaluation);
      this.#host.evaluated(evaluation);
      await aTurn();
      if (signal.aborted) return;
    }
    this.#changed = new Set();
  }

  /** The roots of the open and the shown files. */
  async #findRoots(): Promise<Set<string>> {
    const candidates = [...this.#candidates].sort();
    const rootOf = new Map<string, string>();
    for (const file of new Set([...this.#open, ...this.#shown.keys()]))
      rootOf.set(file, await findRoot(file, candidates, this.#workbook));
    this.#rootOf = rootOf;
    return new Set(rootOf.values());
  }
}
