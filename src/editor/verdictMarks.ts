/** A mark beside the first line of each sweep, in a shape of its own for each verdict. */
import * as vscode from 'vscode';
import type { Verdict } from '../analysis/sweepAnalysis.js';
import { verdictMark, verdictOrder, type VerdictTone } from '../presentation/verdictWords.js';
import type { Campaigns } from './campaigns.js';
import { isCampaignDocument, keyOf } from './convert.js';

/** The shapes of verdictWords.ts, in a square of 16. */
const shapes: Readonly<Record<Verdict, string>> = {
  pass: '<circle cx="8" cy="8" r="4.2"/>',
  'conditional pass': '<path d="M8 3.4 13 12.4H3z"/>',
  'conditional fail': '<path d="M8 2.8 13.2 8 8 13.2 2.8 8z"/>',
  fail: '<path d="M4 4h8v8H4z"/>',
  'not judged': '<circle cx="8" cy="8" r="3.8" fill="none" stroke="COLOUR" stroke-width="1.6"/>',
  void: '<path d="M4.4 11.6 11.6 4.4M8 3.2a4.8 4.8 0 1 0 .01 0" fill="none" stroke="COLOUR" stroke-width="1.5"/>',
};

/** Each at least 3:1 against the editor's usual backgrounds. */
const colours: Readonly<Record<VerdictTone, { readonly light: string; readonly dark: string }>> = {
  good: { light: '#1f6f43', dark: '#73c991' },
  doubtful: { light: '#8a5a00', dark: '#e2b340' },
  bad: { light: '#a3182c', dark: '#f48771' },
  neutral: { light: '#5b6875', dark: '#c5c5c5' },
};

/** In the overview ruler only what asks for work stands out. */
const rulerColours: Readonly<Partial<Record<VerdictTone, vscode.ThemeColor>>> = {
  bad: new vscode.ThemeColor('editorOverviewRuler.errorForeground'),
  doubtful: new vscode.ThemeColor('editorOverviewRuler.warningForeground'),
};

export class VerdictMarks implements vscode.Disposable {
  readonly #campaigns: Campaigns;
  readonly #types = new Map(verdictOrder.map((verdict) => [verdict, decorationOf(verdict)]));
  readonly #listening: vscode.Disposable;

  constructor(campaigns: Campaigns) {
    this.#campaigns = campaigns;
    const { window, workspace } = vscode;
    const update = (): void => this.#update();
    this.#listening = vscode.Disposable.from(
      campaigns.onDidEvaluate(update),
      window.onDidChangeVisibleTextEditors(update),
      workspace.onDidChangeConfiguration((event) => {
        if (event.affectsConfiguration('sweepbook.gutterVerdicts')) update();
      }),
    );
  }

  #update(): void {
    for (const editor of vscode.window.visibleTextEditors) {
      if (isCampaignDocument(editor.document)) this.#mark(editor);
    }
  }

  #mark(editor: vscode.TextEditor): void {
    const { uri, lineCount } = editor.document;
    const isWanted = vscode.workspace.getConfiguration('sweepbook', uri).get('gutterVerdicts', true);
    const evaluation = isWanted ? this.#campaigns.latestOf(uri) : undefined;
    const own = (evaluation?.sweeps ?? []).filter(
      ({ block, tableLine }) => block.file === keyOf(uri) && tableLine === undefined,
    );
    for (const [verdict, type] of this.#types) {
      const lines = own
        .filter(({ analysis }) => analysis.verdict === verdict)
        .map(({ block }) => Math.min(block.startLine, lineCount - 1));
      editor.setDecorations(
        type,
        lines.map((line) => new vscode.Range(line, 0, line, 0)),
      );
    }
  }

  dispose(): void {
    this.#listening.dispose();
    for (const type of this.#types.values()) type.dispose();
  }
}

function decorationOf(verdict: Verdict): vscode.TextEditorDecorationType {
  const { tone } = verdictMark(verdict);
  const icon = (colour: string): vscode.Uri => {
    const shape = shapes[verdict].replace('COLOUR', colour);
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16" fill="${colour}">${shape}</svg>`;
    return vscode.Uri.parse(`data:image/svg+xml;utf8,${encodeURIComponent(svg)}`, true);
  };
  return vscode.window.createTextEditorDecorationType({
    gutterIconSize: 'contain',
    overviewRulerLane: vscode.OverviewRulerLane.Right,
    overviewRulerColor: rulerColours[tone],
    light: { gutterIconPath: icon(colours[tone].light) },
    dark: { gutterIconPath: icon(colours[tone].dark) },
  });
}
