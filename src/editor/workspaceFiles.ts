/** Files of the workspace for the evaluation, by the editor's own file system: local, remote or virtual alike. */
import * as vscode from 'vscode';
import type { FileContent, FileReader } from '../evaluation/ports.js';
import { keyOf, uriOf } from './convert.js';
import { isInside, isRelative, parentOf } from './paths.js';

export class WorkspaceFiles implements FileReader {
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

  displayName(file: string): string {
    return vscode.workspace.asRelativePath(uriOf(file));
  }
}

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
