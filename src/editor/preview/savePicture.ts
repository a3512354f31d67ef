import * as vscode from 'vscode';
import { writeWhole } from '../writeWhole.js';

/** Asks where a picture goes, beside the campaign at first, and writes it there. */
export async function savePicture(name: string, base64: string, campaign: vscode.Uri): Promise<void> {
  const target = await vscode.window.showSaveDialog({
    defaultUri: vscode.Uri.joinPath(campaign, '..', name),
    filters: { Picture: [name.slice(name.lastIndexOf('.') + 1)] },
  });
  if (!target) return;
  const bytes = Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
  await writeWhole(target, bytes);
}
