/** What helps while one writes: completion, what a property wants, formatting. */
import {
  CompletionItemKind,
  InsertTextFormat,
  MarkupKind,
  type CompletionItem,
  type TextEdit,
} from 'vscode-languageserver/node';
import { completionsAt } from '../../presentation/completions.js';
import type { Completion, CompletionKind } from '../../presentation/editorTypes.js';
import { formatEdits, formatTyped, type TextEdit as Edit } from '../../presentation/formatting.js';
import { signatureAt } from '../../presentation/signatureHelp.js';
import { withoutStops } from '../../presentation/snippetText.js';
import { completionSupplies } from '../../workspace/completionSupplies.js';
import type { Session } from '../session.js';

const kinds: Readonly<Record<CompletionKind, CompletionItemKind>> = {
  keyword: CompletionItemKind.Keyword,
  property: CompletionItemKind.Property,
  reference: CompletionItemKind.Reference,
  unit: CompletionItemKind.Unit,
  value: CompletionItemKind.Value,
  block: CompletionItemKind.Snippet,
  file: CompletionItemKind.File,
  column: CompletionItemKind.Field,
};

export function serveWriting(session: Session): void {
  const { connection, kept, files, abilities } = session;

  // Does not wait for a run: names come from the last result at hand.
  connection.onCompletion(async ({ textDocument, position }, token) => {
    const open = session.openText(textDocument);
    if (!open) return null;
    const evaluation = kept.latestOf(open.file);
    const file = session.openFile(open);
    const supplies = await completionSupplies(files, evaluation, file, position);
    if (token.isCancellationRequested) return null;
    const completions = completionsAt(evaluation, file, position, supplies);
    return completions.map((each, index) => toItem(each, index, abilities.snippets));
  });

  connection.onSignatureHelp(({ textDocument, position }) => {
    const open = session.openText(textDocument);
    const found = open && signatureAt(session.openFile(open), position);
    if (!found) return null;
    const { label, parts, documentation, active } = found;
    const parameters = parts.map(({ start, end, documentation }) => ({
      label: abilities.labelOffsets ? ([start, end] as [number, number]) : label.slice(start, end),
      documentation: markdown(documentation),
    }));
    // Beyond the last part nothing is marked.
    const activeParameter = active ?? parts.length;
    const signature = { label, documentation: markdown(documentation), parameters };
    return { signatures: [signature], activeSignature: 0, activeParameter };
  });

  connection.onDocumentFormatting(({ textDocument }) => {
    const open = session.openText(textDocument);
    return open ? formatEdits(session.documentOf(open)).map(toEdit) : null;
  });

  connection.onDocumentRangeFormatting(({ textDocument, range: { start, end } }) => {
    const open = session.openText(textDocument);
    if (!open) return null;
    // A selection of whole lines ends at the start of the next one.
    const last = end.character === 0 && end.line > start.line ? end.line - 1 : end.line;
    return formatEdits(session.documentOf(open), start.line, last).map(toEdit);
  });

  connection.onDocumentOnTypeFormatting(({ textDocument, position }) => {
    const open = session.openText(textDocument);
    return open ? formatTyped(session.documentOf(open), position.line).map(toEdit) : null;
  });
}

const markdown = (value: string) => ({ kind: MarkupKind.Markdown, value });

const toEdit = ({ range, text }: Edit): TextEdit => ({ range, newText: text });

function toItem(completion: Completion, index: number, snippets: boolean): CompletionItem {
  const { label, kind, detail, documentation, insertText, isSnippet, filterText, range } = completion;
  const withStops = isSnippet === true && snippets;
  return {
    label,
    kind: kinds[kind],
    detail,
    documentation: documentation === undefined ? undefined : markdown(documentation),
    filterText,
    // The presentation's order is the order of likelihood.
    sortText: String(index).padStart(5, '0'),
    insertTextFormat: withStops ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    textEdit: { range, newText: isSnippet && !snippets ? withoutStops(insertText) : insertText },
  };
}
