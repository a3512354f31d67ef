import * as vscode from 'vscode';
import { newNonce } from './preview/panelHtml.js';

/** Writes a file so that the former one stays until the new one is whole. Says so where it cannot be written, and answers false. */
export async function writeWhole(target: vscode.Uri, bytes: Uint8Array): Promise<boolean> {
  const { fs } = vscode.workspace;
  // Of its own name, so that no two writers share it.
  const unfinished = vscode.Uri.joinPath(target, '..', `.sweepbook-${newNonce()}.part`);
  try {
    await fs.writeFile(unfinished, bytes);
    await fs.rename(unfinished, target, { overwrite: true });
    return true;
  } catch (error) {
    await fs.delete(unfinished).then(undefined, () => undefined);
    const name = target.path.slice(target.path.lastIndexOf('/') + 1);
    const reason = error instanceof Error ? error.message : String(error);
    void vscode.window.showErrorMessage(vscode.l10n.t('{0} could not be written: {1}', name, reason));
    return false;
  }
}
