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

export function junit(campaigns: readonly CheckedCampaign[]): string {
  const report = builder.newBuilder();
  for (const campaign of campaigns) addCampaign(report.testSuite(), campaign);
  // The schema of JUnit's files counts what was skipped in each suite, not in all of them.
  return `${report
    .build()
    .trimEnd()
    .replace(/(<testsuites\b[^>]*?) skipped="\d+"/, '$1')}\n`;
}

type Suite = ReturnType<ReturnType<typeof builder.newBuilder>['testSuite']>;
type Test = ReturnType<Suite['testCase']>;

function addCampaign(suite: Suite, { evaluation, display }: CheckedCampaign): void {
  const file = display(evaluation.root);
  suite.name(printable(file));
  const test = (name: string): Test => suite.testCase().className(printable(file)).name(printable(name));
  const errors = evaluation.problems.filter(({ severity }) => severity === 'error');
  const files = test('no errors in the files');
  if (errors.length > 0) {
    const lines = errors.map(({ file: of, range, message }) =>
      printable(`${display(of)}:${range.start.line + 1}: ${message}`),
    );
    const count = `${errors.length} error${errors.length === 1 ? '' : 's'} in the files`;
    files.error(count, 'error', inSection(lines.join('\n')));
  }
  const closed = new Map(
    evaluation.cases.filter(({ state }) => isSettledState(state)).map(({ string, state }) => [string, state]),
  );
  for (const sweep of evaluation.sweeps) {
    const place = `${display(sweep.place.file)}:${sweep.place.range.start.line + 1}`;
    addSweep(test(sweepTitle(sweep)), sweep, printable(place), closed.get(stringOf(sweep.address)));
  }
  for (const item of electricalItems(evaluation))
    addElectrical(test(`${item.kind} ${item.address} ${item.time}`), item);
}

/**
 * @param place file and line
 * @param closed how the case of its string ended, where it has
 */
function addSweep(test: Test, { analysis }: EvaluatedSweep, place: string, closed: string | undefined): void {
  const { verdict, reasons } = analysis;
  const deciding = reasons.filter(({ decisive }) => decisive);
  const why = (deciding.length > 0 ? deciding : reasons).map((reason) => reason.text).join(' ');
  const text = printable(`${why} (${place})`);
  const failed = verdict === 'fail' || verdict === 'conditional fail';
  if (failed && closed !== undefined)
    test.skipped().standardOutput(inSection(`${verdict}; its case is ${closed}. ${text}`));
  else if (failed) test.failure(text, verdict);
  else if (verdict === 'not judged' || verdict === 'void')
    test.skipped().standardOutput(inSection(`${verdict}. ${text}`));
  else if (verdict === 'conditional pass') test.standardOutput(inSection(`${verdict}. ${text}`));
}

/** In a CDATA section, whose end the library takes out of a text only where it stands first. */
const inSection = (text: string): string => text.replaceAll(']]>', ']] >');

function addElectrical(test: Test, { verdict, reasons, replaced }: ElectricalItem): void {
  const text = printable(reasons.join(' '));
  if (verdict.verdict === 'fail' && replaced)
    test.skipped().standardOutput(inSection(`fail; repeated later. ${text}`));
  else if (verdict.verdict === 'fail') test.failure(text, verdict.verdict);
  else if (verdict.verdict !== 'pass')
    test.skipped().standardOutput(inSection(`${verdict.verdict}. ${text}`));
}
