/** Problems as SARIF 2.1.0 (OASIS), which code scanning of GitHub, Azure and others read. */
import { SarifBuilder, SarifResultBuilder, SarifRuleBuilder, SarifRunBuilder } from 'node-sarif-builder';
import type { Range } from '../text/place.js';
import type { Severity } from '../text/problem.js';
import { fingerprint } from './annotations.js';
import type { ShownProblem } from './checkedCampaign.js';

const levels = { error: 'error', warning: 'warning', information: 'note' } as const satisfies Record<
  Severity,
  string
>;

/** @param version of the program */
export function sarif(problems: readonly ShownProblem[], version: string): string {
  const run = new SarifRunBuilder({ columnKind: 'utf16CodeUnits' }).initSimple({
    toolDriverName: 'sweepbook',
    toolDriverVersion: version,
  });
  for (const id of new Set(problems.map((problem) => problem.id)))
    run.addRule(new SarifRuleBuilder({ id, shortDescription: { text: ruleText(id) } }));
  const used = new Map<string, number>();
  const location = ({ file, range }: Pick<ShownProblem, 'file' | 'range'>) => ({
    physicalLocation: { artifactLocation: { uri: uriOf(file) }, region: regionOf(range) },
  });
  for (const problem of problems) {
    const related = problem.related.map((each) => ({ ...location(each), message: { text: each.message } }));
    run.addResult(
      new SarifResultBuilder({
        ruleId: problem.id,
        level: levels[problem.severity],
        message: { text: problem.message },
        locations: [location(problem)],
        ...(related.length === 0 ? {} : { relatedLocations: related }),
        partialFingerprints: { 'sweepbook/v1': fingerprint(problem, used) },
      }),
    );
  }
  const log = new SarifBuilder();
  log.addRun(run);
  return `${log.buildSarifJsonString({ indent: true })}\n`;
}

/** `unit/wrong-dimension` -> `unit: wrong dimension`. */
const ruleText = (id: string): string => id.replace('/', ': ').replaceAll('-', ' ');

/** A path as a relative URI (RFC 3986): its slashes stay. Half of a pair of code units has no place in one. */
const uriOf = (path: string): string =>
  path
    .replace(/\p{Cs}/gu, '\ufffd')
    .split('/')
    .map(encodeURIComponent)
    .join('/');

const regionOf = ({ start, end }: Range) => ({
  startLine: start.line + 1,
  startColumn: start.character + 1,
  endLine: end.line + 1,
  endColumn: end.character + 1,
});
