/** Which revision to compare with: HEAD, branches, tags, the commits that changed the file, or any text that git understands. */
import * as vscode from 'vscode';
import type { GitCommit, GitRef, GitRepository } from './gitExtension.js';

interface RevisionItem extends vscode.QuickPickItem {
  readonly revision?: string;
}

/** Of a file; older ones are typed. */
const mostCommits = 30;

/** Undefined where nothing was chosen. */
export async function askRevision(
  repository: GitRepository,
  campaign: vscode.Uri,
): Promise<string | undefined> {
  const picker = vscode.window.createQuickPick<RevisionItem>();
  picker.title = vscode.l10n.t('Compare Results with a Revision');
  picker.placeholder = vscode.l10n.t('Branch, tag, commit, or anything that names a revision');
  picker.matchOnDescription = true;
  picker.matchOnDetail = true;
  const head: RevisionItem = {
    label: 'HEAD',
    description: vscode.l10n.t('the last commit'),
    revision: 'HEAD',
  };
  let known: readonly RevisionItem[] = [head];
  const offer = (): void => {
    const { value } = picker;
    const typed = value.trim();
    const isKnown = typed === '' || known.some(({ revision }) => revision === typed);
    const own = { label: typed, description: vscode.l10n.t('as typed'), revision: typed, alwaysShow: true };
    picker.items = isKnown ? known : [...known, own];
  };
  offer();
  picker.busy = true;
  void revisionsOf(repository, campaign).then((found) => {
    known = [head, ...found];
    picker.busy = false;
    offer();
  });
  const chosen = new Promise<string | undefined>((resolve) => {
    picker.onDidChangeValue(offer);
    picker.onDidAccept(() => {
      resolve(picker.selectedItems[0]?.revision);
      picker.hide();
    });
    picker.onDidHide(() => {
      resolve(undefined);
      picker.dispose();
    });
  });
  picker.show();
  return chosen;
}

async function revisionsOf(repository: GitRepository, campaign: vscode.Uri): Promise<RevisionItem[]> {
  const options = { maxEntries: mostCommits, path: campaign.fsPath };
  const [refs, commits] = await Promise.all([
    repository.getRefs({}).catch((): GitRef[] => []),
    repository.log(options).catch((): GitCommit[] => []),
  ]);
  const { t } = vscode.l10n;
  const [branch, remote, tag] = [0, 1, 2].map((type) => refs.filter((ref) => ref.type === type));
  return [
    ...group(t('Branches'), [...branch!, ...remote!].flatMap(refItem)),
    ...group(t('Tags'), tag!.flatMap(refItem)),
    ...group(t('Commits of this file'), commits.map(commitItem)),
  ];
}

function group(label: string, items: readonly RevisionItem[]): RevisionItem[] {
  return items.length > 0 ? [{ label, kind: vscode.QuickPickItemKind.Separator }, ...items] : [];
}

function refItem({ name, commit, type }: GitRef): RevisionItem[] {
  if (name === undefined) return [];
  const icon = type === 2 ? 'tag' : 'git-branch';
  return [{ label: `$(${icon}) ${name}`, description: commit && shortHash(commit), revision: name }];
}

function commitItem({ hash, message, authorDate }: GitCommit): RevisionItem {
  const [subject = ''] = message.split('\n');
  return {
    label: `$(git-commit) ${subject}`,
    description: [shortHash(hash), authorDate && dayOf(authorDate)].filter(Boolean).join(', '),
    revision: hash,
  };
}

/** `v1.0 (3f2a91c, 2026-11-20)`; a commit by its first line. */
export function revisionTitle(revision: string, { hash, message, authorDate }: GitCommit): string {
  const [subject = ''] = message.split('\n');
  const name = hash.startsWith(revision) ? subject : revision;
  return `${name} (${[shortHash(hash), ...(authorDate ? [dayOf(authorDate)] : [])].join(', ')})`;
}

const shortHash = (hash: string): string => hash.slice(0, 7);

const dayOf = (date: Date): string => new Date(date).toISOString().slice(0, 10);
