/** What the client can do, and what the server offers (Language Server Protocol 3.17). */
import {
  CodeActionKind,
  TextDocumentSyncKind,
  type ClientCapabilities,
  type ServerCapabilities,
} from 'vscode-languageserver/node';
import { semanticModifiers } from '../presentation/semanticTokens.js';
import { semanticNames } from './semanticNames.js';

export interface ClientAbilities {
  readonly snippets: boolean;
  /** Symbols of a file may have others below them. */
  readonly symbolTrees: boolean;
  /** A part of a signature may be told by its columns. */
  readonly labelOffsets: boolean;
  readonly watchesFiles: boolean;
  readonly changesFolders: boolean;
  readonly answersConfiguration: boolean;
  readonly tellsConfiguration: boolean;
  readonly refreshesHints: boolean;
  readonly markdown: boolean;
}

export function abilitiesOf({ textDocument, workspace }: ClientCapabilities): ClientAbilities {
  const watching = workspace?.didChangeWatchedFiles;
  const { signatureInformation } = textDocument?.signatureHelp ?? {};
  return {
    snippets: textDocument?.completion?.completionItem?.snippetSupport === true,
    symbolTrees: textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport === true,
    labelOffsets: signatureInformation?.parameterInformation?.labelOffsetSupport === true,
    watchesFiles: watching?.dynamicRegistration === true,
    changesFolders: workspace?.workspaceFolders === true,
    answersConfiguration: workspace?.configuration === true,
    tellsConfiguration: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    refreshesHints: workspace?.inlayHint?.refreshSupport === true,
    markdown: textDocument?.hover?.contentFormat?.includes('markdown') === true,
  };
}

/** Of the source kinds, all fixes that do not change what a text says. */
export const fixAllKind = `${CodeActionKind.SourceFixAll}.sweepbook`;

export const serverCapabilities: ServerCapabilities = {
  textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: true },
  hoverProvider: true,
  completionProvider: { triggerCharacters: [' ', '/', '"'] },
  signatureHelpProvider: { triggerCharacters: [' '], retriggerCharacters: [' ', ',', '"', '.', '±'] },
  definitionProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  documentSymbolProvider: { label: 'Campaign' },
  workspaceSymbolProvider: true,
  codeActionProvider: {
    codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite, fixAllKind],
  },
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
  documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n' },
  documentLinkProvider: {},
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  semanticTokensProvider: {
    legend: { tokenTypes: [...semanticNames], tokenModifiers: [...semanticModifiers] },
    full: true,
  },
  inlayHintProvider: true,
  workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
};
