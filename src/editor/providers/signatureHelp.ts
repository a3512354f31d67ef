import * as vscode from 'vscode';
import type { Campaigns } from '../campaigns.js';
import { toMarkdown } from '../convert.js';
import { openFile } from '../openFile.js';

export const signatureTriggers: vscode.SignatureHelpProviderMetadata = {
  triggerCharacters: [' '],
  retriggerCharacters: [' ', ',', '"', '.', '±'],
};

export function signatureProvider(campaigns: Campaigns): vscode.SignatureHelpProvider {
  return {
    async provideSignatureHelp(document, position) {
      const { signatureAt } = await import('../later.js');
      const found = signatureAt(openFile(document, campaigns.files), position);
      if (!found) return undefined;
      const signature = new vscode.SignatureInformation(found.label, toMarkdown(found.documentation));
      signature.parameters = found.parts.map(
        ({ start, end, documentation }) =>
          new vscode.ParameterInformation([start, end], toMarkdown(documentation)),
      );
      const help = new vscode.SignatureHelp();
      help.signatures = [signature];
      help.activeSignature = 0;
      // Beyond the last part nothing is marked.
      help.activeParameter = found.active ?? found.parts.length;
      return help;
    },
  };
}
