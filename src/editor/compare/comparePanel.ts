/** The panel that says what differs from a revision: recomputed with every edit of the campaign. */
import * as vscode from 'vscode';
import type { Difference } from '../../difference/difference.js';
import { EvaluationCancelled } from '../../evaluation/workbook.js';
import { readToEditor, type ToEditor, type ToPanel } from '../../messages/previewMessages.js';
import { differenceModel } from '../../presentation/differenceModel.js';
import type { ChangedPlace } from '../../presentation/sourcePlace.js';
import { Rest } from '../../workspace/rest.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf, uriOf } from '../convert.js';
import { preparePage } from '../preview/preparePage.js';
import { savePicture } from '../preview/savePicture.js';
import { rememberSweep, sameSweep, type SweepMemory } from '../preview/shownSweep.js';
import type { Comparison } from './comparison.js';
import { NoGit } from './gitExtension.js';
import { revealChange } from './revealChange.js';

/** Milliseconds without an edit: to trace causes takes longer than to evaluate. */
const rest = 300;

export class ComparePanel implements vscode.Disposable {
  readonly #panel: vscode.WebviewPanel;
  readonly #comparison: Comparison;
  readonly #askRevision: () => void;
  readonly #disposables: vscode.Disposable[];
  readonly #rest = new Rest(
    () => rest,
    (signal) => this.#compare(signal),
  );
  #difference: Difference | undefined;
  #memory: SweepMemory;
  #isReady = false;
  /** Said instead of a difference. */
  #nothing: string | undefined;

  constructor(
    panel: vscode.WebviewPanel,
    extension: vscode.Uri,
    campaigns: Campaigns,
    comparison: Comparison,
    memory: SweepMemory,
    askRevision: () => void,
  ) {
    this.#panel = panel;
    this.#comparison = comparison;
    this.#memory = memory;
    this.#askRevision = askRevision;
    this.#disposables = [
      campaigns.show(comparison.root),
      panel.webview.onDidReceiveMessage((message) => void this.#receive(readToEditor(message))),
      campaigns.onDidEvaluate(({ root }) => {
        if (root === keyOf(comparison.root)) this.#again();
      }),
    ];
    const name = comparison.root.path.slice(comparison.root.path.lastIndexOf('/') + 1);
    panel.title = vscode.l10n.t('{0}: Against {1}', name, comparison.title);
    preparePage(panel, extension);
  }

  /** Computes what differs, as the user can see and give up. */
  start(): void {
    const options = {
      location: vscode.ProgressLocation.Notification,
      title: vscode.l10n.t('Comparing with {0}', this.#comparison.title),
      cancellable: true,
    };
    void vscode.window.withProgress(options, async (_progress, cancelled) => {
      this.#rest.soon();
      cancelled.onCancellationRequested(() => {
        this.#giveUp();
        this.#say(vscode.l10n.t('Given up. An edit of the campaign, or another revision, begins anew.'));
      });
      await this.#rest.settled();
    });
  }

  #giveUp(): void {
    this.#comparison.giveUp();
    this.#rest.giveUp();
  }

  #again(): void {
    this.#sayComparing();
    this.#rest.soon();
  }

  #sayComparing(): void {
    const { root, revision, commit } = this.#comparison;
    this.#post({ type: 'comparing', file: keyOf(root), revision, commit: commit.hash });
  }

  async #compare(signal: AbortSignal): Promise<void> {
    try {
      const difference = await this.#comparison.run(signal);
      if (signal.aborted) return;
      this.#difference = difference;
      this.#nothing = undefined;
      this.#send();
    } catch (error) {
      if (signal.aborted || error instanceof EvaluationCancelled) return;
      if (!(error instanceof NoGit)) throw error;
      this.#say(error.message);
    }
  }

  #say(text: string): void {
    this.#nothing = text;
    this.#post({ type: 'nothing', text });
  }

  #send(): void {
    if (!this.#difference) return;
    const display = (file: string): string => this.#comparison.displayName(file);
    const difference = differenceModel(
      this.#difference,
      this.#comparison.title,
      { before: display, after: display },
      (sweeps) => sameSweep(sweeps, this.#memory),
    );
    this.#post({ type: 'difference', difference });
  }

  async #receive(message: ToEditor | undefined): Promise<void> {
    switch (message?.type) {
      case 'ready':
        this.#isReady = true;
        this.#sayComparing();
        if (this.#nothing === undefined) this.#send();
        else this.#say(this.#nothing);
        return;
      case 'choose': {
        const sweep = this.#difference?.after.sweeps.find(({ id }) => id === message.sweepId);
        if (sweep) this.#memory = rememberSweep(sweep);
        this.#send();
        return;
      }
      case 'revealChange':
        return this.#reveal(message);
      case 'askRevision':
        this.#askRevision();
        return;
      case 'copy':
        await vscode.env.clipboard.writeText(message.text);
        void vscode.window.setStatusBarMessage(vscode.l10n.t('Copied.'), 2_000);
        return;
      case 'save':
        return savePicture(message.name, message.base64, this.#comparison.root);
    }
  }

  /** Only files of the two campaigns. */
  async #reveal({ before, after }: ChangedPlace): Promise<void> {
    const difference = this.#difference;
    const places = [before, after].filter((place) => place !== undefined);
    if (!difference || places.length === 0) return;
    const known = [difference.before, difference.after].flatMap(({ files, dataFiles }) => [
      ...files,
      ...dataFiles,
    ]);
    if (places.some(({ file }) => !known.includes(file))) return;
    const file = (after ?? before)!.file;
    const sides = {
      before: await this.#comparison.uriBefore((before ?? after)!.file),
      after: (await exists(uriOf(file))) ? uriOf(file) : undefined,
    };
    const title = `${this.#comparison.displayName(file)} (${this.#comparison.title})`;
    await revealChange({ before, after }, sides, title);
  }

  #post(message: ToPanel): void {
    if (this.#isReady) void this.#panel.webview.postMessage(message);
  }

  dispose(): void {
    this.#giveUp();
    for (const disposable of this.#disposables) disposable.dispose();
  }
}

const exists = (uri: vscode.Uri): Thenable<boolean> =>
  vscode.workspace.fs.stat(uri).then(
    () => true,
    () => false,
  );
