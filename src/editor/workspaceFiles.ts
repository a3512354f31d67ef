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
import { isInside, isRelative, parentOf, relativePath } from './paths.js';

export class WorkspaceFiles implements Files {
  async read(file: string, limitBytes: number): Promise<FileContent> {
    const uri = uriOf(file);
    const unsaved = unsavedText(file);
    if (unsaved !== undefined) return { ok: true, bytes: unsaved };
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
    const folder = vscode.workspace.getWorkspaceFolder(base)?.uri.path ?? parentOf(base.path);
    const target = vscode.Uri.joinPath(base, '..', relative.replaceAll('\\', '/'));
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
}

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
