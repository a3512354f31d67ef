/** What helps while one writes: registers each of its providers. */
import * as vscode from 'vscode';
import type { Campaigns } from './campaigns.js';
import { languageId } from './convert.js';
import { completionProvider, completionTriggers } from './providers/completion.js';
import { dropProvider, registerPaste } from './providers/droppedTables.js';
import { formattingProvider } from './providers/formatting.js';
import {
  highlightProvider,
  referenceProvider,
  renameProvider,
  workspaceSymbolProvider,
} from './providers/names.js';
import { fixMetadata, quickFixProvider } from './providers/quickFixes.js';
import { signatureProvider, signatureTriggers } from './providers/signatureHelp.js';
import {
  foldingProvider,
  linkProvider,
  selectionProvider,
  semanticLegend,
  semanticTokensProvider,
} from './providers/structure.js';

export function registerWriting(campaigns: Campaigns): vscode.Disposable {
  const selector: vscode.DocumentSelector = { language: languageId };
  const { languages } = vscode;
  const formatting = formattingProvider(campaigns);
  return vscode.Disposable.from(
    languages.registerCompletionItemProvider(selector, completionProvider(campaigns), ...completionTriggers),
    languages.registerSignatureHelpProvider(selector, signatureProvider(campaigns), signatureTriggers),
    languages.registerCodeActionsProvider(selector, quickFixProvider(campaigns), fixMetadata()),
    languages.registerReferenceProvider(selector, referenceProvider(campaigns)),
    languages.registerDocumentHighlightProvider(selector, highlightProvider(campaigns)),
    languages.registerRenameProvider(selector, renameProvider(campaigns)),
    languages.registerWorkspaceSymbolProvider(workspaceSymbolProvider(campaigns)),
    languages.registerDocumentLinkProvider(selector, linkProvider(campaigns)),
    languages.registerFoldingRangeProvider(selector, foldingProvider(campaigns)),
    languages.registerSelectionRangeProvider(selector, selectionProvider(campaigns)),
    languages.registerDocumentSemanticTokensProvider(
      selector,
      semanticTokensProvider(campaigns),
      semanticLegend(),
    ),
    languages.registerDocumentDropEditProvider(selector, dropProvider(campaigns)),
    registerPaste(campaigns, selector),
    languages.registerDocumentFormattingEditProvider(selector, formatting),
    languages.registerDocumentRangeFormattingEditProvider(selector, formatting),
    languages.registerOnTypeFormattingEditProvider(selector, formatting, '\n'),
  );
}
