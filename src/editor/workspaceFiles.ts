/** Files of the workspace for the evaluation, by the editor's own file system: local, remote or virtual alike. */
import * as vscode from 'vscode';
import { tableFileLimit } from '../evaluation/fileStore.js';
import type { FileContent } from '../evaluation/ports.js';
import { tableEndings } from '../evaluation/tableFiles.js';
import {
  byDepth,
  mostPaths,
  type PathKind,
  type WorkspaceFiles as Files,
} from '../workspace/workspaceFiles.js';
import { keyOf, uriOf } from './convert.js';
import type { FollowLinks } from './machine.js';
import { isInside, isRelative, parentOf, relativePath } from './paths.js';

export class WorkspaceFiles implements Files {
  readonly #followLinks: FollowLinks | undefined;
  /** Of campaigns that no workspace folder holds: what they name stays below. */
  readonly #looseFolders = new Set<string>();

  /** @param followLinks absent where there is no disk, and so no link */
  constructor(followLinks: FollowLinks | undefined) {
    this.#followLinks = followLinks;
  }

  async read(file: string, limitBytes: number): Promise<FileContent> {
    const uri = uriOf(file);
    const unsaved = unsavedText(file);
    if (unsaved !== undefined) return { ok: true, bytes: unsaved };
    if (await this.#leadsOut(uri)) return { ok: false, reason: 'unreadable' };
    try {
      const stat = await vscode.workspace.fs.stat(uri);
      if ((stat.type & vscode.FileType.File) === 0) return { ok: false, reason: 'not-a-file' };
      if (stat.size > limitBytes) return { ok: false, reason: 'too-large', size: stat.size };
      const bytes = await vscode.workspace.fs.readFile(uri);
      return bytes.length > limitBytes
        ? { ok: false, reason: 'too-large', size: bytes.length }
        : { ok: true, bytes };
    } catch (error) {
      return { ok: false, reason: reasonOf(error) };
    }
  }

  resolve(from: string, relative: string): string | undefined {
    if (!isRelative(relative)) return undefined;
    const base = uriOf(from);
    const folder = vscode.workspace.getWorkspaceFolder(base)?.uri.path ?? this.#looseFolderOf(base);
    // Half of a pair of code units, which no disk can hold, would make the URI throw when it is written.
    const path = relative.replaceAll('\\', '/').replace(/\p{Cs}/gu, '\ufffd');
    const target = vscode.Uri.joinPath(base, '..', path);
    return isInside(folder, target.path) ? keyOf(target) : undefined;
  }

  /** Bytes of a table; undefined when it cannot be had. */
  async readTable(file: string): Promise<Uint8Array | undefined> {
    const content = await this.read(file, tableFileLimit);
    return content.ok ? content.bytes : undefined;
  }

  /** Paths of files near `from`, as it would write them: those of its workspace folder, or beside and below it. */
  async paths(kind: PathKind, from: string): Promise<string[]> {
    const base = uriOf(from);
    const folder = vscode.workspace.getWorkspaceFolder(base);
    const pattern = new vscode.RelativePattern(folder ?? vscode.Uri.joinPath(base, '..'), patterns[kind]);
    const found = await vscode.workspace.findFiles(pattern, '**/{node_modules,.git}/**', mostPaths);
    const others = found.filter((uri) => keyOf(uri) !== from);
    return others.map((uri) => relativePath(parentOf(base.path), uri.path)).sort(byDepth);
  }

  displayName(file: string): string {
    return vscode.workspace.asRelativePath(uriOf(file));
  }

  #looseFolderOf({ path }: vscode.Uri): string {
    const folder = parentOf(path);
    this.#looseFolders.add(folder);
    return folder;
  }

  /** Is it a link, or below one, that leads out of the folder that no path of a campaign may leave? */
  async #leadsOut(uri: vscode.Uri): Promise<boolean> {
    if (!this.#followLinks || uri.scheme !== 'file') return false;
    const loose = [...this.#looseFolders].filter((folder) => isInside(folder, uri.path)).sort(byLength)[0];
    const folder =
      vscode.workspace.getWorkspaceFolder(uri)?.uri ?? uri.with({ path: loose ?? parentOf(uri.path) });
    try {
      const [outer, inner] = await Promise.all([folder, uri].map(({ fsPath }) => this.#followLinks!(fsPath)));
      return !isInside(withSlashes(outer!), withSlashes(inner!));
    } catch {
      // Reading it tells what is wrong.
      return false;
    }
  }
}

const byLength = (a: string, b: string): number => a.length - b.length;

const withSlashes = (path: string): string => path.replaceAll('\\', '/');

/** Patterns of the editor tell large letters from small ones: `[cC][sS][vV]`. */
const anyCase = (ending: string): string =>
  ending.replace(/[a-z]/g, (letter) => `[${letter}${letter.toUpperCase()}]`);

const patterns = {
  table: `**/*.{${tableEndings.map(anyCase).join(',')}}`,
  campaign: '**/*.sweepbook',
} as const;

/** What an open editor holds and the disk does not yet. */
function unsavedText(file: string): Uint8Array | undefined {
  const document = vscode.workspace.textDocuments.find((open) => open.isDirty && keyOf(open.uri) === file);
  return document && new TextEncoder().encode(document.getText());
}

function reasonOf(error: unknown): 'missing' | 'not-a-file' | 'unreadable' {
  const code = error instanceof vscode.FileSystemError ? error.code : '';
  if (code === 'FileNotFound' || code === 'FileNotADirectory') return 'missing';
  return code === 'FileIsADirectory' ? 'not-a-file' : 'unreadable';
}
