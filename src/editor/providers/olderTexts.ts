/** The older side of a text diff: values behind its sweeps, and hovers. */
import * as vscode from 'vscode';
import type { Campaigns } from '../campaigns.js';
import { OlderTexts } from '../compare/olderTexts.js';
import { languageId, toMarkdown, toRange } from '../convert.js';
import { openFile } from '../openFile.js';
import { areHintsWanted, hintsOf } from './verdictHints.js';

export function registerOlderTexts(campaigns: Campaigns): vscode.Disposable {
  const texts = new OlderTexts(campaigns);
  const selector: vscode.DocumentSelector = { language: languageId, scheme: 'git' };
  const { languages } = vscode;
  return vscode.Disposable.from(
    texts,
    languages.registerInlayHintsProvider(selector, {
      onDidChangeInlayHints: texts.onDidChange,
      async provideInlayHints(document, range, token) {
        const older = areHintsWanted(document) ? await texts.of(document) : undefined;
        if (!older || token.isCancellationRequested) return undefined;
        return hintsOf(older.evaluation, older.file, document, range);
      },
    }),
    languages.registerHoverProvider(selector, {
      async provideHover(document, position, token) {
        const older = await texts.of(document);
        if (!older || token.isCancellationRequested) return undefined;
        const { hoverAt } = await import('../later.js');
        const hover = hoverAt(older.evaluation, openFile(document, campaigns.files, older.file), position);
        return hover && new vscode.Hover(toMarkdown(hover.markdown), toRange(hover.range));
      },
    }),
  );
}
