/** The campaigns of the editor's open files: tells them what happens in the editor, and publishes what comes of it. */
import * as vscode from 'vscode';
import type { Evaluation } from '../evaluation/evaluation.js';
import type { FileReader } from '../evaluation/ports.js';
import type { FileDocument, NamedTarget } from '../presentation/nameOccurrences.js';
import type { FixHost } from '../presentation/quickFixes.js';
import { unusedNames, type UnusedName } from '../presentation/unusedNames.js';
import { verdictProblems } from '../presentation/verdictProblems.js';
import type { Document } from '../syntax/document.js';
import type { FileProblem } from '../text/problem.js';
import { KeptCampaigns } from '../workspace/keptCampaigns.js';
import { Diagnostics } from './diagnostics.js';
import { isCampaignDocument, keyOf, uriOf } from './convert.js';
import { FolderWatch } from './folderWatch.js';
import type { Machine } from './machine.js';
import { WorkspaceFiles } from './workspaceFiles.js';

/** Settings that change what is published as diagnostics. */
const diagnosticSettings = ['verdictsAsProblems', 'fadeUnusedNames'] as const;

export class Campaigns implements vscode.Disposable {
  readonly files: WorkspaceFiles;
  readonly #diagnostics = new Diagnostics();
  readonly #evaluated = new vscode.EventEmitter<Evaluation>();
  readonly #kept: KeptCampaigns;
  readonly #disposables: vscode.Disposable[] = [];

  /** A campaign has a new result. */
  readonly onDidEvaluate = this.#evaluated.event;

  constructor({ threads, followLinks }: Machine) {
    this.files = new WorkspaceFiles(followLinks);
    this.#kept = new KeptCampaigns({
      files: this.files,
      threads,
      delay: () => vscode.workspace.getConfiguration('sweepbook').get('delay', 120),
      evaluated: (evaluation) => this.#publish(evaluation),
      dropped: (root) => this.#diagnostics.publish(root, undefined),
    });
    this.#disposables.push(
      vscode.workspace.onDidOpenTextDocument((document) => this.#opened(document)),
      vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (contentChanges.length > 0) this.#edited(document);
      }),
      vscode.workspace.onDidCloseTextDocument(({ uri }) => this.#kept.closed(keyOf(uri))),
      vscode.workspace.onDidChangeConfiguration((event) => {
        if (diagnosticSettings.some((name) => event.affectsConfiguration(`sweepbook.${name}`)))
          this.#kept.evaluateAll();
      }),
      new FolderWatch((uri, kind) => this.#kept.onDisk(keyOf(uri), kind)),
      this.#evaluated,
      this.#diagnostics,
      this.#kept,
    );
    for (const document of vscode.workspace.textDocuments) this.#opened(document);
    void this.#findCandidates();
  }

  /** The result for this file's campaign, once changes up to now are in it. */
  evaluationOf(uri: vscode.Uri): Promise<Evaluation | undefined> {
    return this.#kept.evaluationOf(keyOf(uri));
  }

  /** The last result at hand, perhaps of an older text. */
  latestOf(uri: vscode.Uri): Evaluation | undefined {
    return this.#kept.latestOf(keyOf(uri));
  }

  /** A campaign of files that are had from elsewhere, such as a revision; nothing of it is kept. */
  evaluateFrom(files: FileReader, root: string, signal?: AbortSignal): Promise<Evaluation> {
    return this.#kept.evaluateFrom(files, root, signal);
  }

  /** The text of an editor as it is now; what the last parse holds of it is not read again. */
  documentOf(document: vscode.TextDocument): Document {
    return this.#kept.documentOf(keyOf(document.uri), document.getText());
  }

  /** The root file of the campaign that a file is part of, open or not. */
  async rootOf(uri: vscode.Uri): Promise<vscode.Uri> {
    return uriOf(await this.#kept.rootOf(keyOf(uri)));
  }

  /** The files of all campaigns that a file is part of. */
  filesAround(file: string): Promise<FileDocument[]> {
    return this.#kept.filesAround(file);
  }

  /** The files that may name what stands in `file`. */
  filesNaming(file: string, name: NamedTarget): Promise<FileDocument[]> {
    return this.#kept.filesNaming(file, name);
  }

  /** Every campaign file of the workspace. */
  allFiles(): Promise<FileDocument[]> {
    return this.#kept.allFiles();
  }

  /** The table of one of the campaigns at hand that names a string in its rows. */
  tableNaming(string: string, files: readonly FileDocument[]): string | undefined {
    return this.#kept.tableNaming(string, files);
  }

  /** What quick fixes ask for. */
  get fixHost(): FixHost {
    return this.#kept.fixHost;
  }

  /** Keeps the campaign of a file computed although no editor has it open. */
  show(uri: vscode.Uri): vscode.Disposable {
    return new vscode.Disposable(this.#kept.show(keyOf(uri)));
  }

  dispose(): void {
    for (const disposable of this.#disposables) disposable.dispose();
  }

  async #findCandidates(): Promise<void> {
    const found = await vscode.workspace.findFiles('**/*.sweepbook', '**/{node_modules,.git}/**', 2000);
    this.#kept.found(found.map(keyOf));
  }

  #opened(document: vscode.TextDocument): void {
    if (isCampaignDocument(document)) this.#edited(document);
  }

  #edited(document: vscode.TextDocument): void {
    const file = keyOf(document.uri);
    if (isCampaignDocument(document)) this.#kept.edited(file, document.getText());
    else this.#kept.onDisk(file, 'changed');
  }

  #publish(evaluation: Evaluation): void {
    const problems = [...evaluation.problems, ...wantedVerdicts(evaluation)];
    this.#diagnostics.publish(evaluation.root, problems, wantedUnused(evaluation));
    this.#evaluated.fire(evaluation);
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
