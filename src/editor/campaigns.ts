/**
 * The campaigns of the open files, computed anew after each change of a text, a table or a folder. The newest result is
 * kept and shown until the next one is there; a run that a newer change has overtaken is given up.
 */
import * as vscode from 'vscode';
import type { Evaluation } from '../evaluation/evaluation.js';
import { findRoot } from '../evaluation/findRoot.js';
import { Workbook } from '../evaluation/workbook.js';
import { filesAround } from '../presentation/campaignFiles.js';
import type { FileDocument } from '../presentation/nameOccurrences.js';
import type { FixHost } from '../presentation/quickFixes.js';
import { unusedNames, type UnusedName } from '../presentation/unusedNames.js';
import { verdictProblems } from '../presentation/verdictProblems.js';
import { parseDocument, type Document } from '../syntax/document.js';
import type { FileProblem } from '../text/problem.js';
import { breatheEvery } from './breathe.js';
import { Diagnostics } from './diagnostics.js';
import { isCampaignDocument, keyOf, uriOf } from './convert.js';
import { FolderWatch } from './folderWatch.js';
import { Rest } from './rest.js';
import { WorkspaceFiles } from './workspaceFiles.js';

/** Settings that change what is published as diagnostics. */
const diagnosticSettings = ['verdictsAsProblems', 'fadeUnusedNames'] as const;

export class Campaigns implements vscode.Disposable {
  readonly files = new WorkspaceFiles();
  readonly #workbook = new Workbook(this.files, { breathe: breatheEvery(12) });
  readonly #diagnostics = new Diagnostics();
  readonly #evaluations = new Map<string, Evaluation>();
  #rootOf: ReadonlyMap<string, string> = new Map();
  /** Campaign files of the workspace: each may be the one that includes an open file. */
  readonly #candidates = new Set<string>();
  /** Files that are not open in an editor but shown by a panel, and by how many. */
  readonly #shown = new Map<string, number>();
  /** Changed since their campaigns were computed; `undefined`: take all as changed. */
  #changed: Set<string> | undefined;
  readonly #evaluated = new vscode.EventEmitter<Evaluation>();
  readonly #rest: Rest;
  readonly #disposables: vscode.Disposable[] = [];

  /** A campaign has a new result. */
  readonly onDidEvaluate = this.#evaluated.event;

