/** Tells of files that changed, came or went in the workspace folders, and beside campaign files opened on their own. */
import * as vscode from 'vscode';
import type { DiskChange } from '../workspace/keptCampaigns.js';
import { isCampaignDocument } from './convert.js';
import { parentOf } from './paths.js';

export class FolderWatch implements vscode.Disposable {
  readonly #tell: (uri: vscode.Uri, kind: DiskChange) => void;
  readonly #watchers = new Map<string, vscode.Disposable>();
  readonly #opening: vscode.Disposable;

  constructor(tell: (uri: vscode.Uri, kind: DiskChange) => void) {
    this.#tell = tell;
    this.#watch('', '**/*');
    this.#opening = vscode.workspace.onDidOpenTextDocument((document) => this.#watchBeside(document));
    for (const document of vscode.workspace.textDocuments) this.#watchBeside(document);
  }

  #watchBeside(document: vscode.TextDocument): void {
    const { uri } = document;
    const isLoose = uri.scheme === 'file' && !vscode.workspace.getWorkspaceFolder(uri);
    if (!isLoose || !isCampaignDocument(document)) return;
    const folder = uri.with({ path: parentOf(uri.path) });
    this.#watch(folder.toString(), new vscode.RelativePattern(folder, '**/*'));
  }

  #watch(key: string, pattern: vscode.GlobPattern): void {
    if (this.#watchers.has(key)) return;
    const watcher = vscode.workspace.createFileSystemWatcher(pattern);
    watcher.onDidChange((uri) => this.#tell(uri, 'changed'));
    watcher.onDidCreate((uri) => this.#tell(uri, 'created'));
    watcher.onDidDelete((uri) => this.#tell(uri, 'deleted'));
    this.#watchers.set(key, watcher);
  }

  dispose(): void {
    this.#opening.dispose();
    for (const watcher of this.#watchers.values()) watcher.dispose();
  }
}
