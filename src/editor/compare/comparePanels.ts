/**
 * Asks for a revision, opens the panel that compares with it, and brings it back after the window was opened anew; one panel for
 * each campaign.
 */
import * as vscode from 'vscode';
import { readToEditor, type ToPanel } from '../../messages/previewMessages.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf, languageId } from '../convert.js';
import { comparePanelType } from '../panelTypes.js';
import { readKeptState } from '../preview/keptState.js';
import { preparePage } from '../preview/preparePage.js';
import type { SweepMemory } from '../preview/shownSweep.js';
import { askRevision } from './askRevision.js';
import { ComparePanel } from './comparePanel.js';
import { Comparison } from './comparison.js';
import { commitOf, gitOf, NoGit } from './gitExtension.js';
import { olderFile } from './olderTexts.js';

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
      this.#show(new Comparison(this.#campaigns, git, root, revision, commit));
    } catch (error) {
      if (!(error instanceof NoGit)) throw error;
      void vscode.window.showWarningMessage(error.message);
    }
  }

  /**
   * Compares again with the same commit, and shows the same sweep.
   * @param state what the page kept of itself
   */
  async restore(panel: vscode.WebviewPanel, state: unknown): Promise<void> {
    const { uri, revision, commit, address, time } = readKeptState(state);
    if (!uri || revision === undefined || commit === undefined || this.#open.has(keyOf(uri)))
      return panel.dispose();
    try {
      const git = await gitOf(uri);
      const found = await commitOf(git.repository, commit);
      this.#adopt(panel, new Comparison(this.#campaigns, git, uri, revision, found), { address, time });
    } catch (error) {
      if (!(error instanceof NoGit)) throw error;
      sayOnly(panel, this.#extension, error.message);
    }
  }

  #show(comparison: Comparison): void {
    const key = keyOf(comparison.root);
    const former = this.#open.get(key);
    const viewColumn = former?.viewColumn ?? vscode.ViewColumn.Beside;
    const column = { viewColumn, preserveFocus: true };
    const panel = vscode.window.createWebviewPanel(comparePanelType, '', column);
    former?.dispose();
    this.#adopt(panel, comparison, {});
  }

  #adopt(panel: vscode.WebviewPanel, comparison: Comparison, memory: SweepMemory): void {
    const key = keyOf(comparison.root);
    this.#open.set(key, panel);
    const again = (): void => void this.#compare(comparison.root);
    const shown = new ComparePanel(panel, this.#extension, this.#campaigns, comparison, memory, again);
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

/** What the page kept stays with it: the next time the window is opened there may be a repository again. */
function sayOnly(panel: vscode.WebviewPanel, extension: vscode.Uri, text: string): void {
  const nothing: ToPanel = { type: 'nothing', text };
  panel.webview.onDidReceiveMessage((message) => {
    if (readToEditor(message)?.type === 'ready') void panel.webview.postMessage(nothing);
  });
  preparePage(panel, extension);
}
