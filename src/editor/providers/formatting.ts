import * as vscode from 'vscode';
import { formatEdits, formatTyped, type TextEdit } from '../../presentation/formatting.js';
import type { Campaigns } from '../campaigns.js';
import { toRange } from '../convert.js';

type Formatting = vscode.DocumentFormattingEditProvider &
  vscode.DocumentRangeFormattingEditProvider &
  vscode.OnTypeFormattingEditProvider;

/** The layout of the notation is one and the same everywhere, so the editor's tab size does not change it. */
export function formattingProvider(campaigns: Campaigns): Formatting {
  return {
    provideDocumentFormattingEdits: (document) => formatEdits(campaigns.documentOf(document)).map(toEdit),
    provideDocumentRangeFormattingEdits(document, { start, end }) {
      // A selection of whole lines ends at the start of the next one.
      const last = end.character === 0 && end.line > start.line ? end.line - 1 : end.line;
      return formatEdits(campaigns.documentOf(document), start.line, last).map(toEdit);
    },
    provideOnTypeFormattingEdits: (document, { line }) =>
      formatTyped(campaigns.documentOf(document), line).map(toEdit),
  };
}

const toEdit = ({ range, text }: TextEdit): vscode.TextEdit => vscode.TextEdit.replace(toRange(range), text);
