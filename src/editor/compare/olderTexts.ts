/** Campaign files of older states, as a text diff shows them: evaluated with the files of that state. Nothing is published of them. */
import * as vscode from 'vscode';
import type { Evaluation } from '../../evaluation/evaluation.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf } from '../convert.js';
import { gitOf, type GitRepository } from './gitExtension.js';
import { RevisionFiles } from './revisionFiles.js';

export interface OlderText {
  readonly evaluation: Evaluation;
  /** Key of the document in the evaluation. */
  readonly file: string;
}

/** Of a diff there are two; of a history somebody looks through some more. */
const mostKept = 8;

export class OlderTexts implements vscode.Disposable {
  readonly #campaigns: Campaigns;
  readonly #changed = new vscode.EventEmitter<void>();
  readonly #listening = new Map<string, vscode.Disposable>();
  /** By commit and root file, the latest last. */
  readonly #evaluations = new Map<string, Promise<Evaluation>>();
  /** Counts up when what is staged may have changed. */
  #stage = 0;

  /** Another commit may be meant, or something else be staged. */
  readonly onDidChange = this.#changed.event;

  constructor(campaigns: Campaigns) {
    this.#campaigns = campaigns;
  }

  /** Undefined where git cannot tell, as for one side of a conflict, which is a state of that one file alone. */
  async of({ uri }: vscode.TextDocument): Promise<OlderText | undefined> {
    const older = olderFile(uri);
    if (!older) return undefined;
    try {
      const { repository } = await gitOf(older.uri);
      this.#listen(repository);
      const ref = await this.#refOf(repository, older.ref);
      const file = keyOf(older.uri);
      const root = keyOf(await this.#campaigns.rootOf(older.uri));
      const whole = await this.#evaluate(repository, ref, root);
      const evaluation = whole.files.includes(file) ? whole : await this.#evaluate(repository, ref, file);
      return { evaluation, file };
    } catch {
      return undefined;
    }
  }

  #evaluate(repository: GitRepository, ref: string, root: string): Promise<Evaluation> {
    const key = `${ref === '' ? `stage ${this.#stage}` : ref} ${root}`;
    const kept = this.#evaluations.get(key);
    const files = new RevisionFiles(repository, ref, this.#campaigns.files);
    const evaluation = kept ?? this.#campaigns.evaluateFrom(files, root);
    this.#evaluations.delete(key);
    this.#evaluations.set(key, evaluation);
    const [oldest] = this.#evaluations.keys();
    if (this.#evaluations.size > mostKept) this.#evaluations.delete(oldest!);
    return evaluation;
  }

  /** A full name of a commit, or empty for what is staged where that is not the last commit. */
  async #refOf(repository: GitRepository, ref: string): Promise<string> {
    const { state } = repository;
    const isStage = ref === '' || ref === '~';
    if (isStage) return state.indexChanges.length > 0 ? '' : (state.HEAD?.commit ?? '');
    return /^[0-9a-f]{40,64}$/.test(ref) ? ref : (await repository.getCommit(ref)).hash;
  }

  #listen({ rootUri, state }: GitRepository): void {
    const key = keyOf(rootUri);
    if (this.#listening.has(key)) return;
    let known = state.HEAD?.commit;
    this.#listening.set(
      key,
      state.onDidChange(() => {
        if (state.indexChanges.length === 0 && state.HEAD?.commit === known) return;
        known = state.HEAD?.commit;
        this.#stage++;
        this.#changed.fire();
      }),
    );
  }

  dispose(): void {
    vscode.Disposable.from(this.#changed, ...this.#listening.values()).dispose();
  }
}

/** A git: URI has path and revision in its query, as JSON. */
export function olderFile(uri: vscode.Uri): { readonly uri: vscode.Uri; readonly ref: string } | undefined {
  try {
    const { path, ref } = JSON.parse(uri.query) as { readonly path?: unknown; readonly ref?: unknown };
    if (typeof path !== 'string' || typeof ref !== 'string' || /^(~\d|-)/.test(ref)) return undefined;
    return { uri: vscode.Uri.file(path), ref };
  } catch {
    return undefined;
  }
}