  constructor() {
    this.#rest = new Rest(
      () => vscode.workspace.getConfiguration('sweepbook').get('delay', 120),
      (signal) => this.#evaluateChanged(signal),
    );
    this.#disposables.push(
      vscode.workspace.onDidOpenTextDocument((document) => this.#opened(document)),
      vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (contentChanges.length > 0) this.#edited(document);
      }),
      vscode.workspace.onDidCloseTextDocument((document) => this.#closed(document)),
      vscode.workspace.onDidChangeConfiguration((event) => {
        if (!diagnosticSettings.some((name) => event.affectsConfiguration(`sweepbook.${name}`))) return;
        this.#changed = undefined;
        this.#rest.soon();
      }),
      new FolderWatch((uri, kind) => this.#onDisk(uri, kind)),
      this.#evaluated,
      this.#diagnostics,
      this.#rest,
    );
    for (const document of vscode.workspace.textDocuments) this.#opened(document);
    void this.#findCandidates();
  }

  /** The result for this file's campaign, once changes up to now are in it. */
  async evaluationOf(uri: vscode.Uri): Promise<Evaluation | undefined> {
    await this.#rest.settled();
    return this.latestOf(uri);
  }

  /** The last result at hand, perhaps of an older text. */
  latestOf(uri: vscode.Uri): Evaluation | undefined {
    const file = keyOf(uri);
    return this.#evaluations.get(this.#rootOf.get(file) ?? file);
  }

  /** The text of an editor as it is now; what the last parse holds of it is not read again. */
  documentOf(document: vscode.TextDocument): Document {
    return parseDocument(document.getText(), this.#workbook.document(keyOf(document.uri)));
  }

  /** The files of all campaigns that a file is part of. */
  filesAround(file: string): Promise<FileDocument[]> {
    return filesAround(file, [...this.#candidates].sort(), this.#workbook);
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
      if (named?.dataFile !== undefined) return this.files.displayName(named.dataFile);
    }
    return undefined;
  }

  /** What quick fixes ask for. */
  get fixHost(): FixHost {
    return {
      document: (file) => this.#workbook.document(file),
      resolve: (from, relative) => this.files.resolve(from, relative),
      paths: (kind, from) => this.files.paths(kind, from),
      read: (file) => this.files.readTable(file),
    };
  }

  /** Keeps the campaign of a file computed although no editor has it open. */
  show(uri: vscode.Uri): vscode.Disposable {
    const file = keyOf(uri);
    this.#shown.set(file, (this.#shown.get(file) ?? 0) + 1);
    this.#rest.soon();
    return new vscode.Disposable(() => {
      const count = (this.#shown.get(file) ?? 1) - 1;
      if (count > 0) this.#shown.set(file, count);
      else this.#shown.delete(file);
      this.#rest.soon();
    });
  }

  dispose(): void {
    for (const disposable of this.#disposables) disposable.dispose();
  }

  async #findCandidates(): Promise<void> {
    const found = await vscode.workspace.findFiles('**/*.sweepbook', '**/{node_modules,.git}/**', 2000);
    for (const uri of found) this.#candidates.add(keyOf(uri));
    this.#rest.soon();
  }

  #opened(document: vscode.TextDocument): void {
    if (!isCampaignDocument(document)) return;
    this.#candidates.add(keyOf(document.uri));
    this.#edited(document);
  }

  #edited(document: vscode.TextDocument): void {
    const file = keyOf(document.uri);
    if (isCampaignDocument(document)) this.#workbook.setText(file, document.getText());
    else if (this.#isRead(file)) this.#workbook.fileChanged(file);
    else return;
    this.#mark(file);
  }

  #closed(document: vscode.TextDocument): void {
    const file = keyOf(document.uri);
    if (isCampaignDocument(document)) this.#workbook.setText(file, undefined);
    else if (!this.#isRead(file)) return;
    this.#workbook.fileChanged(file);
    this.#mark(file);
  }

  #onDisk(uri: vscode.Uri, kind: 'changed' | 'created' | 'deleted'): void {
    const file = keyOf(uri);
    const isCampaign = file.endsWith('.sweepbook');
    if (kind === 'changed') {
      if (!isCampaign && !this.#isRead(file)) return;
      this.#workbook.fileChanged(file);
      this.#mark(file);
      return;
    }
    // A whole folder may have come or gone with one event.
    const touched = this.#allRead().filter((read) => read === file || read.startsWith(`${file}/`));
    if (isCampaign && kind === 'created') this.#candidates.add(file);
    if (kind === 'deleted') for (const gone of [file, ...touched]) this.#candidates.delete(gone);
    if (touched.length === 0 && !isCampaign) return;
    for (const read of touched) this.#workbook.fileChanged(read);
    this.#changed = undefined;
    this.#rest.soon();
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
    const roots = await this.#findRoots();
    if (signal.aborted) return;
    for (const root of this.#evaluations.keys()) if (!roots.has(root)) this.#drop(root);
    const changed = this.#changed;
    for (const root of roots) {
      const former = this.#evaluations.get(root);
      const stale =
        !former || !changed || [...former.files, ...former.dataFiles].some((file) => changed.has(file));
      if (!stale) continue;
      const evaluation = await this.#workbook.evaluate(root, signal);
      if (signal.aborted) return;
      this.#evaluations.set(root, evaluation);
      const problems = [...evaluation.problems, ...wantedVerdicts(evaluation)];
      this.#diagnostics.publish(root, problems, wantedUnused(evaluation));
      this.#evaluated.fire(evaluation);
    }
    this.#changed = new Set();
  }

  #drop(root: string): void {
    this.#evaluations.delete(root);
    this.#diagnostics.publish(root, undefined);
  }

  /** The roots of the open and the shown files. */
  async #findRoots(): Promise<Set<string>> {
    const open = vscode.workspace.textDocuments
      .filter(isCampaignDocument)
      .map((document) => keyOf(document.uri));
    const files = new Set([...open, ...this.#shown.keys()]);
    const candidates = [...this.#candidates].sort();
    const rootOf = new Map<string, string>();
    for (const file of files) rootOf.set(file, await findRoot(file, candidates, this.#workbook));
    this.#rootOf = rootOf;
    return new Set(rootOf.values());
  }
}

/** Failed sweeps as problems, where the settings ask for them. */
function wantedVerdicts(evaluation: Evaluation): readonly FileProblem[] {
  const { root } = evaluation;
  const wanted = vscode.workspace
    .getConfiguration('sweepbook', uriOf(root))
    .get<string>('verdictsAsProblems');
  return wanted === 'information' || wanted === 'warning' ? verdictProblems(evaluation, wanted) : [];
}

function wantedUnused(evaluation: Evaluation): readonly UnusedName[] {
  const isWanted = vscode.workspace
    .getConfiguration('sweepbook', uriOf(evaluation.root))
    .get('fadeUnusedNames', true);
  return isWanted ? unusedNames(evaluation) : [];
}
