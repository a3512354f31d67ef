import type * as vscode from 'vscode';
import type { FileReader } from '../evaluation/ports.js';
import type { OpenFile } from '../presentation/editorTypes.js';
import { keyOf } from './convert.js';

/**
 * A document of the editor as the presentation asks for it.
 * @param file what it is called in the evaluation
 */
export function openFile(
  document: vscode.TextDocument,
  files: FileReader,
  file = keyOf(document.uri),
): OpenFile {
  return {
    file,
    lineAt: (line) => (line >= 0 && line < document.lineCount ? document.lineAt(line).text : ''),
    resolve: (relative) => files.resolve(file, relative),
  };
}
