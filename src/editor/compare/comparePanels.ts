/** Asks for a revision and opens the panel that compares with it; one panel for each campaign. */
import * as vscode from 'vscode';
import type { Campaigns } from '../campaigns.js';
import { keyOf, languageId } from '../convert.js';
import { askRevision, revisionTitle } from './askRevision.js';
import { ComparePanel } from './comparePanel.js';
import { Comparison } from './comparison.js';
import { commitOf, gitOf, NoGit } from './gitExtension.js';
import { olderFile } from './olderTexts.js';

export const comparePanelType = 'sweepbook.comparison';

export class ComparePanels implements vscode.Disposable {
  readonly #extension: vscode.Uri;
  readonly #campaigns: Campaigns;
  readonly #open = new Map<string, vscode.WebviewPanel>();

  constructor(extension: vscode.Uri, campaigns: Campaigns) {
    this.#extension = extension;
    this.#campaigns = campaigns;
  }

  /** @param at a campaign file, in a text diff the older side too; without it the one on show */
  async compare(at: vscode.Uri | undefined): Promise<void> {
    const document = vscode.window.activeTextEditor?.document;
    const uri = at ?? (document?.languageId === languageId ? document.uri : undefined);
    if (uri) await this.#compare(olderFile(uri)?.uri ?? uri);
    else void vscode.window.showInformationMessage(vscode.l10n.t('Open a campaign file to compare it.'));
  }

  async #compare(uri: vscode.Uri): Promise<void> {
    try {
      const git = await gitOf(uri);
      const root = await this.#campaigns.rootOf(uri);
      const revision = await askRevision(git.repository, root);
      if (revision === undefined) return;
      const commit = await commitOf(git.repository, revision);
      const title = revisionTitle(revision, commit);
      this.#show(new Comparison(this.#campaigns, git, root, commit.hash, title));
    } catch (error) {
      if (!(error instanceof NoGit)) throw error;
      void vscode.window.showWarningMessage(error.message);
    }
  }

  #show(comparison: Comparison): void {
    const key = keyOf(comparison.root);
    const former = this.#open.get(key);
    const viewColumn = former?.viewColumn ?? vscode.ViewColumn.Beside;
    const column = { viewColumn, preserveFocus: true };
    const panel = vscode.window.createWebviewPanel(comparePanelType, '', column);
    former?.dispose();
    this.#open.set(key, panel);
    const again = (): void => void this.#compare(comparison.root);
    const shown = new ComparePanel(panel, this.#extension, this.#campaigns, comparison, again);
    panel.onDidDispose(() => {
      shown.dispose();
      if (this.#open.get(key) === panel) this.#open.delete(key);
    });
    shown.start();
  }

  dispose(): void {
    for (const panel of this.#open.values()) panel.dispose();
  }
}
