/** What is read from the text alone: links, folding, growing selections, semantic tokens. */
import * as vscode from 'vscode';
import { writtenPaths } from '../../presentation/documentLinks.js';
import { foldingRegions } from '../../presentation/folding.js';
import { selectionRanges } from '../../presentation/selectionRanges.js';
import { encodeSemanticTokens, semanticModifiers, semanticTypes } from '../../presentation/semanticTokens.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf, toRange, uriOf } from '../convert.js';

export function linkProvider(campaigns: Campaigns): vscode.DocumentLinkProvider {
  return {
    provideDocumentLinks(document) {
      const from = keyOf(document.uri);
      return writtenPaths(campaigns.documentOf(document)).flatMap(({ path, range }) => {
        const file = campaigns.files.resolve(from, path);
        return file === undefined ? [] : [new vscode.DocumentLink(toRange(range), uriOf(file))];
      });
    },
  };
}

export function foldingProvider(campaigns: Campaigns): vscode.FoldingRangeProvider {
  const { Comment, Imports } = vscode.FoldingRangeKind;
  return {
    provideFoldingRanges: (document) =>
      foldingRegions(campaigns.documentOf(document)).map(
        ({ start, end, kind }) =>
          new vscode.FoldingRange(start, end, kind && (kind === 'comment' ? Comment : Imports)),
      ),
  };
}

export function selectionProvider(campaigns: Campaigns): vscode.SelectionRangeProvider {
  return {
    provideSelectionRanges: (document, positions) =>
      positions.map((position) =>
        selectionRanges(campaigns.documentOf(document), position).reduceRight<
          vscode.SelectionRange | undefined
        >((outer, range) => new vscode.SelectionRange(toRange(range), outer), undefined)!,
      ),
  };
}

export const semanticLegend = (): vscode.SemanticTokensLegend =>
  new vscode.SemanticTokensLegend([...semanticTypes], [...semanticModifiers]);

export function semanticTokensProvider(campaigns: Campaigns): vscode.DocumentSemanticTokensProvider {
  return {
    provideDocumentSemanticTokens: (document) =>
      new vscode.SemanticTokens(encodeSemanticTokens(campaigns.documentOf(document))),
  };
}
