import type { Evaluation } from '../evaluation/evaluation.js';
import { completionNeeds } from '../presentation/completionPaths.js';
import type { CompletionSupplies } from '../presentation/completions.js';
import type { OpenFile } from '../presentation/editorTypes.js';
import { tableColumns } from '../presentation/tableColumns.js';
import type { Position } from '../text/place.js';
import type { WorkspaceFiles } from './workspaceFiles.js';

/** Paths and columns for completion, looked up only where they are wanted. */
export async function completionSupplies(
  files: WorkspaceFiles,
  evaluation: Evaluation | undefined,
  open: OpenFile,
  position: Position,
): Promise<CompletionSupplies> {
  const { paths, tables = [] } = completionNeeds(evaluation, open, position);
  if (paths === 'table') return { tables: await files.paths('table', open.file) };
  if (paths === 'campaign') return { campaignFiles: await files.paths('campaign', open.file) };
  for (const table of tables) {
    const bytes = await files.readTable(table);
    const columns = bytes ? tableColumns(bytes) : [];
    if (columns.length > 0) return { columns };
  }
  return {};
}
