import type * as vscode from 'vscode';
import { definitionAt } from '../../presentation/definition.js';
import type { Campaigns } from '../campaigns.js';
import { toLocation } from '../convert.js';
import { openFile } from '../openFile.js';

export function definitionProvider(campaigns: Campaigns): vscode.DefinitionProvider {
  return {
    async provideDefinition(document, position, token) {
      const evaluation = await campaigns.evaluationOf(document.uri);
      if (!evaluation || token.isCancellationRequested) return undefined;
      const place = definitionAt(evaluation, openFile(document, campaigns.files), position);
      return place && toLocation(place);
    },
  };
}
