import * as vscode from 'vscode';
import type { OutlineSymbol, SymbolKind } from '../../presentation/editorTypes.js';
import { outlineOf } from '../../presentation/outline.js';
import { aTurn } from '../../workspace/breathe.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf, toRange } from '../convert.js';

export const symbolKinds: Readonly<Record<SymbolKind, vscode.SymbolKind>> = {
  campaign: vscode.SymbolKind.Namespace,
  site: vscode.SymbolKind.Module,
  plane: vscode.SymbolKind.Interface,
  module: vscode.SymbolKind.Class,
  string: vscode.SymbolKind.Array,
  instrument: vscode.SymbolKind.Object,
  layout: vscode.SymbolKind.Struct,
  criteria: vscode.SymbolKind.Boolean,
  sweep: vscode.SymbolKind.Function,
  event: vscode.SymbolKind.Event,
};

export function outlineProvider(campaigns: Campaigns): vscode.DocumentSymbolProvider {
  return {
    async provideDocumentSymbols(document, token) {
      const evaluation = await campaigns.evaluationOf(document.uri);
      await aTurn();
      if (!evaluation || token.isCancellationRequested) return undefined;
      const symbols = outlineOf(evaluation, keyOf(document.uri)).map(toSymbol);
      // To write thousands of them down takes the editor as long again.
      await aTurn();
      return symbols;
    },
  };
}

function toSymbol(symbol: OutlineSymbol): vscode.DocumentSymbol {
  const { name, detail, kind, range, selectionRange, children } = symbol;
  const shown = new vscode.DocumentSymbol(
    name,
    detail,
    symbolKinds[kind],
    toRange(range),
    toRange(selectionRange),
  );
  shown.children = children.map(toSymbol);
  return shown;
}
