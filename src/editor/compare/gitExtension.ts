/** The editor's own Git extension: the part of its interface that is used here, and what to say where it is not at hand. */
import * as vscode from 'vscode';

export interface GitRef {
  /** Branch, branch of a remote, tag. */
  readonly type: 0 | 1 | 2;
  readonly name?: string;
  readonly commit?: string;
}

export interface GitCommit {
  readonly hash: string;
  readonly message: string;
  readonly authorDate?: Date;
}

export interface GitChange {
  readonly originalUri: vscode.Uri;
  readonly renameUri?: vscode.Uri;
}

export interface GitRepository {
  readonly rootUri: vscode.Uri;
  readonly state: {
    readonly HEAD?: { readonly commit?: string };
    readonly indexChanges: readonly unknown[];
    readonly onDidChange: vscode.Event<void>;
  };
  /** Rejects where there is no such file. */
  buffer(ref: string, path: string): Promise<Uint8Array>;
  getCommit(ref: string): Promise<GitCommit>;
  getRefs(query: object): Promise<GitRef[]>;
  log(options: { readonly maxEntries: number; readonly path: string }): Promise<GitCommit[]>;
  /** What the working tree has changed since. */
  diffWith(ref: string): Promise<GitChange[]>;
}

interface GitApi {
  readonly state: 'uninitialized' | 'initialized';
  readonly onDidChangeState: vscode.Event<unknown>;
  getRepository(uri: vscode.Uri): GitRepository | null;
  toGitUri(uri: vscode.Uri, ref: string): vscode.Uri;
}

interface GitExtension {
  readonly enabled: boolean;
  getAPI(version: 1): GitApi;
}

/** Why nothing can be compared; the message is for the user. */
export class NoGit extends Error {}

export interface GitPlace {
  readonly repository: GitRepository;
  /** What the editor opens to show a file as it was. */
  readonly uriAt: (uri: vscode.Uri, ref: string) => vscode.Uri;
}

/** The repository that a file lies in. Rejects with `NoGit`. */
export async function gitOf(uri: vscode.Uri): Promise<GitPlace> {
  const api = await gitApi();
  const repository = api.getRepository(uri);
  if (!repository) {
    const name = uri.path.slice(uri.path.lastIndexOf('/') + 1);
    throw new NoGit(vscode.l10n.t('{0} is in no Git repository that the editor has open.', name));
  }
  return { repository, uriAt: (each, ref) => api.toGitUri(each, ref) };
}

async function gitApi(): Promise<GitApi> {
  // In the browser there is none; in restricted mode it is there for nobody.
  const extension = vscode.extensions.getExtension<GitExtension>('vscode.git');
  const absent = new NoGit(
    vscode.l10n.t(
      "The editor's own Git extension is not at hand: it is switched off, or this window runs in the browser or in restricted mode. On a command line, sweepbook diff --rev compares the same.",
    ),
  );
  if (!extension) throw absent;
  const git = await Promise.resolve(extension.activate()).catch(() => undefined);
  if (!git?.enabled) throw absent;
  const api = git.getAPI(1);
  await initialized(api);
  return api;
}

/** Repositories are found while the window opens. */
const longestSearch = 10_000;

function initialized(api: GitApi): Promise<void> {
  if (api.state === 'initialized') return Promise.resolve();
  return new Promise((resolve) => {
    const done = (): void => {
      clearTimeout(timer);
      listening.dispose();
      resolve();
    };
    const timer = setTimeout(done, longestSearch);
    const listening = api.onDidChangeState(() => {
      if (api.state === 'initialized') done();
    });
  });
}

/** The commit that a revision means. Rejects with `NoGit`. A word that git could take for an option is no revision. */
export async function commitOf(repository: GitRepository, revision: string): Promise<GitCommit> {
  const found = revision.startsWith('-')
    ? undefined
    : await repository.getCommit(revision).catch(() => undefined);
  if (!found) throw new NoGit(vscode.l10n.t('There is no revision {0}.', revision));
  return found;
}
