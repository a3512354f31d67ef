import * as vscode from 'vscode';
import type { Campaigns } from '../campaigns.js';
import { toDiagnostic } from '../diagnostics.js';
import { keyOf, toRange } from '../convert.js';

/** Offers the mend that a problem carries, such as the nearest valid word. */
export function mendProvider(campaigns: Campaigns): vscode.CodeActionProvider {
  return {
    async provideCodeActions(document, range, _context, token) {
      const evaluation = await campaigns.evaluationOf(document.uri);
      if (!evaluation || token.isCancellationRequested) return undefined;
      const file = keyOf(document.uri);
      return evaluation.problems
        .filter((problem) => problem.file === file && range.intersection(toRange(problem.range)))
        .flatMap((problem) =>
          (problem.mends ?? []).map((mend) => {
            const action = new vscode.CodeAction(mend.title, vscode.CodeActionKind.QuickFix);
            action.edit = new vscode.WorkspaceEdit();
            action.edit.replace(document.uri, toRange(mend.range), mend.text);
            action.diagnostics = [toDiagnostic(problem)];
            action.isPreferred = problem.mends?.length === 1;
            return action;
          }),
        );
    },
  };
}
