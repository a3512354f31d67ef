/**
 * Results as JUnit XML, which build servers show as tests: a suite for each campaign, a test for each sweep and each electrical test,
 * and one that the files have no errors.
 */
import { stringOf } from '../campaign/names.js';
import builder from 'junit-report-builder';
import { isSettledState } from '../cases/stringCase.js';
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import { electricalItems, type ElectricalItem } from '../presentation/electricalModel.js';
import { sweepTitle } from '../presentation/sweepTexts.js';
import { printable } from '../presentation/terminalText.js';
import type { CheckedCampaign } from './checkedCampaign.js';

/** A suite as plain data, which outlives the evaluation that it is from. Every text is printable. */
export interface JunitSuite {
  readonly name: string;
  readonly tests: readonly JunitTest[];
}

interface JunitTest {
  readonly name: string;
  /** None: it passed. */
  readonly outcome?: 'failure' | 'error' | 'skipped';
  /** Of a failure or an error: its message, its kind, its details. */
  readonly message?: string;
  readonly kind?: string;
  readonly details?: string;
  /** What is said of a test that is no failure. */
  readonly output?: string;
}

export function junitSuite(campaign: CheckedCampaign): JunitSuite {
  const { evaluation, display } = campaign;
  const closed = new Map(
    evaluation.cases.filter(({ state }) => isSettledState(state)).map(({ string, state }) => [string, state]),
  );
  return {
    name: printable(display(evaluation.root)),
    tests: [
      filesTest(campaign),
      ...evaluation.sweeps.map((sweep) => {
        const place = `${display(sweep.place.file)}:${sweep.place.range.start.line + 1}`;
        return sweepTest(sweep, printable(place), closed.get(stringOf(sweep.address)));
      }),
      ...electricalItems(evaluation).map(electricalTest),
    ],
  };
}

export function junit(suites: readonly JunitSuite[]): string {
  const report = builder.newBuilder();
  for (const { name, tests } of suites) {
    const suite = report.testSuite().name(name);
    for (const each of tests) {
      const test = suite.testCase().className(name).name(each.name);
      if (each.outcome === 'failure') test.failure(each.message, each.kind);
      else if (each.outcome === 'error') test.error(each.message, each.kind, each.details);
      else if (each.outcome === 'skipped') test.skipped();
      if (each.output !== undefined) test.standardOutput(each.output);
    }
  }
  // The schema of JUnit's files counts what was skipped in each suite, not in all of them.
  return `${report
    .build()
    .trimEnd()
    .replace(/(<testsuites\b[^>]*?) skipped="\d+"/, '$1')}\n`;
}

function filesTest({ evaluation, display }: CheckedCampaign): JunitTest {
  const name = 'no errors in the files';
  const errors = evaluation.problems.filter(({ severity }) => severity === 'error');
  if (errors.length === 0) return { name };
  const lines = errors.map(({ file, range, message }) =>
    printable(`${display(file)}:${range.start.line + 1}: ${message}`),
  );
  const message = `${errors.length} error${errors.length === 1 ? '' : 's'} in the files`;
  return { name, outcome: 'error', message, kind: 'error', details: inSection(lines.join('\n')) };
}

/**
 * @param place file and line
 * @param closed how the case of its string ended, where it has
 */
function sweepTest(sweep: EvaluatedSweep, place: string, closed: string | undefined): JunitTest {
  const { verdict, reasons } = sweep.analysis;
  const name = printable(sweepTitle(sweep));
  const deciding = reasons.filter(({ decisive }) => decisive);
  const why = (deciding.length > 0 ? deciding : reasons).map((reason) => reason.text).join(' ');
  const text = printable(`${why} (${place})`);
  const failed = verdict === 'fail' || verdict === 'conditional fail';
  if (failed && closed === undefined) return { name, outcome: 'failure', message: text, kind: verdict };
  if (failed)
    return { name, outcome: 'skipped', output: inSection(`${verdict}; its case is ${closed}. ${text}`) };
  const output = inSection(`${verdict}. ${text}`);
  if (verdict === 'not judged' || verdict === 'void') return { name, outcome: 'skipped', output };
  return verdict === 'conditional pass' ? { name, output } : { name };
}

/** In a CDATA section, whose end the library takes out of a text only where it stands first. */
const inSection = (text: string): string => text.replaceAll(']]>', ']] >');

function electricalTest({ kind, address, time, verdict, reasons, replaced }: ElectricalItem): JunitTest {
  const name = printable(`${kind} ${address} ${time}`);
  const text = printable(reasons.join(' '));
  if (verdict.verdict === 'fail' && !replaced)
    return { name, outcome: 'failure', message: text, kind: verdict.verdict };
  if (verdict.verdict === 'fail')
    return { name, outcome: 'skipped', output: inSection(`fail; repeated later. ${text}`) };
  if (verdict.verdict === 'pass') return { name };
  return { name, outcome: 'skipped', output: inSection(`${verdict.verdict}. ${text}`) };
}
