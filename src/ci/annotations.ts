/** Problems as lines that GitHub shows at their place in a pull request, and as GitLab's code quality report. */
import type { Severity } from '../text/problem.js';
import type { ShownProblem } from './checkedCampaign.js';

/**
 * Workflow commands of GitHub Actions: `::error file=a.sweepbook,line=3,col=5,title=unit/missing::...`
 * ("Workflow commands for GitHub Actions", docs.github.com). What they would take for their own signs is escaped.
 */
export function githubAnnotations(problems: readonly ShownProblem[]): string {
  const level: Readonly<Record<Severity, string>> = {
    error: 'error',
    warning: 'warning',
    information: 'notice',
  };
  return problems
    .map((problem) => {
      const { start, end } = problem.range;
      const properties = [
        ['file', problem.file],
        ['line', String(start.line + 1)],
        ['endLine', String(end.line + 1)],
        // Columns count only where both ends are on one line.
        ...(start.line === end.line
          ? [
              ['col', String(start.character + 1)],
              ['endColumn', String(end.character + 1)],
            ]
          : []),
        ['title', problem.id],
      ].map(([name, value]) => `${name}=${escapedProperty(value!)}`);
      return `::${level[problem.severity]} ${properties.join(',')}::${escapedData(problem.message)}\n`;
    })
    .join('');
}

const escapedData = (text: string): string =>
  text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');

const escapedProperty = (text: string): string =>
  escapedData(text).replaceAll(':', '%3A').replaceAll(',', '%2C');

/** The artifact `reports: codequality` of GitLab ("Code Quality report format", docs.gitlab.com). */
export function gitlabCodeQuality(problems: readonly ShownProblem[]): string {
  const severity: Readonly<Record<Severity, string>> = {
    error: 'critical',
    warning: 'minor',
    information: 'info',
  };
  const used = new Map<string, number>();
  const issues = problems.map((problem) => ({
    description: problem.message,
    check_name: problem.id,
    fingerprint: fingerprint(problem, used),
    severity: severity[problem.severity],
    location: {
      path: problem.file,
      lines: { begin: problem.range.start.line + 1, end: problem.range.end.line + 1 },
    },
  }));
  return `${JSON.stringify(issues, null, 2)}\n`;
}

/**
 * Stays the same while lines above come and go, so that a problem is not reported as new with every edit: of file, kind and words,
 * numbered where they repeat. FNV-1a, 64 bits (Fowler, Noll, Vo; draft-eastlake-fnv-17): GitLab wants one short word.
 */
export function fingerprint({ file, id, message }: ShownProblem, used: Map<string, number>): string {
  const text = JSON.stringify([file, id, message]);
  const count = used.get(text) ?? 0;
  used.set(text, count + 1);
  let hash = 0xcbf29ce484222325n;
  for (const byte of new TextEncoder().encode(`${text}${count}`))
    hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n);
  return hash.toString(16).padStart(16, '0');
}
