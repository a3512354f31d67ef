/** Problems as the protocol says them. */
import { DiagnosticSeverity, DiagnosticTag, type Diagnostic } from 'vscode-languageserver/node';
import type { UnusedName } from '../presentation/unusedNames.js';
import type { FileProblem, Severity } from '../text/problem.js';

const severities: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
};

/** How the client writes the URI of a file. */
export interface Uris {
  uriOf(file: string): string;
}

export function toDiagnostic(problem: FileProblem, uris: Uris): Diagnostic {
  const { id, range, message, severity, related } = problem;
  return {
    range,
    severity: severities[severity],
    code: id,
    source: 'sweepbook',
    message,
    relatedInformation: related?.map(({ place, message }) => ({
      location: { uri: uris.uriOf(place.file), range: place.range },
      message,
    })),
  };
}

/** Faded in the text, where the client can. */
export function unusedDiagnostic({ id, range, message }: UnusedName): Diagnostic {
  return {
    range,
    severity: DiagnosticSeverity.Hint,
    code: id,
    source: 'sweepbook',
    message,
    tags: [DiagnosticTag.Unnecessary],
  };
}
