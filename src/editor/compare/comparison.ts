/** A campaign as it is in the editors against the same at a revision: evaluated once there, and compared after every edit here. */
import * as vscode from 'vscode';
import { compareCampaigns, type Side } from '../../difference/compareCampaigns.js';
import type { Difference } from '../../difference/difference.js';
import type { Evaluation } from '../../evaluation/evaluation.js';
import { EvaluationCancelled } from '../../evaluation/workbook.js';
import { breatheInTurns } from '../../workspace/breathe.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf, uriOf } from '../convert.js';
import { parentOf, relativePath } from '../paths.js';
import { revisionTitle } from './askRevision.js';
import { NoGit, type GitCommit, type GitPlace } from './gitExtension.js';
import { RevisionFiles } from './revisionFiles.js';

export class Comparison {
  /** Goes on while edits overtake one comparison after another. */
  #before: Promise<Evaluation> | undefined;
  #reading = new AbortController();

  /** For people. */
  readonly title: string;

  constructor(
    readonly campaigns: Campaigns,
    readonly git: GitPlace,
    readonly root: vscode.Uri,
    /** As the user named it. */
    readonly revision: string,
    /** What that meant then, so that a branch that goes on does not matter. */
    readonly commit: GitCommit,
  ) {
    this.title = revisionTitle(revision, commit);
  }

  /** Rejects with `NoGit` where the revision has no such campaign, and with `EvaluationCancelled`. */
  async run(signal: AbortSignal): Promise<Difference> {
    const before = await (this.#before ??= this.#evaluateBefore(this.#reading.signal));
    const after = await this.campaigns.evaluationOf(this.root);
    if (!after) throw new EvaluationCancelled();
    return compareCampaigns(sideOf(before), sideOf(after), { breathe: breatheUntil(signal) });
  }

  /** Ends what is being read of the revision; the next run begins anew. */
  giveUp(): void {
    this.#reading.abort();
    this.#reading = new AbortController();
    this.#before = undefined;
  }

  displayName(file: string): string {
    return this.campaigns.files.displayName(file);
  }

  /** The file as the revision has it; undefined where it has none. */
  async uriBefore(file: string): Promise<vscode.Uri | undefined> {
    const uri = uriOf(file);
    const { hash } = this.commit;
    const has = await this.git.repository.buffer(hash, uri.fsPath).then(
      () => true,
      () => false,
    );
    return has ? this.git.uriAt(uri, hash) : undefined;
  }

  async #evaluateBefore(signal: AbortSignal): Promise<Evaluation> {
    const { repository } = this.git;
    const files = new RevisionFiles(repository, this.commit.hash, this.campaigns.files, signal);
    const evaluation = await this.campaigns.evaluateFrom(files, keyOf(this.root), signal);
    if (evaluation.sources) return evaluation;
    const former = await this.#formerRoot();
    if (former) {
      const renamed = await this.campaigns.evaluateFrom(files, keyOf(former), signal);
      if (renamed.sources) return renamed;
    }
    const name = this.displayName(keyOf(this.root));
    throw new NoGit(vscode.l10n.t('{0} is not there in {1}.', name, this.title));
  }

  /** What the campaign file was called, where git takes it for renamed. */
  async #formerRoot(): Promise<vscode.Uri | undefined> {
    const changes = await this.git.repository.diffWith(this.commit.hash).catch(() => []);
    const own = keyOf(this.root);
    const renamed = changes.find(({ renameUri }) => renameUri && keyOf(renameUri) === own);
    return renamed?.originalUri;
  }
}

/** A campaign that moved with its tables still finds them under the same names. */
function sideOf(evaluation: Evaluation): Side {
  const folder = parentOf(uriOf(evaluation.root).path);
  return { evaluation, nameOf: (file) => relativePath(folder, uriOf(file).path) };
}

function breatheUntil(signal: AbortSignal): () => Promise<void> | undefined {
  const breathe = breatheInTurns();
  return () => {
    if (signal.aborted) throw new EvaluationCancelled();
    return breathe();
  };
}
