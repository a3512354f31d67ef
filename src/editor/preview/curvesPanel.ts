/** The curves panel: one sweep of the campaign that is edited, its string, or the whole campaign. */
import * as vscode from 'vscode';
import type { EvaluatedSweep, Evaluation } from '../../evaluation/evaluation.js';
import {
  readToEditor,
  type PanelState,
  type ToEditor,
  type ToPanel,
  type ViewName,
} from '../../messages/previewMessages.js';
import { campaignHead, campaignModel, previewModel, sweepAt } from '../../presentation/previewModel.js';
import { stringModel } from '../../presentation/stringModel.js';
import type { Campaigns } from '../campaigns.js';
import { isCampaignDocument, keyOf } from '../convert.js';
import { preparePage } from './preparePage.js';
import { revealPlace } from './revealPlace.js';
import { savePicture } from './savePicture.js';
import { findSweep, rememberSweep, stringShown, sweepAbove, type SweepMemory } from './shownSweep.js';

export class CurvesPanel implements vscode.Disposable {
  readonly #panel: vscode.WebviewPanel;
  readonly #campaigns: Campaigns;
  readonly #disposables: vscode.Disposable[] = [];
  /** Any file of the shown campaign. */
  #uri: vscode.Uri;
  #keepsComputed: vscode.Disposable;
  #memory: SweepMemory;
  #held: boolean;
  #isReady = false;
  #view: ViewName;
  /** What the page was sent last, so that nothing is sent twice. */
  #sent: { evaluation?: Evaluation; shown?: string } = {};

  constructor(
    panel: vscode.WebviewPanel,
    extension: vscode.Uri,
    campaigns: Campaigns,
    uri: vscode.Uri,
    state: PanelState,
  ) {
    this.#panel = panel;
    this.#campaigns = campaigns;
    this.#uri = uri;
    this.#keepsComputed = campaigns.show(uri);
    this.#memory = state;
    this.#held = state.held ?? false;
    this.#view = state.view ?? 'sweep';
    this.#disposables.push(
      panel.webview.onDidReceiveMessage((message) => void this.#receive(readToEditor(message))),
      campaigns.onDidEvaluate(() => this.#update()),
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => void this.follow(textEditor)),
      vscode.window.onDidChangeActiveTextEditor((editor) => void this.follow(editor)),
    );
    preparePage(panel, extension);
  }

  get held(): boolean {
    return this.#held;
  }

  show(): void {
    this.#panel.reveal(undefined, true);
  }

  hold(held: boolean): void {
    this.#held = held;
    this.#post({ type: 'held', held });
    if (!held) void this.follow(vscode.window.activeTextEditor);
  }

