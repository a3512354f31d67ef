/** Quick fixes of problems, all of a kind at once, unused blocks removed, units converted, runs split. */
import { CodeActionKind, type CodeAction } from 'vscode-languageserver/node';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { FileEdit } from '../../presentation/fileEdit.js';
import { fixAll, type Fix } from '../../presentation/quickFixes.js';
import { withoutStops } from '../../presentation/snippetText.js';
import { fixesAt, rewritesAt, type PlacedFix } from '../../workspace/actions.js';
import { fixAllKind } from '../abilities.js';
import { toDiagnostic, unusedDiagnostic } from '../diagnostics.js';
import type { OpenText, Session } from '../session.js';
import { changesOf } from './names.js';

export function serveCodeActions(session: Session): void {
  const { connection, kept } = session;
  connection.onCodeAction(async ({ textDocument, range, context: { only } }, token) => {
    const open = session.openText(textDocument);
    const evaluation = open && (await kept.evaluationOf(open.file));
    if (!evaluation || token.isCancellationRequested) return null;
    const { file } = open;
    const wants = (kind: string): boolean => !only || only.some((each) => isWithin(kind, each));
    const action = (fix: Fix, kind: string): CodeAction => toAction(fix, kind, open, session);
    const actions: CodeAction[] = [];
    if (wants(CodeActionKind.QuickFix)) {
      for (const fix of await fixesAt(evaluation, file, range, kept.fixHost))
        actions.push({ ...action(fix, CodeActionKind.QuickFix), ...mended(fix, session) });
    }
    if (wants(CodeActionKind.RefactorRewrite)) {
      const around = (each: string) => kept.filesAround(each);
      const rewrites = await rewritesAt(evaluation, file, range, session.documentOf(open), around);
      actions.push(...rewrites.map((fix) => action(fix, CodeActionKind.RefactorRewrite)));
    }
    // Not among the fixes of a place: only when it is asked for, as on saving.
    const all = only && wants(fixAllKind) ? fixAll(evaluation.problems, file) : undefined;
    return all ? [...actions, action(all, fixAllKind)] : actions;
  });
}

/** `source.fixAll.sweepbook` is wanted where `source.fixAll` or `source` is. */
const isWithin = (kind: string, wanted: string): boolean => kind === wanted || kind.startsWith(`${wanted}.`);

function mended({ problem, unused, isPreferred }: PlacedFix, session: Session): Partial<CodeAction> {
  if (unused) return { diagnostics: [unusedDiagnostic(unused)] };
  return problem ? { diagnostics: [toDiagnostic(problem, session)], isPreferred: isPreferred === true } : {};
}

function toAction({ title, edits }: Fix, kind: string, open: OpenText, session: Session): CodeAction {
  // An edit of a file has no tab stops in the protocol.
  const plain = edits.map(({ file, range, text, isSnippet }): FileEdit => ({
    file,
    range: file === open.file ? within(open.text, range) : range,
    text: isSnippet ? withoutStops(text) : text,
  }));
  // Menus show no code style.
  return { title: title.replaceAll('`', ''), kind, edit: { changes: changesOf(plain, session) } };
}

/** A block that ends the text has no line behind it. */
function within(text: TextDocument, { start, end }: FileEdit['range']): FileEdit['range'] {
  return { start, end: text.positionAt(text.offsetAt(end)) };
}
