/** What is read from the text alone: links, folding, growing selections, semantic tokens. */
import * as vscode from 'vscode';
import { writtenPaths } from '../../presentation/documentLinks.js';
import { foldingRegions } from '../../presentation/folding.js';
import { selectionRanges } from '../../presentation/selectionRanges.js';
import { semanticModifiers, semanticTokenSteps, semanticTypes } from '../../presentation/semanticTokens.js';
import type { Steps } from '../../text/steps.js';
import { aTurn, inTurns } from '../../workspace/breathe.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf, toRange, uriOf } from '../convert.js';

export function linkProvider(campaigns: Campaigns): vscode.DocumentLinkProvider {
  function* links(document: vscode.TextDocument): Steps<vscode.DocumentLink[]> {
    const from = keyOf(document.uri);
    const found: vscode.DocumentLink[] = [];
    for (const { path, range } of writtenPaths(campaigns.documentOf(document))) {
      const file = campaigns.files.resolve(from, path);
      if (file !== undefined) found.push(new vscode.DocumentLink(toRange(range), uriOf(file)));
      yield;
    }
    return found;
  }
  return {
    provideDocumentLinks: (document) => inTurns(() => links(document)),
  };
}

export function foldingProvider(campaigns: Campaigns): vscode.FoldingRangeProvider {
  const { Comment, Imports } = vscode.FoldingRangeKind;
  return {
    async provideFoldingRanges(document) {
      await aTurn();
      return foldingRegions(campaigns.documentOf(document)).map(
        ({ start, end, kind }) =>
          new vscode.FoldingRange(start, end, kind && (kind === 'comment' ? Comment : Imports)),
      );
    },
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
    provideDocumentSemanticTokens: async (document) =>
      new vscode.SemanticTokens(await inTurns(() => semanticTokenSteps(campaigns.documentOf(document)))),
  };
}
