/** Problems as the editor's diagnostics. */
import * as vscode from 'vscode';
import type { UnusedName } from '../presentation/unusedNames.js';
import type { FileProblem, Severity } from '../text/problem.js';
import { ProblemsByFile } from '../workspace/problemsByFile.js';
import { toLocation, toRange, uriOf } from './convert.js';

const severities: Readonly<Record<Severity, vscode.DiagnosticSeverity>> = {
  error: vscode.DiagnosticSeverity.Error,
  warning: vscode.DiagnosticSeverity.Warning,
  information: vscode.DiagnosticSeverity.Information,
};

export class Diagnostics implements vscode.Disposable {
  readonly #collection = vscode.languages.createDiagnosticCollection('sweepbook');
  readonly #said = new ProblemsByFile();

  /** Replaces what was said of this campaign; `undefined` takes it all back. */
  publish(
    root: string,
    problems: readonly FileProblem[] | undefined,
    unused: readonly UnusedName[] = [],
  ): void {
    for (const file of this.#said.replace(root, problems, unused)) {
      const diagnostics = [
        ...this.#said.problemsOf(file).map(toDiagnostic),
        ...this.#said.unusedOf(file).map(unusedDiagnostic),
      ];
      // An empty list would stay in the collection, one for each file that was ever open.
      if (diagnostics.length > 0) this.#collection.set(uriOf(file), diagnostics);
      else this.#collection.delete(uriOf(file));
    }
  }

  dispose(): void {
    this.#collection.dispose();
  }
}

export function toDiagnostic(problem: FileProblem): vscode.Diagnostic {
  const diagnostic = new vscode.Diagnostic(
    toRange(problem.range),
    problem.message,
    severities[problem.severity],
  );
  diagnostic.source = 'sweepbook';
  diagnostic.code = problem.id;
  diagnostic.relatedInformation = problem.related?.map(
    ({ place, message }) => new vscode.DiagnosticRelatedInformation(toLocation(place), message),
  );
  return diagnostic;
}

/** Faded in the text, and not in the list of problems. */
export function unusedDiagnostic({ id, range, message }: UnusedName): vscode.Diagnostic {
  const diagnostic = new vscode.Diagnostic(toRange(range), message, vscode.DiagnosticSeverity.Hint);
  diagnostic.source = 'sweepbook';
  diagnostic.code = id;
  diagnostic.tags = [vscode.DiagnosticTag.Unnecessary];
  return diagnostic;
}
