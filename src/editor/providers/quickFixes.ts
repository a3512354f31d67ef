/** Quick fixes of problems, all of a kind at once, unused blocks removed, units converted, runs split. */
import * as vscode from 'vscode';
import type { Fix, FixEdit } from '../../presentation/quickFixes.js';
import type { PlacedFix } from '../../workspace/actions.js';
import { aTurn } from '../../workspace/breathe.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf, toRange, uriOf } from '../convert.js';
import { toDiagnostic, unusedDiagnostic } from '../diagnostics.js';

const fixAllKind = (): vscode.CodeActionKind => vscode.CodeActionKind.SourceFixAll.append('sweepbook');

export function fixMetadata(): vscode.CodeActionProviderMetadata {
  const { QuickFix, RefactorRewrite } = vscode.CodeActionKind;
  return { providedCodeActionKinds: [QuickFix, RefactorRewrite, fixAllKind()] };
}

export function quickFixProvider(campaigns: Campaigns): vscode.CodeActionProvider {
  return {
    async provideCodeActions(document, range, { only }, token) {
      const evaluation = await campaigns.evaluationOf(document.uri);
      await aTurn();
      if (!evaluation || token.isCancellationRequested) return undefined;
      const { fixesAt, rewritesAt, fixAll } = await import('../later.js');
      const file = keyOf(document.uri);
      const wants = (kind: vscode.CodeActionKind): boolean => !only || only.contains(kind);
      const actions: vscode.CodeAction[] = [];
      if (wants(vscode.CodeActionKind.QuickFix)) {
        for (const fix of await fixesAt(evaluation, file, range, campaigns.fixHost))
          actions.push(mending(fix, document));
      }
      if (wants(vscode.CodeActionKind.RefactorRewrite)) {
        const around = (each: string) => campaigns.filesAround(each);
        const text = campaigns.documentOf(document);
        for (const fix of await rewritesAt(evaluation, file, range, text, around))
          actions.push(toAction(fix, vscode.CodeActionKind.RefactorRewrite, document));
      }
      // Not among the fixes of a place: only when it is asked for, as on saving.
      const all = only?.contains(fixAllKind()) ? fixAll(evaluation.problems, file) : undefined;
      if (all) actions.push(toAction(all, fixAllKind(), document));
      return actions;
    },
  };
}

function mending(fix: PlacedFix, document: vscode.TextDocument): vscode.CodeAction {
  const action = toAction(fix, vscode.CodeActionKind.QuickFix, document);
  if (fix.problem) {
    action.diagnostics = [toDiagnostic(fix.problem)];
    action.isPreferred = fix.isPreferred === true;
  } else if (fix.unused) action.diagnostics = [unusedDiagnostic(fix.unused)];
  return action;
}

function toAction(
  { title, edits }: Fix,
  kind: vscode.CodeActionKind,
  document: vscode.TextDocument,
): vscode.CodeAction {
  const action = new vscode.CodeAction(plainTitle(title), kind);
  action.edit = new vscode.WorkspaceEdit();
  const byFile = new Map<string, FixEdit[]>();
  for (const edit of edits) byFile.set(edit.file, [...(byFile.get(edit.file) ?? []), edit]);
  for (const [file, own] of byFile)
    action.edit.set(
      uriOf(file),
      own.map((edit) => toEdit(edit, file === keyOf(document.uri) ? document : undefined)),
    );
  return action;
}

/** Menus show no code style. */
const plainTitle = (title: string): string => title.replaceAll('`', '');

/** A block that ends the text has no line behind it. */
function toEdit(
  { range, text, isSnippet }: FixEdit,
  document: vscode.TextDocument | undefined,
): vscode.TextEdit | vscode.SnippetTextEdit {
  const place = document ? document.validateRange(toRange(range)) : toRange(range);
  return isSnippet
    ? vscode.SnippetTextEdit.replace(place, new vscode.SnippetString(text))
    : vscode.TextEdit.replace(place, text);
}