  /** Shows the sweep at the cursor, unless the panel is held at another. */
  async follow(editor: vscode.TextEditor | undefined, always = false): Promise<void> {
    if (!editor || !isCampaignDocument(editor.document)) return;
    const { uri } = editor.document;
    const follows = vscode.workspace.getConfiguration('sweepbook', uri).get('curves.followCursor', true);
    if (!always && (this.#held || !follows)) return;
    // Lines of an older result would point at the wrong sweep while somebody types.
    const evaluation = await this.#campaigns.evaluationOf(uri);
    if (!evaluation) return;
    const { line } = editor.selection.active;
    const id = sweepAt(evaluation, keyOf(uri), line);
    const sweep =
      evaluation.sweeps.find((candidate) => candidate.id === id) ?? sweepAbove(evaluation, keyOf(uri), line);
    this.#turnTo(uri);
    if (sweep) this.#memory = rememberSweep(sweep);
    this.#send(evaluation, sweep ?? findSweep(evaluation, this.#memory));
  }

  /** Shows a view of the campaign that a file belongs to. */
  turnTo(uri: vscode.Uri, view: ViewName, string: string | undefined): void {
    this.#turnTo(uri);
    this.#turnView(view, string);
  }

  #turnTo(uri: vscode.Uri): void {
    if (keyOf(uri) === keyOf(this.#uri)) return;
    const former = this.#keepsComputed;
    this.#uri = uri;
    this.#keepsComputed = this.#campaigns.show(uri);
    former.dispose();
  }

  #update(): void {
    const evaluation = this.#campaigns.latestOf(this.#uri);
    if (evaluation) this.#send(evaluation, findSweep(evaluation, this.#memory));
  }

  #send(evaluation: Evaluation, sweep: EvaluatedSweep | undefined): void {
    if (!this.#isReady) return;
    const name = stringShown(sweep, this.#memory);
    const shown = JSON.stringify([this.#view, { sweep: sweep?.id, string: name, campaign: '' }[this.#view]]);
    if (this.#sent.evaluation === evaluation && this.#sent.shown === shown) return;
    const head = campaignHead(evaluation);
    switch (this.#view) {
      case 'sweep':
        this.#post({ type: 'show', head, view: 'sweep', sweep: sweep && previewModel(evaluation, sweep.id) });
        break;
      case 'string': {
        const string = name === undefined ? undefined : stringModel(evaluation, name);
        this.#post({ type: 'show', head, view: 'string', string });
        break;
      }
      case 'campaign':
        this.#post({ type: 'show', head, view: 'campaign', campaign: campaignModel(evaluation) });
    }
    const what = { sweep: sweep?.address, string: name, campaign: head.name }[this.#view];
    const { t } = vscode.l10n;
    this.#panel.title = what === undefined ? t('Curves') : t('Curves: {0}', what);
    this.#sent = { evaluation, shown };
  }

  async #receive(message: ToEditor | undefined): Promise<void> {
    switch (message?.type) {
      case 'ready':
        return this.#start();
      case 'hold':
        return this.hold(message.held);
      case 'choose':
        return this.#choose(message.sweepId);
      case 'view':
        return this.#turnView(message.view, message.string);
      case 'copy':
        await vscode.env.clipboard.writeText(message.text);
        void vscode.window.setStatusBarMessage(vscode.l10n.t('Copied.'), 2_000);
        return;
      case 'save':
        return savePicture(message.name, message.base64, this.#uri);
      case 'reveal':
        if (this.#mayOpen(message.place.file)) await revealPlace(message.place, message.focus);
    }
  }

  /** The page has just been loaded, perhaps anew after it was hidden. */
  async #start(): Promise<void> {
    this.#isReady = true;
    this.#sent = {};
    this.#post({ type: 'held', held: this.#held });
    const evaluation = await this.#campaigns.evaluationOf(this.#uri);
    if (evaluation) this.#send(evaluation, findSweep(evaluation, this.#memory));
    else {
      const text = vscode.l10n.t('Open a .sweepbook file: its curves appear here.');
      this.#post({ type: 'nothing', text });
    }
  }

  async #choose(sweepId: string): Promise<void> {
    const evaluation = this.#sent.evaluation;
    const sweep = evaluation?.sweeps.find(({ id }) => id === sweepId);
    if (!evaluation || !sweep) return;
    this.#memory = rememberSweep(sweep);
    this.#view = 'sweep';
    this.#send(evaluation, sweep);
    await revealPlace({ file: sweep.place.file, line: sweep.place.range.start.line }, false);
  }

  #turnView(view: ViewName, string: string | undefined): void {
    this.#view = view;
    if (string !== undefined) this.#memory = { string };
    this.#update();
  }

  /** Only files of the campaign on show. */
  #mayOpen(file: string): boolean {
    const evaluation = this.#sent.evaluation;
    return evaluation !== undefined && [...evaluation.files, ...evaluation.dataFiles].includes(file);
  }

  #post(message: ToPanel): void {
    if (this.#isReady) void this.#panel.webview.postMessage(message);
  }

  dispose(): void {
    this.#keepsComputed.dispose();
    for (const disposable of this.#disposables) disposable.dispose();
  }
}
