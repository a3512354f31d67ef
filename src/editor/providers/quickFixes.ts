/** Quick fixes of problems, all of a kind at once, units converted, unused blocks removed. */
import * as vscode from 'vscode';
import { fixAll, quickFixes, type Fix, type FixEdit } from '../../presentation/quickFixes.js';
import { nameAt } from '../../presentation/nameOccurrences.js';
import { splitRun } from '../../presentation/splitRun.js';
import { conversionsAt } from '../../presentation/unitConversions.js';
import { unusedNames } from '../../presentation/unusedNames.js';
import type { FileProblem } from '../../text/problem.js';
import type { Evaluation } from '../../evaluation/evaluation.js';
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
      if (!evaluation || token.isCancellationRequested) return undefined;
      const file = keyOf(document.uri);
      const wants = (kind: vscode.CodeActionKind): boolean => !only || only.contains(kind);
      const actions: vscode.CodeAction[] = [];
      if (wants(vscode.CodeActionKind.QuickFix)) {
        const touched = evaluation.problems.filter(
          (problem) => problem.file === file && range.intersection(toRange(problem.range)),
        );
        for (const problem of touched) actions.push(...(await actionsFor(problem, evaluation, campaigns)));
        actions.push(...unusedActions(evaluation, document, range));
      }
      if (wants(vscode.CodeActionKind.RefactorRewrite))
        actions.push(
          ...conversionActions(evaluation, document, range),
          ...(await splitActions(campaigns, document, range)),
        );
      // Not among the fixes of a place: only when it is asked for, as on saving.
      const all = only?.contains(fixAllKind()) ? fixAll(evaluation.problems, file) : undefined;
      if (all) actions.push(toAction(all, fixAllKind()));
      return actions;
    },
  };
}

async function actionsFor(
  problem: FileProblem,
  evaluation: Evaluation,
  campaigns: Campaigns,
): Promise<vscode.CodeAction[]> {
  const fixes = await quickFixes(problem, evaluation, campaigns.fixHost);
  const ofKind = fixAll(evaluation.problems, problem.file, problem.id);
  const all = ofKind && ofKind.edits.length > 1 ? [...fixes, ofKind] : fixes;
  return all.map((fix) => {
    const action = toAction(fix, vscode.CodeActionKind.QuickFix);
    action.diagnostics = [toDiagnostic(problem)];
    action.isPreferred = fix.isPreferred === true;
    return action;
  });
}

function toAction({ title, edits }: Fix, kind: vscode.CodeActionKind): vscode.CodeAction {
  const action = new vscode.CodeAction(plainTitle(title), kind);
  action.edit = new vscode.WorkspaceEdit();
  const byFile = new Map<string, FixEdit[]>();
  for (const edit of edits) byFile.set(edit.file, [...(byFile.get(edit.file) ?? []), edit]);
  for (const [file, own] of byFile) action.edit.set(uriOf(file), own.map(toEdit));
  return action;
}

/** Menus show no code style. */
const plainTitle = (title: string): string => title.replaceAll('`', '');

function toEdit({ range, text, isSnippet }: FixEdit): vscode.TextEdit | vscode.SnippetTextEdit {
  return isSnippet
    ? vscode.SnippetTextEdit.replace(toRange(range), new vscode.SnippetString(text))
    : vscode.TextEdit.replace(toRange(range), text);
}

function conversionActions(
  { campaign }: Evaluation,
  document: vscode.TextDocument,
  { start }: vscode.Range,
): vscode.CodeAction[] {
  const file = keyOf(document.uri);
  return conversionsAt(campaign, file, start).map(({ title, range, text }) =>
    toAction({ title, edits: [{ file, range, text }] }, vscode.CodeActionKind.RefactorRewrite),
  );
}

function unusedActions(
  evaluation: Evaluation,
  document: vscode.TextDocument,
  range: vscode.Range,
): vscode.CodeAction[] {
  const file = keyOf(document.uri);
  return unusedNames(evaluation)
    .filter((unused) => unused.file === file && range.intersection(toRange(unused.range)))
    .map((unused) => {
      const lines = new vscode.Range(unused.firstLine, 0, unused.lastLine + 1, 0);
      const action = new vscode.CodeAction('Remove the block', vscode.CodeActionKind.QuickFix);
      action.edit = new vscode.WorkspaceEdit();
      action.edit.delete(document.uri, document.validateRange(lines));
      action.diagnostics = [unusedDiagnostic(unused)];
      return action;
    });
}

/** On the address of a string that a run counts. */
async function splitActions(
  campaigns: Campaigns,
  document: vscode.TextDocument,
  { start }: vscode.Range,
): Promise<vscode.CodeAction[]> {
  const name = nameAt(campaigns.documentOf(document), start);
  if (name?.space !== 'string' || name.isGiven) return [];
  const edit = splitRun(await campaigns.filesAround(keyOf(document.uri)), name);
  const title = `Give ${name.text} a block of its own`;
  return edit ? [toAction({ title, edits: [edit] }, vscode.CodeActionKind.RefactorRewrite)] : [];
}
