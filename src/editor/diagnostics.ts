/** Problems as the editor's diagnostics. A file that several campaigns include shows each problem once. */
import * as vscode from 'vscode';
import type { UnusedName } from '../presentation/unusedNames.js';
import type { FileProblem, Severity } from '../text/problem.js';
import { toLocation, toRange, uriOf } from './convert.js';

const severities: Readonly<Record<Severity, vscode.DiagnosticSeverity>> = {
  error: vscode.DiagnosticSeverity.Error,
  warning: vscode.DiagnosticSeverity.Warning,
  information: vscode.DiagnosticSeverity.Information,
};

export class Diagnostics implements vscode.Disposable {
  readonly #collection = vscode.languages.createDiagnosticCollection('sweepbook');
  readonly #byRoot = new Map<string, readonly FileProblem[]>();
  /** Only a campaign's root file has any, so no two campaigns tell of the same. */
  readonly #unused = new Map<string, readonly UnusedName[]>();

  /** Replaces what was said of this campaign; `undefined` takes it all back. */
  publish(
    root: string,
    problems: readonly FileProblem[] | undefined,
    unused: readonly UnusedName[] = [],
  ): void {
    const before = this.#byRoot.get(root) ?? [];
    if (problems) this.#byRoot.set(root, problems);
    else this.#byRoot.delete(root);
    this.#unused.set(root, unused);
    const touched = new Set([root, ...[...before, ...(problems ?? [])].map((problem) => problem.file)]);
    for (const file of touched) this.#publishFile(file);
  }

  #publishFile(file: string): void {
    const unique = new Map<string, FileProblem>();
    for (const problems of this.#byRoot.values()) {
      for (const problem of problems) if (problem.file === file) unique.set(identity(problem), problem);
    }
    const unused = (this.#unused.get(file) ?? []).map(unusedDiagnostic);
    this.#collection.set(uriOf(file), [...[...unique.values()].map(toDiagnostic), ...unused]);
  }

  dispose(): void {
    this.#collection.dispose();
  }
}

function identity({ id, range: { start, end }, message }: FileProblem): string {
  return [id, start.line, start.character, end.line, end.character, message].join(' ');
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
