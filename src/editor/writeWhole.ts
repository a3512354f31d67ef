import * as vscode from 'vscode';
import { isLeftover, isUnfinished, unfinishedName } from '../workspace/unfinishedFiles.js';
import { newNonce } from './preview/panelHtml.js';

/** Writes a file so that the former one stays until the new one is whole. Says so where it cannot be written, and answers false. */
export async function writeWhole(target: vscode.Uri, bytes: Uint8Array): Promise<boolean> {
  const { fs } = vscode.workspace;
  // Of its own name, so that no two writers share it.
  const folder = vscode.Uri.joinPath(target, '..');
  const unfinished = vscode.Uri.joinPath(folder, unfinishedName(newNonce()));
  try {
    await fs.writeFile(unfinished, bytes);
    await fs.rename(unfinished, target, { overwrite: true });
    await removeLeftovers(folder).catch(() => undefined);
    return true;
  } catch (error) {
    await fs.delete(unfinished).then(undefined, () => undefined);
    const name = target.path.slice(target.path.lastIndexOf('/') + 1);
    const reason = error instanceof Error ? error.message : String(error);
    void vscode.window.showErrorMessage(vscode.l10n.t('{0} could not be written: {1}', name, reason));
    return false;
  }
}

/** Of writers that were killed. */
async function removeLeftovers(folder: vscode.Uri): Promise<void> {
  const { fs } = vscode.workspace;
  for (const [name, type] of await fs.readDirectory(folder)) {
    if (type !== vscode.FileType.File || !isUnfinished(name)) continue;
    const file = vscode.Uri.joinPath(folder, name);
    if (isLeftover(name, (await fs.stat(file)).mtime)) await fs.delete(file);
  }
}
