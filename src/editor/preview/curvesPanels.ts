/** Opens the curves panel, brings it back after the window was opened anew, and knows the one that is open. */
import * as vscode from 'vscode';
import type { PanelState } from '../../messages/previewMessages.js';
import type { Campaigns } from '../campaigns.js';
import { isCampaignDocument, uriOf } from '../convert.js';
import { curvesPanelType } from '../panelTypes.js';
import { CurvesPanel } from './curvesPanel.js';
import { readKeptState } from './keptState.js';
import type { PanelTarget } from './panelTarget.js';

export class CurvesPanels implements vscode.Disposable {
  readonly #extension: vscode.Uri;
  readonly #campaigns: Campaigns;
  #open: CurvesPanel | undefined;

  constructor(extension: vscode.Uri, campaigns: Campaigns) {
    this.#extension = extension;
    this.#campaigns = campaigns;
  }

  async openBeside(): Promise<void> {
    const editor = vscode.window.activeTextEditor;
    if (!editor || !isCampaignDocument(editor.document)) return;
    if (this.#open) {
      this.#open.show();
    } else {
      const column = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
      this.#adopt(
        vscode.window.createWebviewPanel(curvesPanelType, vscode.l10n.t('Curves'), column),
        editor.document.uri,
        {},
      );
    }
    await this.#open?.follow(editor, true);
  }

  /** Opens the panel where there is none, and turns it to a view. */
  show({ file, view, string }: PanelTarget): void {
    const uri = uriOf(file);
    if (this.#open) this.#open.show();
    else {
      const column = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
      this.#adopt(
        vscode.window.createWebviewPanel(curvesPanelType, vscode.l10n.t('Curves'), column),
        uri,
        {},
      );
    }
    this.#open?.turnTo(uri, view, string);
  }

  toggleHold(): void {
    this.#open?.hold(!this.#open.held);
  }

  /** @param state what the page kept of itself */
  restore(panel: vscode.WebviewPanel, state: unknown): void {
    const kept = readKeptState(state);
    const uri = kept.uri ?? vscode.window.activeTextEditor?.document.uri;
    if (uri && !this.#open) this.#adopt(panel, uri, kept);
    else panel.dispose();
  }

  #adopt(panel: vscode.WebviewPanel, uri: vscode.Uri, state: PanelState): void {
    const curves = new CurvesPanel(panel, this.#extension, this.#campaigns, uri, state);
    this.#open = curves;
    void setOpen(true);
    panel.onDidDispose(() => {
      curves.dispose();
      if (this.#open === curves) this.#open = undefined;
      void setOpen(false);
    });
  }

  dispose(): void {
    this.#open?.dispose();
  }
}

const setOpen = (isOpen: boolean): Thenable<unknown> =>
  vscode.commands.executeCommand('setContext', 'sweepbook.curvesOpen', isOpen);
