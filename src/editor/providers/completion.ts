import * as vscode from 'vscode';
import type { CompletionKind } from '../../presentation/editorTypes.js';
import type { Campaigns } from '../campaigns.js';
import { toMarkdown, toRange } from '../convert.js';
import { openFile } from '../openFile.js';

const kinds: Readonly<Record<CompletionKind, vscode.CompletionItemKind>> = {
  keyword: vscode.CompletionItemKind.Keyword,
  property: vscode.CompletionItemKind.Property,
  reference: vscode.CompletionItemKind.Reference,
  unit: vscode.CompletionItemKind.Unit,
  value: vscode.CompletionItemKind.Value,
  block: vscode.CompletionItemKind.Snippet,
  file: vscode.CompletionItemKind.File,
  column: vscode.CompletionItemKind.Field,
};

export const completionTriggers = [' ', '/', '"'] as const;

/** Does not wait for a run: names come from the last result at hand. */
export function completionProvider(campaigns: Campaigns): vscode.CompletionItemProvider {
  return {
    async provideCompletionItems(document, position, token) {
      const { completionSupplies, completionsAt } = await import('../later.js');
      const evaluation = campaigns.latestOf(document.uri);
      const open = openFile(document, campaigns.files);
      const supplies = await completionSupplies(campaigns.files, evaluation, open, position);
      if (token.isCancellationRequested) return undefined;
      const completions = completionsAt(evaluation, open, position, supplies);
      return completions.map((completion, index) => {
        const item = new vscode.CompletionItem(completion.label, kinds[completion.kind]);
        item.detail = completion.detail;
        item.documentation = completion.documentation ? toMarkdown(completion.documentation) : undefined;
        item.insertText = completion.isSnippet
          ? new vscode.SnippetString(completion.insertText)
          : completion.insertText;
        if (completion.filterText !== undefined) item.filterText = completion.filterText;
        item.range = toRange(completion.range);
        // The presentation's order is the order of likelihood.
        item.sortText = String(index).padStart(5, '0');
        return item;
      });
    },
  };
}
