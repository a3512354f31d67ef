/** Tables of the workspace, read for bringing in. */
import * as vscode from 'vscode';
import type { LeftOut, TableInput } from '../bringIn/foundTable.js';
import { tableFileLimit } from '../evaluation/fileStore.js';
import { isTableName } from '../evaluation/tableFiles.js';
import { keyOf } from './convert.js';
import { parentOf, relativePath } from './paths.js';
import type { WorkspaceFiles } from './workspaceFiles.js';

/** Nobody looks through a longer list. */
const mostFiles = 2000;

/** Files as they are; below folders those that end as tables do. */
export async function tablesAmong(uris: readonly vscode.Uri[]): Promise<vscode.Uri[]> {
  const files: vscode.Uri[] = [];
  for (const uri of uris) {
    const stat = await vscode.workspace.fs.stat(uri).then(undefined, () => undefined);
    if (!stat) continue;
    if (stat.type & vscode.FileType.Directory) await addTables(uri, files);
    else files.push(uri);
  }
  return files.slice(0, mostFiles);
}

async function addTables(folder: vscode.Uri, files: vscode.Uri[]): Promise<void> {
  for (const [name, type] of await vscode.workspace.fs.readDirectory(folder)) {
    if (files.length >= mostFiles || name === 'node_modules' || name.startsWith('.')) continue;
    const uri = vscode.Uri.joinPath(folder, name);
    // A link to a folder may lead back to where it stands.
    if (type === vscode.FileType.Directory) await addTables(uri, files);
    else if (type & vscode.FileType.File && isTableName(name)) files.push(uri);
  }
}

export const isTable = (uri: vscode.Uri): boolean => isTableName(uri.path);

export async function tableInputs(
  files: WorkspaceFiles,
  campaign: vscode.Uri,
  uris: readonly vscode.Uri[],
): Promise<{ inputs: TableInput[]; left: LeftOut[] }> {
  const inputs: TableInput[] = [];
  const left: LeftOut[] = [];
  for (const uri of uris) {
    const file = keyOf(uri);
    const path = relativePath(parentOf(campaign.path), uri.path);
    const refuse = (reason: string): unknown =>
      left.push({ kind: 'left', file, path, reason, isNamed: false });
    if (files.resolve(keyOf(campaign), path) !== file) {
      refuse(
        vscode.l10n.t(
          'It lies outside of the folder that the paths of the campaign may not leave; copy it into that folder.',
        ),
      );
      continue;
    }
    const content = await files.read(file, tableFileLimit);
    if (content.ok) inputs.push({ file, path, bytes: content.bytes });
    else refuse(vscode.l10n.t('It cannot be read.'));
  }
  return { inputs, left };
}
