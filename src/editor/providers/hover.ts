import * as vscode from 'vscode';
import type { Campaigns } from '../campaigns.js';
import { toMarkdown, toRange } from '../convert.js';
import { openFile } from '../openFile.js';

export function hoverProvider(campaigns: Campaigns): vscode.HoverProvider {
  return {
    async provideHover(document, position, token) {
      const evaluation = await campaigns.evaluationOf(document.uri);
      if (!evaluation || token.isCancellationRequested) return undefined;
      const { hoverAt } = await import('../later.js');
      const hover = hoverAt(evaluation, openFile(document, campaigns.files), position);
      return hover && new vscode.Hover(toMarkdown(hover.markdown), toRange(hover.range));
    },
  };
}
